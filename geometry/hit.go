// SPDX-License-Identifier: MIT

package geometry

import "math"

// Hit returns the parameters 0 <= t0 <= t1 <= 1 between which the segment seg
// runs inside s, and whether it meets s at all. The surface belongs to s: a
// segment that only touches has t0 = t1. A segment of no length inside s has
// t0 = 0 and t1 = 1. Ellipsoid: the roots of a quadratic in the space where it
// is a unit ball, measured from the point nearest to the centre so that a long
// segment loses no digits. Box: three slabs (Kay and Kajiya 1986, "Ray Tracing
// Complex Scenes"). Cylinder: the same quadratic across its axis, and one slab. Triangle:
// where the segment goes through; one in its plane does not meet it.
func (s *Solid) Hit(seg Segment) (t0, t1 float64, ok bool) {
	a := held(s.local(seg.A))
	dir := held(s.local(seg.B)).Sub(a)
	switch s.form {
	case triangleForm:
		return hitTriangle(a, a.Add(dir), s.tri)
	case boxForm:
		return boxHit(a, dir, s.half)
	case cylinderForm:
		return cylinderHit(a, dir, s.half.X, s.half.Z)
	}
	p := Vec{a.X * s.inv.X, a.Y * s.inv.Y, a.Z * s.inv.Z}
	q := Vec{dir.X * s.inv.X, dir.Y * s.inv.Y, dir.Z * s.inv.Z}
	qq := q.Len2()
	if qq == 0 {
		return 0, 1, p.Len2() <= 1
	}
	mid := -p.Dot(q) / qq
	rest := 1 - p.Add(q.Mul(mid)).Len2()
	if rest < 0 {
		return 0, 0, false
	}
	half := math.Sqrt(rest / qq)
	t0, t1 = max(mid-half, 0), min(mid+half, 1)
	if t0 > t1 {
		return 0, 0, false
	}
	return t0, t1, true
}

// boxHit is Hit in the box's own axes.
func boxHit(a, dir, h Vec) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	slab := func(a, d, h float64) {
		if d == 0 {
			if math.Abs(a) > h {
				t1 = -1
			}
			return
		}
		p, q := (-h-a)/d, (h-a)/d
		t0 = max(t0, min(p, q))
		t1 = min(t1, max(p, q))
	}
	slab(a.X, dir.X, h.X)
	slab(a.Y, dir.Y, h.Y)
	slab(a.Z, dir.Z, h.Z)
	if !(t0 <= t1) {
		return 0, 0, false
	}
	return t0, t1, true
}
