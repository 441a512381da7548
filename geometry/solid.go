// SPDX-License-Identifier: MIT

package geometry

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Basis is a right-handed set of three unit vectors at right angles: U x V = W.
type Basis struct{ U, V, W Vec }

// WorldBasis returns the axes of the room frame.
func WorldBasis() Basis { return Basis{Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}} }

// BasisOf returns the axes of the room frame turned by q.
func BasisOf(q mgl64.Quat) Basis {
	return Basis{
		FromMgl(q.Rotate(mgl64.Vec3{1, 0, 0})),
		FromMgl(q.Rotate(mgl64.Vec3{0, 1, 0})),
		FromMgl(q.Rotate(mgl64.Vec3{0, 0, 1})),
	}
}

// YawBasis returns the axes of the room frame turned by yaw radians about z,
// positive from x towards y.
func YawBasis(yaw float64) Basis {
	s, c := math.Sincos(yaw)
	return Basis{Vec{c, s, 0}, Vec{-s, c, 0}, Vec{0, 0, 1}}
}

// Local returns the components of the vector v along the axes of b.
func (b Basis) Local(v Vec) Vec { return Vec{b.U.Dot(v), b.V.Dot(v), b.W.Dot(v)} }

// World returns the vector whose components along the axes of b are v.
func (b Basis) World(v Vec) Vec { return b.U.Mul(v.X).Add(b.V.Mul(v.Y)).Add(b.W.Mul(v.Z)) }

// Ellipsoid is a solid ellipsoid. Radii are its half-axes along the axes of
// Basis, in metres; each must be positive.
type Ellipsoid struct {
	Center Vec
	Basis  Basis
	Radii  Vec
}

// Box is a solid cuboid. Half are its half-sizes along the axes of Basis, in
// metres; each must be positive.
type Box struct {
	Center Vec
	Basis  Basis
	Half   Vec
}

// Corners returns the eight corners of b.
func (b Box) Corners() [8]Vec {
	var out [8]Vec
	for n := range out {
		h := b.Half
		for bit, side := range [3]*float64{&h.X, &h.Y, &h.Z} {
			if n>>bit&1 == 0 {
				*side = -*side
			}
		}
		out[n] = b.Center.Add(b.Basis.World(h))
	}
	return out
}

// Disc is a flat circular disc, such as the radiating face of a driver. Normal
// is a unit vector.
type Disc struct {
	Center Vec
	Normal Vec
	Radius float64
}

// Sphere bounds a solid: every point of it lies within Radius of Center.
type Sphere struct {
	Center Vec
	Radius float64
}

// Bound returns the smallest sphere about e's centre that holds e.
func (e Ellipsoid) Bound() Sphere {
	return Sphere{e.Center, max(e.Radii.X, max(e.Radii.Y, e.Radii.Z))}
}

// Bound returns the smallest sphere that holds b.
func (b Box) Bound() Sphere { return Sphere{b.Center, b.Half.Len()} }

// Gap returns the distance from the segment seg to the surface of s, in metres:
// negative when the segment comes within the radius. Since s holds its solid,
// no clearance of that solid is less than Gap when Gap is positive: culling by
// it is safe.
func (s Sphere) Gap(seg Segment) float64 {
	a, b := held(seg.A.Sub(s.Center)), held(seg.B.Sub(s.Center))
	d := b.Sub(a)
	t := 0.0
	if l2 := d.Len2(); l2 > 0 {
		t = clamp01(-a.Dot(d) / l2)
	}
	return a.Add(d.Mul(t)).Len() - s.Radius
}
