// SPDX-License-Identifier: MIT

package geometry

import (
	"math"
	"slices"
)

// Slope is a plane over the floor: Height + AlongX x + AlongY y above it at (x, y),
// in metres.
type Slope struct{ Height, AlongX, AlongY float64 }

// SlopeThrough returns the plane that is from metres high at a and to metres high
// at b, evenly in between and beyond, and level square to the line through both.
// a and b must differ.
func SlopeThrough(a Vec2, from float64, b Vec2, to float64) Slope {
	d := b.Sub(a)
	g := d.Mul((to - from) / d.Dot(d))
	return Slope{from - g.Dot(a), g.X, g.Y}
}

// At returns the height at (x, y).
func (s Slope) At(x, y float64) float64 { return s.Height + s.AlongX*x + s.AlongY*y }

// Level reports whether it is equally high everywhere.
func (s Slope) Level() bool { return s.AlongX == 0 && s.AlongY == 0 }

// Down returns the unit normal that points down, into the room below.
func (s Slope) Down() Vec {
	n, _ := Vec{X: s.AlongX, Y: s.AlongY, Z: -1}.Unit()
	return n
}

// Ceiling closes a room above: over each place the lowest of its slopes counts. What
// is below it is convex upwards. It has at least one slope.
type Ceiling []Slope

// At returns the height at (x, y).
func (c Ceiling) At(x, y float64) float64 {
	h := math.Inf(1)
	for _, s := range c {
		h = min(h, s.At(x, y))
	}
	return h
}

// Over returns which of the slopes is over (x, y): the lowest, the first of equals.
func (c Ceiling) Over(x, y float64) int {
	best, low := 0, math.Inf(1)
	for i, s := range c {
		if h := s.At(x, y); h < low {
			best, low = i, h
		}
	}
	return best
}

// Way returns how far a point goes from p along dir until it meets the ceiling, as a
// multiple of dir: infinite where it never does, 0 or less where p is above it.
func (c Ceiling) Way(p, dir Vec) float64 {
	const never = 1e-9 // m, nearer to the slope for each dir
	way := math.Inf(1)
	for _, s := range c {
		gap := s.At(p.X, p.Y) - p.Z
		if rate := dir.Z - s.AlongX*dir.X - s.AlongY*dir.Y; rate >= never {
			way = min(way, gap/rate)
		} else if gap < 0 {
			way = min(way, gap)
		}
	}
	return way
}

// cut appends to p what of it lies under slope k: where no other is lower, and, of
// those that are equally high everywhere, under the first only.
func (c Ceiling) cut(p Polygon, k int) Polygon {
	for i, s := range c {
		if i == k {
			continue
		}
		d := Slope{s.Height - c[k].Height, s.AlongX - c[k].AlongX, s.AlongY - c[k].AlongY}
		switch {
		case d.Level() && (d.Height < 0 || d.Height == 0 && i < k):
			return nil
		case d.Level():
			continue
		}
		p = p.cutTo(nil, func(q Vec2) float64 { return d.At(q.X, q.Y) })
	}
	return p
}

// CeilingPiece is a flat part of a ceiling.
type CeilingPiece struct {
	Slope   int     // of the ceiling
	Outline Polygon // as seen from above; of a concave outline as Clip has it
}

// Pieces returns the parts of the ceiling over the outline, in the order of its
// slopes: none without area. A ceiling of one slope is in one piece, the outline
// itself.
func (c Ceiling) Pieces(outline Polygon) []CeilingPiece {
	if len(c) == 1 {
		return []CeilingPiece{{0, outline}}
	}
	const least = 1e-9 // square metres, rounding
	var out []CeilingPiece
	for k := range c {
		if p := c.cut(slices.Clone(outline), k); math.Abs(p.Area()) > least {
			out = append(out, CeilingPiece{k, p})
		}
	}
	return out
}

// Volume returns the air between the floor and the ceiling over the outline, in
// cubic metres: exact, the mean height of a flat piece is that over its centroid.
func (c Ceiling) Volume(outline Polygon) float64 {
	sum := 0.0
	for _, p := range c.Pieces(outline) {
		m := p.Outline.Centroid()
		sum += math.Abs(p.Outline.Area()) * c[p.Slope].At(m.X, m.Y)
	}
	return sum
}

// Edge returns where the ceiling meets the upright plane from a to b: X is the way
// from a, Y the height, at a, at b and where it bends in between.
func (c Ceiling) Edge(a, b Vec2) []Vec2 {
	l := a.Dist(b)
	const hair = 1e-9 // of the way: a bend at an end is none
	cuts := []float64{0, 1}
	for i := range c {
		for j := range i {
			da, db := c[i].At(a.X, a.Y)-c[j].At(a.X, a.Y), c[i].At(b.X, b.Y)-c[j].At(b.X, b.Y)
			t := da / (da - db)
			if !(t > hair && t < 1-hair) {
				continue
			}
			q := a.Add(b.Sub(a).Mul(t))
			const same = 1e-9 // m: a crossing above another slope is no bend
			if c[i].At(q.X, q.Y) <= c.At(q.X, q.Y)+same {
				cuts = append(cuts, t)
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.CompactFunc(cuts, func(s, t float64) bool { return math.Abs(t-s) <= hair })
	out := make([]Vec2, len(cuts))
	for i, t := range cuts {
		q := a.Add(b.Sub(a).Mul(t))
		out[i] = Vec2{l * t, c.At(q.X, q.Y)}
	}
	return out
}

// Folds returns the ridges, hips and valleys over the outline as seen from above:
// where two pieces meet.
func (c Ceiling) Folds(outline Polygon) []Segment2 {
	const same = 1e-9 // m
	var out []Segment2
	for k := range c {
		for _, t := range outline.Triangulate() {
			p := c.cut(Polygon{outline[t[0]], outline[t[1]], outline[t[2]]}, k)
			for i := range p {
				a, b := p.Edge(i)
				if a.Dist(b) <= same {
					continue
				}
				for _, s := range c[k+1:] {
					if math.Abs(s.At(a.X, a.Y)-c[k].At(a.X, a.Y)) < same && math.Abs(s.At(b.X, b.Y)-c[k].At(b.X, b.Y)) < same {
						out = append(out, Segment2{a, b})
						break
					}
				}
			}
		}
	}
	return out
}

// Range returns the least and the greatest height over the outline.
func (c Ceiling) Range(outline Polygon) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range c.Pieces(outline) {
		for _, q := range p.Outline {
			h := c[p.Slope].At(q.X, q.Y)
			lo, hi = min(lo, h), max(hi, h)
		}
	}
	return lo, hi
}
