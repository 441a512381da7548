// SPDX-License-Identifier: MIT

package geometry

import "math"

// Clearance returns the signed clearance d from the segment seg to the surface
// of s, in metres, and the parameter t in [0, 1] on seg where it is found.
//
// Apart, d is the least distance between the two and t the nearest point of
// the segment. Where they meet, d is negative and -d is the depth of
// penetration: the length of the shortest move, without turning, after which
// segment and solid only touch; t is then the point of the segment that
// touches last. It does not matter how many ends lie inside. A segment of no
// length is a point, and d its signed distance to the surface. Where several
// points are equally near or deep, t is one of them.
//
// Both cases are one quantity: over all unit vectors u,
//
//	d = max over u of ( min(u.A, u.B) - h(u) ),   h(u) = max over x in s of u.x
//
// (the signed distance of the origin from the Minkowski sum of solid and
// reversed segment; Cameron and Culley 1986, "Determining the minimum
// translational distance between two convex polyhedra"). Every u gives a lower
// bound, so d is the greatest value over the few u that can be the greatest;
// clearanceEllipsoid, clearanceBox, clearanceCylinder and clearanceTriangle say which
// those are. Nothing is sampled.
//
// Swapping A and B keeps d and turns t into 1-t. d errs by some 1e-15 of the
// largest coordinate. Coordinates farther than 1e9 m from the solid are held at
// 1e9 m.
func (s *Solid) Clearance(seg Segment) (d, t float64) {
	a, b := s.local(seg.A), s.local(seg.B)
	if !(math.Abs(a.X)+math.Abs(a.Y)+math.Abs(a.Z)+math.Abs(b.X)+math.Abs(b.Y)+math.Abs(b.Z) < farthest) {
		a, b = held(a), held(b)
	}
	switch s.form {
	case boxForm:
		return clearanceBox(a, b, s.half)
	case cylinderForm:
		return clearanceCylinder(a, b, s.half.X, s.half.Z)
	case triangleForm:
		return clearanceTriangle(a, b, s.tri)
	}
	return s.clearanceEllipsoid(a, b)
}

// held returns v with its components within farthest.
func held(v Vec) Vec {
	h := func(x float64) float64 { return max(-farthest, min(farthest, x)) }
	return Vec{h(v.X), h(v.Y), h(v.Z)}
}

// pointLike is the length in metres below which a segment is taken as a point:
// it errs by no more than itself.
const pointLike = 1e-12
