// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project/bass/field"
	"earline/project/bass/wave"
	"earline/project/place"
)

// The blocks of a chair hold what its parts hold, at every recline, and take in all
// what tables give for the floor that it covers.
func TestChairsHoldWhatTheyHold(t *testing.T) {
	for _, recline := range []float64{8, 20, 60} {
		d := demo(t, "small")
		for i := range d.Seating.Rows {
			d.Seating.Rows[i].Recline = unit.Degrees(recline)
		}
		p := plan(t, d, Octaves(20, 120, 6))
		var want, got float64
		for _, s := range place.Seats(d) {
			for _, part := range s.ChairParts() {
				h := part.Box.Half
				want += 8 * h.X * h.Y * h.Z
			}
		}
		for _, b := range p.Chairs {
			got += math.Abs(b.Footprint.Area()) * (b.Top - b.Bottom)
			if a := field.Absorption(b.Gives); a < 0.02 || a > 0.4 {
				t.Errorf("a chair's faces absorb %.2f", a)
			}
		}
		geomtest.Within(t, "volume of the chairs", got, want, 1e-9)
	}
}

// A row of chairs lies across the room's length and lowers its first mode; a grid
// twice as fine says the same.
func TestChairsLowerTheFirstMode(t *testing.T) {
	p := plan(t, demo(t, "small"), Octaves(30, 50, 96))
	p.Room.Blocks = nil
	peak := func(chairs []wave.Block, cell float64) float64 {
		q := *p
		q.Chairs, q.Ears = chairs, []geometry.Vec{{X: 0.3, Y: 1, Z: 1}}
		tr, err := q.Wave(context.Background(), p.Places[:1], wave.Options{LargestCell: cell})
		if err != nil {
			t.Fatal(err)
		}
		best, at := 0.0, 0.0
		for i, f := range tr.Frequencies {
			if v := tr.At(0, 0, i); real(v)*real(v)+imag(v)*imag(v) > best {
				best, at = real(v)*real(v)+imag(v)*imag(v), f
			}
		}
		return at
	}
	empty, usual, fine := peak(nil, 0), peak(p.Chairs, 0), peak(p.Chairs, 0.06)
	t.Logf("first mode %.2f Hz empty, %.2f with chairs, %.2f on a finer grid", empty, usual, fine)
	if !(usual < 0.99*empty) || math.Abs(usual-fine) > 0.01*empty {
		t.Errorf("first mode %.2f Hz empty, %.2f with chairs, %.2f on a finer grid", empty, usual, fine)
	}
}
