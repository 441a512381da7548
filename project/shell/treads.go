// SPDX-License-Identifier: MIT

package shell

import (
	"slices"

	"earline/project"
	"earline/project/place"
)

// Treads is the floor seen from the side: platforms reach from wall to wall, so
// its height depends on x alone. Where platforms overlap the higher one counts.
type Treads []Tread

// Tread is a stretch of floor from one x to another.
type Tread struct {
	from, to float64
	height   float64
	row      int // whose platform, from 0; -1 for the room's floor
}

// TreadsOf returns the stretches that are raised, in order of x.
func TreadsOf(d *project.Design) Treads {
	var all Treads
	var cuts []float64
	for i := range d.Seating.Rows {
		if b, ok := place.Platform(d, i); ok {
			t := Tread{b.Center.X - b.Half.X, b.Center.X + b.Half.X, 2 * b.Half.Z, i}
			all = append(all, t)
			cuts = append(cuts, t.from, t.to)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out Treads
	for i := 1; i < len(cuts); i++ {
		t := Tread{from: cuts[i-1], to: cuts[i], row: -1}
		mid := (t.from + t.to) / 2
		for _, p := range all {
			if mid > p.from && mid < p.to && p.height > t.height {
				t.height, t.row = p.height, p.row
			}
		}
		if t.row < 0 {
			continue
		}
		if n := len(out) - 1; n >= 0 && out[n].row == t.row && out[n].to == t.from {
			out[n].to = t.to
			continue
		}
		out = append(out, t)
	}
	return out
}
