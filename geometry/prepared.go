// SPDX-License-Identifier: MIT

package geometry

import "math"

// Solid is an ellipsoid, a box, a cylinder or a triangle made ready for the inner loops:
// Clearance, Hit and Scratch.Visible. Build one with Ellipsoid.Solid, Box.Solid,
// Cylinder.Solid or Triangle.Solid and use it by pointer (it fills some four cache lines); the zero value is no solid. A
// Solid is never changed after it is built, so any number of goroutines may
// share it.
type Solid struct {
	form   form
	tri    *Triangle // about center, for a triangle only
	center Vec
	basis  Basis
	// half-axes or half-sizes; an ellipsoid's sorted, longest first; a cylinder's
	// radius twice, then half its height
	half   Vec
	inv    Vec // 1/half, ellipsoids only
	sq     Vec // half squared, ellipsoids only
	radius float64
	flat   bool // an ellipsoid too flat for the quick path of Clearance
}

// form is the shape of a Solid.
type form uint8

const (
	ellipsoidForm form = iota
	boxForm
	cylinderForm
	triangleForm
)

// thinnest is the least half-size a prepared solid has, in metres. A solid of
// no thickness is given this much, so that no formula divides by zero; no
// answer moves by more than that.
const thinnest = 1e-9

// farthest is the greatest coordinate that the clearance formulas accept about
// a solid's centre, in metres. Beyond it (no room is) coordinates are held at
// it, so that squares of squares stay finite.
const farthest = 1e9

func atLeastThinnest(x float64) float64 {
	if !(x > thinnest) { // also NaN
		return thinnest
	}
	return min(x, farthest)
}

// Solid returns e prepared for the inner loops. A half-axis that is zero or
// less counts as 1e-9 m.
func (e Ellipsoid) Solid() Solid {
	r := Vec{atLeastThinnest(e.Radii.X), atLeastThinnest(e.Radii.Y), atLeastThinnest(e.Radii.Z)}
	b := e.Basis
	// Longest axis first. A swap turns one axis over to keep the basis
	// right-handed; the ellipsoid is the same.
	if r.X < r.Y {
		r.X, r.Y = r.Y, r.X
		b.U, b.V = b.V, b.U.Neg()
	}
	if r.Y < r.Z {
		r.Y, r.Z = r.Z, r.Y
		b.V, b.W = b.W, b.V.Neg()
	}
	if r.X < r.Y {
		r.X, r.Y = r.Y, r.X
		b.U, b.V = b.V, b.U.Neg()
	}
	return Solid{
		center: e.Center, basis: b, half: r,
		inv:    Vec{1 / r.X, 1 / r.Y, 1 / r.Z},
		sq:     Vec{r.X * r.X, r.Y * r.Y, r.Z * r.Z},
		radius: r.X,
		// Beyond this ratio the squares of squares lose the digits of the foot.
		flat: r.X > 1e3*r.Z,
	}
}

// Solid returns b prepared for the inner loops. A half-size that is zero or
// less counts as 1e-9 m.
func (b Box) Solid() Solid {
	h := Vec{atLeastThinnest(b.Half.X), atLeastThinnest(b.Half.Y), atLeastThinnest(b.Half.Z)}
	return Solid{form: boxForm, center: b.Center, basis: b.Basis, half: h, radius: h.Len()}
}

// Solid returns c prepared for the inner loops. A radius or half-height that is
// zero or less counts as 1e-9 m.
func (c Cylinder) Solid() Solid {
	r, h := atLeastThinnest(c.Radius), atLeastThinnest(c.Half)
	return Solid{form: cylinderForm, center: c.Center, basis: c.Basis, half: Vec{r, r, h}, radius: math.Hypot(r, h)}
}

// Bound returns the smallest sphere about s's centre that holds s.
func (s *Solid) Bound() Sphere { return Sphere{s.center, s.radius} }

// Deepest returns a depth in metres that no segment is deeper in s than. Of the
// directions square to the segment one lies in the plane of the two shortest
// axes, and s reaches no farther than this along any in that plane: a move so far
// frees the segment.
func (s *Solid) Deepest() float64 {
	switch s.form {
	case triangleForm:
		return s.radius
	case ellipsoidForm:
		return s.half.Y // sorted
	case cylinderForm:
		return s.half.X // square to the segment and to the axis
	}
	a, b, c := s.half.X, s.half.Y, s.half.Z
	return math.Sqrt(a*a + b*b + c*c - max(a, b, c)*max(a, b, c))
}

// local returns p in s's own axes, from its centre.
func (s *Solid) local(p Vec) Vec { return s.basis.Local(p.Sub(s.center)) }
