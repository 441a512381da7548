// SPDX-License-Identifier: MIT

package geometry

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Vec is a point or a vector in the room frame, in metres.
//
// It is a struct and not mgl64.Vec3 because Go keeps arrays of more than one
// element in memory: the clearance kernel ran about 13 times slower on arrays.
// Use Mgl and FromMgl at the edge to matrices, quaternions and cameras.
type Vec struct {
	X float64
	Y float64
	Z float64
}

// V returns the vector (x, y, z), in metres.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

// FromMgl returns v as a Vec.
func FromMgl(v mgl64.Vec3) Vec { return Vec{v[0], v[1], v[2]} }

// Mgl returns v as a mathgl vector.
func (v Vec) Mgl() mgl64.Vec3 { return mgl64.Vec3{v.X, v.Y, v.Z} }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Mul returns v scaled by s.
func (v Vec) Mul(s float64) Vec { return Vec{v.X * s, v.Y * s, v.Z * s} }

// Neg returns -v.
func (v Vec) Neg() Vec { return Vec{-v.X, -v.Y, -v.Z} }

// Dot returns the scalar product of v and w.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product v x w (right-handed: X x Y = Z).
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len2 returns the squared length of v, in square metres.
func (v Vec) Len2() float64 { return v.Dot(v) }

// Len returns the length of v, in metres.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Dist returns the distance from v to w, in metres.
func (v Vec) Dist(w Vec) float64 { return v.Sub(w).Len() }

// Lerp returns v + t(w - v): v at t = 0, w at t = 1.
func (v Vec) Lerp(w Vec, t float64) Vec { return v.Add(w.Sub(v).Mul(t)) }

// Unit returns v scaled to length 1 and true, or the zero vector and false
// when v has no direction (length zero, or not finite).
func (v Vec) Unit() (Vec, bool) {
	l := v.Len()
	if !(l > 0) || math.IsInf(l, 0) {
		return Vec{}, false
	}
	return v.Mul(1 / l), true
}

// Finite reports whether every component of v is a finite number.
func (v Vec) Finite() bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0) && !math.IsInf(v.X, 0) && !math.IsInf(v.Y, 0) && !math.IsInf(v.Z, 0)
}
