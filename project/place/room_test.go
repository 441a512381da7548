// SPDX-License-Identifier: MIT

package place_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
)

// A placed room holds what the single answers give.
func TestRoomHoldsTheSingleAnswers(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatalf("no demo %s", name)
		}
		got, want := place.Of(d), &place.Room{Design: d, Main: place.MainPoint(d), Seats: place.Seats(d),
			Speakers: place.Speakers(d), Parts: place.Parts(d), Floor: place.FloorOf(d)}
		for _, s := range want.Seats {
			want.Bodies = append(want.Bodies, place.Listener(d, s))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-single +room):\n%s", name, diff)
		}
	}
}

// One stands on the highest platform that reaches there; its edges belong to it.
func TestFloorIsTheHighestPlatform(t *testing.T) {
	d := file.New()
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: 4}, {X: 0, Y: 4}}
	row := d.Seating.Rows[0]
	low, high := row, row
	low.Distance, low.Riser, low.Front, low.Back = 4, 0.2, 1, 2     // x 3 to 6
	high.Distance, high.Riser, high.Front, high.Back = 6, 0.5, 1, 1 // x 5 to 7
	for _, rows := range [][]project.Row{{low, high}, {high, low}} {
		d.Seating.Rows = rows
		f := place.FloorOf(d)
		for x, want := range map[float64]float64{0: 0, 2.9: 0, 3: 0.2, 4: 0.2, 5: 0.5, 6.5: 0.5, 7: 0.5, 7.1: 0} {
			if got := f.At(x, 2); got != want {
				t.Errorf("floor at %g is %g m high, want %g", x, got, want)
			}
		}
	}
}

// A chair takes its pan, its back and its arms; where neighbours share an arm,
// half of each.
func TestOutlineOfAChair(t *testing.T) {
	s := place.Seat{Ref: geometry.V(4, 2, 0.3), Basis: geometry.WorldBasis(),
		Chair: project.Chair{PanDepth: 0.5, PanWidth: 0.6, BackThickness: 0.2, ArmWidth: 0.1}}
	for arms, half := range map[float64]float64{0: 0.3, 0.5: 0.35, 1: 0.4} {
		lo, hi := s.Outline(arms).Bounds()
		for _, c := range []struct {
			side      string
			got, want float64
		}{{"front", lo.X, 3.5}, {"back", hi.X, 4.2}, {"left", lo.Y, 2 - half}, {"right", hi.Y, 2 + half}} {
			if diff := c.got - c.want; diff > 1e-12 || diff < -1e-12 {
				t.Errorf("arms %g: %s at %g m, want %g", arms, c.side, c.got, c.want)
			}
		}
	}
}
