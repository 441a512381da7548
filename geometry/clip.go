// SPDX-License-Identifier: MIT

package geometry

import "slices"

// Clip returns the part of p within the rectangle from lo to hi, its corners in
// p's order; none when nothing of p lies within. The parts of a concave p hang
// together by edges of no width along the rectangle's sides: its Area and what
// it Contains are right, its Simple need not be. Method: one side after the
// other (Sutherland and Hodgman 1974, "Reentrant Polygon Clipping").
func (p Polygon) Clip(lo, hi Vec2) Polygon {
	in, out := slices.Clone(p), make(Polygon, 0, len(p)+4)
	for _, depth := range [4]func(Vec2) float64{
		func(q Vec2) float64 { return q.X - lo.X },
		func(q Vec2) float64 { return hi.X - q.X },
		func(q Vec2) float64 { return q.Y - lo.Y },
		func(q Vec2) float64 { return hi.Y - q.Y },
	} {
		in, out = in.cutTo(out[:0], depth), in
	}
	return in
}

// ClipHalf returns the part of p on the side of the line through at to which
// inward points, a vector of any length at right angles to the line. Points on
// the line count as on that side. Method and concave outlines as in Clip.
func (p Polygon) ClipHalf(at, inward Vec2) Polygon {
	return p.cutTo(nil, func(q Vec2) float64 { return q.Sub(at).Dot(inward) })
}

// cutTo appends to out what of p has a depth of 0 or more, a linear function of
// place.
func (p Polygon) cutTo(out Polygon, depth func(Vec2) float64) Polygon {
	for i := range p {
		a, b := p.Edge(i)
		da, db := depth(a), depth(b)
		if da >= 0 {
			out = append(out, a)
		}
		if (da >= 0) != (db >= 0) {
			out = append(out, a.Add(b.Sub(a).Mul(da/(da-db))))
		}
	}
	return out
}

// Spans returns the stretches {from, to} of y in which (x, y) lies inside p, from
// left to right, none without length. Where an edge runs along y at x itself,
// they are those just behind x.
func (p Polygon) Spans(x float64) [][2]float64 {
	var ys []float64
	for i := range p {
		a, b := p.Edge(i)
		if (a.X > x) != (b.X > x) {
			ys = append(ys, a.Y+(x-a.X)/(b.X-a.X)*(b.Y-a.Y))
		}
	}
	slices.Sort(ys)
	var out [][2]float64
	for i := 0; i+1 < len(ys); i += 2 {
		if ys[i+1] > ys[i] {
			out = append(out, [2]float64{ys[i], ys[i+1]})
		}
	}
	return out
}

// Segment2 is a straight line in the floor plane from A to B.
type Segment2 struct{ A, B Vec2 }

// Clip returns the part of s within the rectangle from lo to hi, whose sides
// belong to it, and whether there is any. An end that lies within stays as it
// is. Sides may be infinite. Method: Liang and Barsky (1984), "A New Concept and
// Method for Line Clipping".
func (s Segment2) Clip(lo, hi Vec2) (Segment2, bool) {
	t0, t1 := 0.0, 1.0
	d := s.B.Sub(s.A)
	// Along each side's outward normal: how fast s goes, and how far is left.
	for _, side := range [4]struct{ speed, left float64 }{
		{-d.X, s.A.X - lo.X}, {d.X, hi.X - s.A.X}, {-d.Y, s.A.Y - lo.Y}, {d.Y, hi.Y - s.A.Y},
	} {
		switch {
		case side.speed < 0:
			t0 = max(t0, side.left/side.speed)
		case side.speed > 0:
			t1 = min(t1, side.left/side.speed)
		case side.speed != 0 || !(side.left >= 0): // no number, or beside the rectangle
			return Segment2{}, false
		}
	}
	if !(t0 <= t1) {
		return Segment2{}, false
	}
	in := s
	if t0 > 0 {
		in.A = s.A.Add(d.Mul(t0))
	}
	if t1 < 1 {
		in.B = s.A.Add(d.Mul(t1))
	}
	return in, true
}

// Outline returns the four corners of b as seen from above, in order: front
// left, back left, back right, front right for a box along the room's axes. b
// must stand upright, its axis W along z.
func (b Box) Outline() Polygon {
	u, v := b.Basis.U.Mul(b.Half.X), b.Basis.V.Mul(b.Half.Y)
	p := make(Polygon, 0, 4)
	for _, q := range [4]Vec{u.Neg().Sub(v), u.Sub(v), u.Add(v), v.Sub(u)} {
		q = q.Add(b.Center)
		p = append(p, Vec2{q.X, q.Y})
	}
	return p
}
