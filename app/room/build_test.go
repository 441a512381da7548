// SPDX-License-Identifier: MIT

package room

import (
	"testing"

	"earline/project"
)

// A room at the limits of a design held the window up for a quarter of a second at
// every edit: its display list is built beside the window.
func TestLargeRoomIsBuiltBesideTheWindow(t *testing.T) {
	top := ""
	p, s, q := opened(t, "large", &top)
	if p.Redraw(); p.building {
		t.Error("a common room is built beside the window, which then shows it late")
	}
	large := func(seats int) *project.Design {
		d := s.Doc.Design().Clone()
		for i := range d.Seating.Rows {
			d.Seating.Rows[i].Seats = seats
		}
		return d
	}
	s.Draft(large(40))
	if !p.building {
		t.Fatal("the window waits for the display list of a large room")
	}
	s.Draft(large(41)) // while the first is under way
	s.Draft(large(42))
	if p.ordered == nil || p.ordered.d.Seating.Rows[0].Seats != 42 {
		t.Error("what is built next is not the newest")
	}
	q.Until(t, func() bool { return !p.building && p.ordered == nil })
	s.Draft(nil)
	if p.building {
		t.Error("the common room is built beside the window")
	}
}
