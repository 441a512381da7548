// SPDX-License-Identifier: MIT

package place_test

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
)

// lRoom is an L, 8.4 m long, 5 m wide and with an alcove to 6.4 m from x = 5.6, with a
// row on a platform beside the alcove.
func lRoom() *project.Design {
	d := projecttest.Room(1).Clone()
	d.Room.Footprint = []project.Corner{{}, {X: 8.4}, {X: 8.4, Y: 6.4}, {X: 5.6, Y: 6.4}, {X: 5.6, Y: 5}, {Y: 5}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 2.7}
	d.Room.Features = nil
	d.Seating.Rows = []project.Row{{Chair: d.Chairs[0].ID, Distance: 6.8, Riser: 0.4, Front: 1, Back: 0.6,
		Seats: 1, Pitch: 0.8, Centre: 2.5, Recline: d.Chairs[0].MinRecline}}
	return d
}

// TestPlatformFillsTheAlcove: every platform was as wide as the rectangle around the
// room and ran into an alcove where nobody builds one. Where the row says it ends, the
// floor beside it is the room's.
func TestPlatformFillsTheAlcove(t *testing.T) {
	d := lRoom()
	if got := place.FloorOf(d).At(7, 6); got != 0.4 {
		t.Errorf("wall to wall: %g m at the alcove, as version 1 has it 0.4", got)
	}
	d.Seating.Rows[0].Right = 5
	f := place.FloorOf(d)
	if a, b := f.At(7, 4.9), f.At(7, 6); a != 0.4 || b != 0 {
		t.Errorf("ending at the alcove: %g m on it, %g m in the alcove", a, b)
	}
	d.Seating.Rows[0].Left = 1
	if got := place.FloorOf(d).At(7, 0.5); got != 0 {
		t.Errorf("island: %g m beside it", got)
	}
}

// TestStepsShareTheHeight: a platform 0.6 m up, 0.2 m over the one before it, and
// steps at its front stand on that one.
func TestStepsShareTheHeight(t *testing.T) {
	d := lRoom()
	front := d.Seating.Rows[0]
	front.Distance, front.Riser, front.ID = 5.3, 0.2, ""
	back := d.Seating.Rows[0]
	back.Riser = 0.62
	back.Steps = []project.Steps{{Side: project.FrontSide, At: 0.5, Width: 1, Tread: 0.3, Rise: 0.15}}
	d.Seating.Rows = []project.Row{front, back}
	fl := place.Flights(d, 1)
	if len(fl) != 1 || fl[0].Risers != 3 || math.Abs(fl[0].Rise-0.14) > 1e-12 || fl[0].Base != 0.2 || len(fl[0].Boxes) != 2 {
		t.Fatalf("%+v", fl)
	}
	f := place.FloorOf(d)
	for _, c := range []struct{ x, want float64 }{{5.1, 0.2}, {5.3, 0.34}, {5.7, 0.48}, {5.9, 0.62}} {
		if got := f.At(c.x, 0.5); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("at x = %g: %g m, want %g", c.x, got, c.want)
		}
	}
}
