// SPDX-License-Identifier: MIT

package geometry

import (
	"errors"
	"fmt"
	"math"
)

// Vec2 is a point or a vector in the floor plane, in metres: X runs back from
// the screen wall, Y to the right.
type Vec2 struct{ X, Y float64 }

// Add returns v + w.
func (v Vec2) Add(w Vec2) Vec2 { return Vec2{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec2) Sub(w Vec2) Vec2 { return Vec2{v.X - w.X, v.Y - w.Y} }

// Mul returns v scaled by s.
func (v Vec2) Mul(s float64) Vec2 { return Vec2{v.X * s, v.Y * s} }

// Dot returns the scalar product of v and w.
func (v Vec2) Dot(w Vec2) float64 { return float64(v.X*w.X) + float64(v.Y*w.Y) }

// Cross returns the z component of v x w: positive when w points to the left of
// v as seen from above with x to the right and y up the page. It is rounded
// alike on every machine, since its sign decides sides.
func (v Vec2) Cross(w Vec2) float64 { return float64(v.X*w.Y) - float64(v.Y*w.X) }

// Len returns the length of v, in metres.
func (v Vec2) Len() float64 { return math.Hypot(v.X, v.Y) }

// Dist returns the distance from v to w, in metres.
func (v Vec2) Dist(w Vec2) float64 { return v.Sub(w).Len() }

// Polygon is the outline of a flat area by its corners in order, either way
// round, the last joined to the first. Edge i runs from corner i to the next.
// The methods expect it to be simple (see Simple); of one that is not, and of
// one with fewer than three corners, they return some answer and never panic.
type Polygon []Vec2

// edgeTol is how near a point must be to an edge to lie on it, in metres: a
// millionth of a millimetre, far below any tape and far above rounding.
const edgeTol = 1e-9

// Edge returns the ends of edge i, 0 <= i < len(p).
func (p Polygon) Edge(i int) (a, b Vec2) {
	if i+1 == len(p) {
		return p[i], p[0]
	}
	return p[i], p[i+1]
}

// Area returns the signed area, in square metres: positive when the corners run
// from x towards y (counter-clockwise about z). Formula: the shoelace sum, taken
// about the first corner.
func (p Polygon) Area() float64 {
	sum := 0.0
	for i := 2; i < len(p); i++ {
		sum += p[i-1].Sub(p[0]).Cross(p[i].Sub(p[0]))
	}
	return sum / 2
}

// Bounds returns the least and greatest coordinates; zero without corners.
func (p Polygon) Bounds() (lo, hi Vec2) {
	for i, c := range p {
		if i == 0 {
			lo, hi = c, c
		}
		lo = Vec2{min(lo.X, c.X), min(lo.Y, c.Y)}
		hi = Vec2{max(hi.X, c.X), max(hi.Y, c.Y)}
	}
	return lo, hi
}

// ErrTooFewCorners is returned by Simple for an outline that encloses nothing.
var ErrTooFewCorners = errors.New("fewer than 3 corners")

// ShortEdgeError says that the edge has no length: its corners coincide.
type ShortEdgeError struct{ Edge int }

// Error names the edge, counted from 0.
func (e ShortEdgeError) Error() string { return fmt.Sprintf("edge %d has no length", e.Edge) }

// CrossingError says that two edges of an outline meet where they should not,
// I < J.
type CrossingError struct{ I, J int }

// Error names the edges, counted from 0.
func (e CrossingError) Error() string { return fmt.Sprintf("edges %d and %d meet", e.I, e.J) }

// Simple returns nil when the outline is simple: three corners or more, no edge
// shorter than 1e-9 m, no two edges closer than that but where they join, and
// none folded back on the one before. If not it returns all faults joined:
// ErrTooFewCorners, ShortEdgeError, CrossingError.
func (p Polygon) Simple() error {
	if len(p) < 3 {
		return ErrTooFewCorners
	}
	var faults []error
	short := make([]bool, len(p))
	for i := range p {
		if a, b := p.Edge(i); a.Dist(b) <= edgeTol {
			short[i] = true
			faults = append(faults, ShortEdgeError{i})
		}
	}
	for i := range p {
		for j := i + 1; j < len(p); j++ {
			if !short[i] && !short[j] && p.meet(i, j) {
				faults = append(faults, CrossingError{i, j})
			}
		}
	}
	return errors.Join(faults...)
}

// meet reports whether the edges i < j meet other than at a common corner.
func (p Polygon) meet(i, j int) bool {
	a, b := p.Edge(i)
	c, d := p.Edge(j)
	switch {
	case j == i+1: // b is c: folded back?
		return distToSegment(d, a, b) <= edgeTol || distToSegment(a, c, d) <= edgeTol
	case i == 0 && j == len(p)-1: // d is a
		return distToSegment(c, a, b) <= edgeTol || distToSegment(b, c, d) <= edgeTol
	}
	if distToSegment(a, c, d) <= edgeTol || distToSegment(b, c, d) <= edgeTol ||
		distToSegment(c, a, b) <= edgeTol || distToSegment(d, a, b) <= edgeTol {
		return true
	}
	e, f := b.Sub(a), d.Sub(c)
	return (e.Cross(c.Sub(a)) > 0) != (e.Cross(d.Sub(a)) > 0) &&
		(f.Cross(a.Sub(c)) > 0) != (f.Cross(b.Sub(c)) > 0)
}

// nearestOnSegment returns the point of the segment from a to b nearest to q.
func nearestOnSegment(q, a, b Vec2) Vec2 {
	d := b.Sub(a)
	l2 := d.Dot(d)
	if !(l2 > 0) {
		return a
	}
	t := q.Sub(a).Dot(d) / l2
	if t >= 1 {
		return b
	}
	return a.Add(d.Mul(max(t, 0)))
}

func distToSegment(q, a, b Vec2) float64 { return q.Dist(nearestOnSegment(q, a, b)) }

// Nearest returns the edge nearest to q and the point of it that is nearest;
// the first of several; edge -1 without corners.
func (p Polygon) Nearest(q Vec2) (edge int, foot Vec2) {
	edge = -1
	best := math.Inf(1)
	for i := range p {
		a, b := p.Edge(i)
		f := nearestOnSegment(q, a, b)
		if d := q.Dist(f); d < best {
			edge, foot, best = i, f, d
		}
	}
	return edge, foot
}

// Distance returns the distance from q to the outline, inside or out, in metres;
// infinite without corners.
func (p Polygon) Distance(q Vec2) float64 {
	i, foot := p.Nearest(q)
	if i < 0 {
		return math.Inf(1)
	}
	return q.Dist(foot)
}

// Contains reports whether q lies inside the outline or within 1e-9 m of it.
// Method: count the edges to one side (Shimrat 1962, "Algorithm 112").
func (p Polygon) Contains(q Vec2) bool {
	in := false
	for i := range p {
		a, b := p.Edge(i)
		if (a.Y > q.Y) == (b.Y > q.Y) {
			continue
		}
		if up := b.Y > a.Y; (b.Sub(a).Cross(q.Sub(a)) > 0) == up {
			in = !in
		}
	}
	return in || p.Distance(q) <= edgeTol
}

// Convex reports whether no corner turns inward by more than 1e-9 m over its
// neighbours' chord; a straight corner counts as convex. False with fewer than
// three corners or no area.
func (p Polygon) Convex() bool {
	area := p.Area()
	if len(p) < 3 || area == 0 {
		return false
	}
	for i := range p {
		a, b := p.Edge(i)
		_, c := p.Edge((i + 1) % len(p))
		turn := b.Sub(a).Cross(c.Sub(b))
		if area < 0 {
			turn = -turn
		}
		if turn < -edgeTol*c.Dist(a) {
			return false
		}
	}
	return true
}

// InwardNormal returns the unit vector at right angles to the edge that points
// inside; zero when the edge has no length, the outline no area, or there is no
// such edge.
func (p Polygon) InwardNormal(edge int) Vec2 {
	if edge < 0 || edge >= len(p) {
		return Vec2{}
	}
	a, b := p.Edge(edge)
	d := b.Sub(a)
	l := d.Len()
	area := p.Area()
	if !(l > 0) || area == 0 {
		return Vec2{}
	}
	return Vec2{-d.Y, d.X}.Mul(math.Copysign(1/l, area))
}

// Centroid returns that of the area of p; zero without area.
func (p Polygon) Centroid() Vec2 {
	var sum Vec2
	area := 0.0
	for i := 2; i < len(p); i++ {
		a := p[i-1].Sub(p[0]).Cross(p[i].Sub(p[0])) / 2
		sum = sum.Add(p[0].Add(p[i-1]).Add(p[i]).Mul(a / 3))
		area += a
	}
	if area == 0 {
		return Vec2{}
	}
	return sum.Mul(1 / area)
}
