// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
)

// ceilingPlanes judges the planes, and, where the rest of the room is sound, what
// they make of it.
func (c *checker) ceilingPlanes(r Room, sound bool) {
	const (
		apart  = 0.1  // m: nearer than that no tape gives a slope
		counts = 1e-4 // square metres, a square centimetre
	)
	before := len(c.faults)
	n := c.count("room.ceiling.planes", len(r.Ceiling.Planes), 0, MaxPlanes)
	at := func(i int) string { return fmt.Sprintf("room.ceiling.planes[%d]", i) }
	for i, p := range r.Ceiling.Planes[:n] {
		c.length(at(i)+".from.x_m", p.From.X, 0, maxPlace)
		c.length(at(i)+".from.y_m", p.From.Y, 0, maxPlace)
		c.length(at(i)+".from_height_m", p.FromHeight, 0, maxHeight)
		c.length(at(i)+".to.x_m", p.To.X, 0, maxPlace)
		c.length(at(i)+".to.y_m", p.To.Y, 0, maxPlace)
		c.length(at(i)+".to_height_m", p.ToHeight, 0, maxHeight)
		if p.From.vec().Dist(p.To.vec()) < apart {
			c.fault(at(i)+".to", "less than 100 mm from where it is from", "100 mm or more apart, seen from above")
		}
	}
	if n == 0 || !sound || len(c.faults) > before {
		return
	}
	slopes, poly := r.Slopes(), r.Polygon()
	area := make([]float64, len(slopes))
	for _, p := range slopes.Pieces(poly) {
		area[p.Slope] = math.Abs(p.Outline.Area())
	}
	for i := range n {
		if k := slices.IndexFunc(slopes[:i+1], func(s geometry.Slope) bool { return same(s, slopes[i+1], poly) }); k >= 0 {
			c.fault(at(i), fmt.Sprintf("ceiling plane %d lies in the %s", i+1, r.CeilingName(k)), "each plane once")
		} else if area[i+1] < counts {
			c.fault(at(i), fmt.Sprintf("ceiling plane %d is everywhere above the others", i+1), "one that lowers the ceiling over some of the floor")
		}
	}
	for i, q := range poly { // between corners no ceiling is lower
		if k := slopes.Over(q.X, q.Y); k > 0 && slopes.At(q.X, q.Y) < minHeight {
			c.fault(at(k-1), fmt.Sprintf("%.3g m over corner %d of the footprint", slopes.At(q.X, q.Y), i+1),
				figure(minHeight)+" m or more over all of it: end the floor at a knee wall")
			return
		}
	}
}

// same reports whether two planes are one over the outline, to a tenth of a
// millimetre.
func same(a, b geometry.Slope, outline geometry.Polygon) bool {
	const tape = 1e-4 // m
	for _, q := range outline {
		if math.Abs(a.At(q.X, q.Y)-b.At(q.X, q.Y)) > tape {
			return false
		}
	}
	return true
}
