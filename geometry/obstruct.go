// SPDX-License-Identifier: MIT

package geometry

import (
	"math"
	"slices"
)

// Obstructs reports whether the straight path from a to b leaves p, which only
// a concave outline does to a path between two points inside: a corner stands
// in it.
//
// depth is by how much, in metres: for each stretch outside, how far the outline
// between leaving and returning reaches from the path at right angles (its
// farthest corner), taken along the way round for which that is less; the
// greatest over all stretches. t is the parameter where the path first leaves
// (0 at a, 1 at b), edge the edge that it crosses there (at a corner, the first
// of its two).
//
// When a or b itself lies outside, ok is true and depth at least its distance
// from the outline; with a outside, t is 0 and edge the nearest to a. Touching
// an edge or running along it, within 1e-9 m, is not leaving. When the path
// stays inside the results are 0, 1, -1, false.
func (p Polygon) Obstructs(a, b Vec2) (depth, t float64, edge int, ok bool) {
	return p.ObstructsTo(a, b, 0)
}

// ObstructsTo is Obstructs for an end b that may lie as far outside as flush,
// metres, beyond the edge through which the path last leaves: that last stretch
// is not counted. Where b lies so far outside another edge, depth is that of the
// corners between.
func (p Polygon) ObstructsTo(a, b Vec2, flush float64) (depth, t float64, edge int, ok bool) {
	t, edge = 1, -1
	if len(p) == 0 {
		return 0, 1, -1, false
	}
	at := func(t float64) Vec2 { return a.Add(b.Sub(a).Mul(t)) }
	cuts := p.cuts(a, b)
	left := -1.0 // where the present stretch outside began
	for i := 1; i < len(cuts); i++ {
		if p.Contains(at((cuts[i-1] + cuts[i]) / 2)) {
			if left >= 0 {
				depth = max(depth, p.reach(a, b, at(left), at(cuts[i-1])))
				left = -1
			}
			continue
		}
		if left < 0 {
			left = cuts[i-1]
			if flush > 0 && p.setIn(b, at(left), flush) {
				left = -1
				break // nothing but the way through the wall to b is left
			}
			if !ok {
				ok, t = true, left
				edge, _ = p.Nearest(at(left))
			}
		}
	}
	if left >= 0 && p.Contains(b) { // b is on the outline
		depth = max(depth, p.last(a, b, at(left), b))
	}
	if (left >= 0 || flush == 0) && !p.Contains(b) {
		if !ok {
			ok, t = true, 1
			edge, _ = p.Nearest(b)
		}
		_, foot := p.Nearest(b)
		if far := b.Dist(foot); far > flush {
			depth = max(depth, far)
		}
		if far := b.Dist(foot); left >= 0 && far <= flush {
			depth = max(depth, p.last(a, b, at(left), foot))
		}
	}
	if !p.Contains(a) {
		ok, t = true, 0
		edge, _ = p.Nearest(a)
		depth = max(depth, p.Distance(a))
	}
	return depth, t, edge, ok
}

// setIn reports whether b lies outside by no more than flush, also beyond the
// line of an edge on which out lies.
func (p Polygon) setIn(b, out Vec2, flush float64) bool {
	if p.Contains(b) || p.Distance(b) > flush {
		return false
	}
	for i := range p {
		c, d := p.Edge(i)
		if beyond := -p.InwardNormal(i).Dot(b.Sub(c)); distToSegment(out, c, d) <= edgeTol && beyond > 0 && beyond <= flush {
			return true
		}
	}
	return false
}

// cuts returns the parameters in [0, 1] where the path from a to b may enter or
// leave, in order, 0 and 1 included.
func (p Polygon) cuts(a, b Vec2) []float64 {
	d := b.Sub(a)
	cuts := []float64{0, 1}
	l2 := d.Dot(d)
	if !(l2 > 0) {
		return cuts
	}
	add := func(t float64) {
		if t > 0 && t < 1 {
			cuts = append(cuts, t)
		}
	}
	for i := range p {
		c, e := p.Edge(i)
		// Corners too: a path may pass exactly through one, or along an edge.
		add(c.Sub(a).Dot(d) / l2)
		f := e.Sub(c)
		if det := d.Cross(f); det != 0 {
			if s := c.Sub(a).Cross(d) / det; s >= 0 && s <= 1 {
				add(c.Sub(a).Cross(f) / det)
			}
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// reach returns how far the outline between the points out and in, both on it,
// reaches from the line through a and b, the shorter reach of the two ways
// round.
func (p Polygon) reach(a, b, out, in Vec2) float64 {
	i, _ := p.Nearest(out)
	j, _ := p.Nearest(in)
	return min(p.chain(a, b, i, j), p.chain(a, b, j, i))
}

// last is reach for a stretch that does not come back in before b: that is freed
// also by as much as b lies beyond the edge through which it leaves.
func (p Polygon) last(a, b, out, in Vec2) float64 {
	depth := p.reach(a, b, out, in)
	through, _ := p.Nearest(out)
	c, _ := p.Edge(through)
	if beyond := -p.InwardNormal(through).Dot(b.Sub(c)); beyond > edgeTol { // else it leaves at a corner
		depth = min(depth, beyond)
	}
	return depth
}

// chain returns the greatest distance from the line through a and b of the
// corners passed on going from edge i forwards to edge j.
func (p Polygon) chain(a, b Vec2, i, j int) float64 {
	d := b.Sub(a)
	l := d.Len()
	best := 0.0
	for i != j {
		i = (i + 1) % len(p)
		best = max(best, math.Abs(d.Cross(p[i].Sub(a)))/l)
	}
	return best
}
