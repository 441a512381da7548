// SPDX-License-Identifier: MIT

package geometry

import "math"

// Triangle is a flat solid of no thickness, by its corners. Which way round they go
// means nothing.
type Triangle [3]Vec

// Center returns the middle of the box along the room's axes that holds t.
func (t Triangle) Center() Vec {
	a, b, c := t[0], t[1], t[2]
	lo := Vec{min(a.X, b.X, c.X), min(a.Y, b.Y, c.Y), min(a.Z, b.Z, c.Z)}
	hi := Vec{max(a.X, b.X, c.X), max(a.Y, b.Y, c.Y), max(a.Z, b.Z, c.Z)}
	return lo.Lerp(hi, 0.5)
}

// Normal returns the unit vector square to t by which its corners go round to the left;
// ok is false for one without area.
func (t Triangle) Normal() (n Vec, ok bool) {
	return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Unit()
}

// Solid returns t prepared for the inner loops. A triangle without area is a line or
// a point.
func (t Triangle) Solid() Solid {
	s := Solid{form: triangleForm, tri: new(Triangle), center: t.Center(), basis: WorldBasis()}
	for i, p := range t {
		s.tri[i] = held(p.Sub(s.center))
		s.radius = max(s.radius, s.tri[i].Len())
	}
	return s
}

// clearanceTriangle is Clearance for the segment from a to b and a triangle, about
// one origin.
//
// Apart, the nearest two points are an end of the segment and a point of the
// triangle, or a point of the segment and one of a side (Ericson 2005, "Real-Time
// Collision Detection", section 5.1.10). Where they meet, the segment goes through
// the triangle's plane; the sum of segment and reversed triangle is a prism, whose
// faces are square to the triangle's normal and to the normals of the planes along a
// side and the segment: the depth is the least to one of them. Where segment and
// triangle lie in one plane the prism is flat, and the depth 0.
func clearanceTriangle(a, b Vec, tri *Triangle) (d, t float64) {
	if t, ok := throughTriangle(a, b, tri); ok {
		return depthTriangle(a, b, tri, t)
	}
	best := math.Inf(1)
	take := func(d2, at float64) {
		if d2 < best {
			best, t = d2, at
		}
	}
	take(pointTriangle2(a, tri), 0)
	take(pointTriangle2(b, tri), 1)
	for i := range tri {
		take(segments2(a, b, tri[i], tri[(i+1)%3]))
	}
	return math.Sqrt(best), t
}

// throughTriangle returns the parameter at which the segment goes through the
// triangle's area; a segment in its plane does not.
func throughTriangle(a, b Vec, tri *Triangle) (t float64, ok bool) {
	d := b.Sub(a)
	e, f := tri[1].Sub(tri[0]), tri[2].Sub(tri[0])
	n := e.Cross(f)
	from, to := n.Dot(a.Sub(tri[0])), n.Dot(b.Sub(tri[0]))
	if from == to || from > 0 && to > 0 || from < 0 && to < 0 {
		return 0, false
	}
	// The volumes over the three sides have one sign (Ericson 2005, section 5.3.4).
	var plus, minus bool
	for i := range tri {
		p, q := tri[i].Sub(a), tri[(i+1)%3].Sub(a)
		switch v := d.Dot(p.Cross(q)); {
		case v > 0:
			plus = true
		case v < 0:
			minus = true
		}
	}
	if plus && minus {
		return 0, false
	}
	return clamp01(from / (from - to)), true
}

// depthTriangle is clearanceTriangle where the segment goes through at the parameter
// through.
func depthTriangle(a, b Vec, tri *Triangle, through float64) (d, t float64) {
	d, t = math.Inf(-1), through
	dir := b.Sub(a)
	side := func(n Vec) {
		u, ok := n.Unit()
		if !ok {
			return
		}
		for range 2 {
			from, to := u.Dot(a), u.Dot(b)
			gap := min(from, to) - max(u.Dot(tri[0]), u.Dot(tri[1]), u.Dot(tri[2]))
			if gap > d {
				d, t = gap, through
				if from < to {
					t = 0
				} else if to < from {
					t = 1
				}
			}
			u = u.Neg()
		}
	}
	for i := range tri {
		side(tri[(i+1)%3].Sub(tri[i]).Cross(dir))
		// The segment runs along this face, but for rounding: all of it is as near.
		t = through
	}
	side(tri[1].Sub(tri[0]).Cross(tri[2].Sub(tri[0])))
	if math.IsInf(d, -1) || d > 0 {
		return 0, through
	}
	return d, t
}

// pointTriangle2 returns the squared distance of p from the triangle.
func pointTriangle2(p Vec, tri *Triangle) float64 {
	s := simplex{p: [4]Vec{tri[0].Sub(p), tri[1].Sub(p), tri[2].Sub(p)}, n: 3}
	return s.triangle(s.p[0], s.p[1], s.p[2]).Len2()
}

// segments2 returns the squared distance of the segments from a to b and from c to d,
// and the parameter on the first where it is found (Ericson 2005, section 5.1.9).
func segments2(a, b, c, d Vec) (d2, t float64) {
	e, f, r := b.Sub(a), d.Sub(c), a.Sub(c)
	ee, ff, fr, er, ef := e.Len2(), f.Len2(), f.Dot(r), e.Dot(r), e.Dot(f)
	u := 0.0
	switch det := ee*ff - ef*ef; {
	case !(ee > 0) && !(ff > 0):
	case !(ee > 0):
		u = clamp01(fr / ff)
	case !(ff > 0):
		t = clamp01(-er / ee)
	default:
		if det > 0 {
			t = clamp01((ef*fr - er*ff) / det)
		}
		u = (ef*t + fr) / ff
		if u < 0 {
			u, t = 0, clamp01(-er/ee)
		} else if u > 1 {
			u, t = 1, clamp01((ef-er)/ee)
		}
	}
	return r.Add(e.Mul(t)).Sub(f.Mul(u)).Len2(), t
}

// triangleShadow adds the part of t that s hides from the eye; hidden reports that
// the eye is in the triangle. A point is hidden when it lies behind the triangle's
// plane, and inside every plane through the eye and a side. An eye in the plane has
// nothing hidden, and a target that lies in the plane is not behind it.
func (sc *Scratch) triangleShadow(s *Solid, eye Vec, t *Target) (hidden bool) {
	e, p := held(eye.Sub(s.center)), held(t.center.Sub(s.center))
	tri := s.tri
	n, ok := tri.Normal()
	if !ok {
		return false
	}
	before := n.Dot(e.Sub(tri[0]))
	if before == 0 {
		return pointTriangle2(e, tri) == 0
	}
	if before < 0 {
		n = n.Neg()
	}
	behind := n.Dot(tri[0].Sub(p)) // of the target's centre
	u, v := n.Dot(t.u), n.Dot(t.v)
	if behind+t.extent(u, v) <= inFace {
		return false
	}
	o := &sc.outline
	o.square()
	o.cut(u, v, -behind)
	for i := range tri {
		a, b, c := tri[i].Sub(e), tri[(i+1)%3].Sub(e), tri[(i+2)%3].Sub(e)
		m := a.Cross(b)
		if m.Dot(c) > 0 { // the third corner lies inside
			m = m.Neg()
		}
		o.cut(m.Dot(t.u), m.Dot(t.v), m.Dot(p.Sub(e)))
		if o.n == 0 {
			return false
		}
	}
	sc.addShape(o, noConic)
	return false
}

// hitTriangle is Hit for a triangle.
func hitTriangle(a, b Vec, tri *Triangle) (t0, t1 float64, ok bool) {
	t, ok := throughTriangle(a, b, tri)
	if !ok {
		return 0, 0, false
	}
	return t, t, true
}

// support is Solid.Support for a triangle about the point center.
func (t *Triangle) support(n, center Vec) (reach float64, at Vec) {
	reach, at = n.Dot(t[0]), t[0]
	for _, p := range t[1:] {
		if r := n.Dot(p); r > reach {
			reach, at = r, p
		}
	}
	return reach, center.Add(at)
}
