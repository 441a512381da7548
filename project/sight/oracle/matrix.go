// SPDX-License-Identifier: MIT

package oracle

import "math"

// Vec is a point or a direction, metres.
type Vec struct{ X, Y, Z float64 }

func (a Vec) add(b Vec) Vec           { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) sub(b Vec) Vec           { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) times(k float64) Vec     { return Vec{a.X * k, a.Y * k, a.Z * k} }
func (a Vec) dot(b Vec) float64       { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) len() float64            { return math.Sqrt(a.dot(a)) }
func (a Vec) to(b Vec, t float64) Vec { return a.add(b.sub(a).times(t)) }

func (a Vec) cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// unit returns a at length 1; straight back into the room if it has no length.
func (a Vec) unit() Vec {
	if l := a.len(); l > 0 {
		return a.times(1 / l)
	}
	return Vec{X: 1}
}

// Matrix is a rotation: its columns are where it turns x, y and z.
type Matrix [3]Vec

func (m Matrix) of(v Vec) Vec {
	return m[0].times(v.X).add(m[1].times(v.Y)).add(m[2].times(v.Z))
}

// after is first n, then m.
func (m Matrix) after(n Matrix) Matrix { return Matrix{m.of(n[0]), m.of(n[1]), m.of(n[2])} }

// turn turns about z, from x towards y.
func turn(a float64) Matrix {
	c, s := math.Cos(a), math.Sin(a)
	return Matrix{{X: c, Y: s}, {X: -s, Y: c}, {Z: 1}}
}

// tip turns about y, from z towards x: an upright thing leans back.
func tip(a float64) Matrix {
	c, s := math.Cos(a), math.Sin(a)
	return Matrix{{X: c, Z: -s}, {Y: 1}, {X: s, Z: c}}
}

// frame is a place and how things are turned there.
type frame struct {
	at   Vec
	axes Matrix
}

func (f frame) point(v Vec) Vec { return f.at.add(f.axes.of(v)) }

// within is the frame g, given in f's own coordinates, in the room's.
func (f frame) within(g frame) frame { return frame{f.point(g.at), f.axes.after(g.axes)} }
