// SPDX-License-Identifier: MIT

package place_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/projecttest"
)

// From the door of a room one walks to every seat of the demo, through no chair.
func TestEverySeatOfTheDemoIsWalkedTo(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	r := place.Of(d)
	ways := place.Ways(r)
	if len(ways) != len(r.Seats) {
		t.Errorf("%d ways to %d seats", len(ways), len(r.Seats))
	}
	walked(t, r, ways)
	d.Room.Features = nil
	if got := place.Ways(place.Of(d)); got != nil {
		t.Errorf("%d ways without a door", len(got))
	}
}

// walked fails unless each way begins at a door, ends at its seat, and is a chain of steps
// on the floor through nothing.
func walked(t interface{ Errorf(string, ...any) }, r *place.Room, ways []place.Way) {
	poly := r.Design.Room.Polygon()
	for _, w := range ways {
		s := &r.Seats[w.Seat]
		if end := w.Feet[len(w.Feet)-1]; math.Hypot(end.X-s.Ref.X, end.Y-s.Ref.Y) > float64(s.Chair.PanDepth)+0.7 {
			t.Errorf("%s: ends at %v, the seat is at %v", s.Name(), end, s.Ref)
		}
		for n, p := range w.Feet {
			q := geometry.Vec2{X: p.X, Y: p.Y}
			if !poly.Contains(q) || p.Z != r.Floor.At(p.X, p.Y) {
				t.Errorf("%s: a foot at %v", s.Name(), p)
			}
			for i := range r.Seats {
				if r.Seats[i].Outline(1).Contains(q) {
					t.Errorf("%s: through the chair of %s", s.Name(), r.Seats[i].Name())
				}
			}
			if n > 0 && math.Hypot(p.X-w.Feet[n-1].X, p.Y-w.Feet[n-1].Y) > 0.25 {
				t.Errorf("%s: a stride from %v to %v", s.Name(), w.Feet[n-1], p)
			}
		}
	}
}

func TestWaysOfAnyRoomLeadThroughNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := place.Of(projecttest.Draw(t))
		walked(t, r, place.Ways(r))
	})
}

// In an empty room the way is as long as the straight line, give or take the grid.
func TestTheWayThroughAnEmptyRoomIsStraight(t *testing.T) {
	d := file.New()
	d.Speakers = nil
	d.Seating.Rows[0].Seats = 1
	d.Room.Features = []project.Feature{{Kind: project.Door, At: project.Point{X: 0.6, Y: 0.02}, Length: 0.8, Width: 0.04, Height: 2, Swing: project.OutLeft}}
	r := place.Of(d)
	ways := place.Ways(r)
	if len(ways) != 1 {
		t.Fatalf("%d ways", len(ways))
	}
	feet := ways[0].Feet
	long := 0.0
	for n := 1; n < len(feet); n++ {
		long += math.Hypot(feet[n].X-feet[n-1].X, feet[n].Y-feet[n-1].Y)
	}
	a, b := feet[0], feet[len(feet)-1]
	straight := math.Hypot(a.X-b.X, a.Y-b.Y)
	if long > 1.083*straight { // an eight-way grid is up to 8.2 % longer: 1/cos 22.5°
		t.Errorf("%g m for %g", long, straight)
	}
}
