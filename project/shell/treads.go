// SPDX-License-Identifier: MIT

package shell

import (
	"math"
	"slices"

	"earline/project"
	"earline/project/place"
)

// Treads is the floor seen from above, in stretches. Where platforms overlap the
// higher one counts.
type Treads []Tread

// Tread is a stretch of floor from one x to another, and from left to right: of
// infinite width where what stands there reaches from wall to wall.
type Tread struct {
	from, to    float64
	left, right float64
	height      float64
	row         int // whose platform or steps, from 0; -1 for the room's floor
}

// level is a platform or a step.
type level struct {
	x0, x1, y0, y1 float64
	height         float64
	row            int
}

// TreadsOf returns the stretches in order of x, then of y: those that are raised,
// and the floor beside them.
func TreadsOf(d *project.Design) Treads {
	var all []level
	var cuts []float64
	for i, r := range d.Seating.Rows {
		if b, ok := place.Platform(d, i); ok {
			l := level{b.Center.X - b.Half.X, b.Center.X + b.Half.X, math.Inf(-1), math.Inf(1), 2 * b.Half.Z, i}
			if r.Left > 0 {
				l.y0 = b.Center.Y - b.Half.Y
			}
			if r.Right > 0 {
				l.y1 = b.Center.Y + b.Half.Y
			}
			all = append(all, l)
		}
		for _, f := range place.Flights(d, i) {
			for _, b := range f.Boxes {
				all = append(all, level{b.Center.X - b.Half.X, b.Center.X + b.Half.X, b.Center.Y - b.Half.Y, b.Center.Y + b.Half.Y, 2 * b.Half.Z, i})
			}
		}
	}
	for _, l := range all {
		cuts = append(cuts, l.x0, l.x1)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out Treads
	before := 0 // where the last stretch of x begins in out
	for i := 1; i < len(cuts); i++ {
		here := across(all, cuts[i-1], cuts[i])
		if len(here) == 0 {
			continue
		}
		// What goes on as it was is one stretch.
		if last := out[before:]; len(last) == len(here) && last[0].to == cuts[i-1] && slices.EqualFunc(last, here, alike) {
			for k := range last {
				last[k].to = cuts[i]
			}
			continue
		}
		before = len(out)
		out = append(out, here...)
	}
	return out
}

// across returns the floor between two neighbouring cuts, from left to right; nothing
// where nothing is raised.
func across(all []level, from, to float64) Treads {
	mid := (from + to) / 2
	var here []level
	ys := []float64{math.Inf(-1), math.Inf(1)}
	for _, l := range all {
		if mid > l.x0 && mid < l.x1 {
			here = append(here, l)
			ys = append(ys, l.y0, l.y1)
		}
	}
	if len(here) == 0 {
		return nil
	}
	slices.Sort(ys)
	ys = slices.Compact(ys)
	var out Treads
	for k := 1; k < len(ys); k++ {
		t := Tread{from: from, to: to, left: ys[k-1], right: ys[k], row: -1}
		for _, l := range here {
			if l.y0 <= t.left && l.y1 >= t.right && l.height > t.height {
				t.height, t.row = l.height, l.row
			}
		}
		if n := len(out) - 1; n >= 0 && out[n].row == t.row && out[n].height == t.height {
			out[n].right = t.right
			continue
		}
		out = append(out, t)
	}
	return out
}

func alike(a, b Tread) bool {
	return a.left == b.left && a.right == b.right && a.row == b.row && a.height == b.height
}
