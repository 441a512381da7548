// SPDX-License-Identifier: MIT

package scene

import (
	"earline/project"
	"earline/project/place"
)

// Lean is a chair that leans back otherwise than the design has it.
type Lean struct {
	On      bool
	Seat    int     // counted from 0
	Recline float64 // radians behind upright
}

// seats returns the seats of d, one of them leaning as l has it.
func (l Lean) seats(d *project.Design) []place.Seat {
	all := place.Seats(d)
	if l.On && l.Seat >= 0 && l.Seat < len(all) {
		all[l.Seat].Recline = l.Recline
	}
	return all
}
