// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the blocked stretches, and however cautious the bound, the search
// finds the first free place to its step.
func TestClimbFindsTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type stretch struct{ from, to float64 }
		var blocked []stretch
		at := rapid.Float64Range(-0.5, 0.2).Draw(t, "from")
		for range rapid.IntRange(0, 6).Draw(t, "stretches") {
			to := at + rapid.Float64Range(0.001, 0.5).Draw(t, "length")
			blocked = append(blocked, stretch{at, to})
			at = to + rapid.Float64Range(2*resolution, 0.2).Draw(t, "gap")
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share of the bound")
		hi := rapid.Float64Range(0, 2).Draw(t, "hi")
		short := func(u float64) (float64, bool) {
			for _, b := range blocked {
				if u > b.from && u < b.to {
					return share * (b.to - u), true
				}
			}
			return 0, false
		}
		want := 0.0
		for _, b := range blocked {
			if want > b.from && want < b.to {
				want = b.to
			}
		}
		u, ok, err := climb(context.Background(), 0, hi, resolution, short)
		if err != nil {
			t.Fatal(err)
		}
		if ok && (u < want || u > want+resolution*(1+1e-9) || u > hi) {
			t.Fatalf("found %.6f, the first is %.6f (up to %.6f)", u, want, hi)
		}
		if !ok && want <= hi-resolution {
			t.Fatalf("found none up to %.6f, there is %.6f", hi, want)
		}
	})
}

// The search of Rows with point heads gives the closed form of the C value:
// N = (R+C)(D+T)/D - R (P. Shepherd, stadium sightline worksheet, Univ. of Bath
// 2012), with the worked home-room examples recomputed from that form.
func TestRiserForAWantedC(t *testing.T) {
	cases := []struct {
		name             string
		r, d, depth, c   float64 // eye above the focus and distance to it, of the row in front
		riser, tolerance float64
	}{
		{"stadium sheet problem 1, C 0", 10, 30, 1, 0, 0.33333, 1e-5},
		{"stadium sheet problem 1, C 150 mm", 10, 30, 1, 0.15, 0.48833, 1e-5},
		{"stadium handbook", 6.5, 18, 0.8, 0.12, 0.4142, 1e-4},
		{"room, picture 0.42 below the eye", 0.42, 3.5, 1.8, 0.12, 0.39771, 1e-5},
		{"room, picture at the eye", 0, 3.5, 1.8, 0.12, 0.18171, 1e-5},
		{"room, picture above the eye", -0.2, 3.5, 1.8, 0.12, 0.07886, 1e-5},
		{"room, C 60 mm", 0.42, 3.5, 1.8, 0.06, 0.30686, 1e-5},
		{"room, second", 0.42, 4.5, 1.6, 0.12, 0.31200, 1e-5},
		{"chain 2 to 3", 0.81771, 5.3, 1.8, 0.12, 0.43847, 1e-5},
		{"chain 3 to 4", 1.25618, 7.1, 1.8, 0.12, 0.46889, 1e-5},
		{"chain 4 to 5", 1.72507, 8.9, 1.8, 0.12, 0.49316, 1e-5},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			closed := (c.r+c.c)*(c.d+c.depth)/c.d - c.r
			if math.Abs(closed-c.riser) > c.tolerance {
				t.Fatalf("closed form %.6f, the source has %.6f", closed, c.riser)
			}
			// C = D (N+R)/(D+T) - R, what a point head over the front eye clears.
			got, ok, err := climb(context.Background(), 0, 2, resolution, func(n float64) (float64, bool) {
				have := c.d*(n+c.r)/(c.d+c.depth) - c.r
				return c.c - have, have < c.c
			})
			if err != nil || !ok || got < closed-1e-12 || got > closed+resolution {
				t.Errorf("the search found %.6f (%v, %v), want %.6f to 0.1 mm", got, ok, err, closed)
			}
		})
	}
}

// Steps: whole ones between the limits, the rise never less than asked.
func TestSteppable(t *testing.T) {
	const minStep, maxStep = 0.102, 0.196 // IBC 2015 1011.5.2, IRC 2018 R311.7.5.1
	// 0.398 m with steps of at most 196 mm: three of 132.67 mm.
	if rise, n := steppable(0.398, minStep, maxStep); rise != 0.398 || n != 3 {
		t.Errorf("0.398 m: %.4f in %d steps", rise, n)
	}
	for _, c := range []struct {
		rise, want float64
		steps      int
	}{{0, 0, 0}, {0.03, 0.102, 1}, {0.15, 0.15, 1}, {0.196, 0.196, 1}, {0.2, 0.204, 2}, {0.392, 0.392, 2}} {
		if rise, n := steppable(c.rise, minStep, maxStep); math.Abs(rise-c.want) > 1e-12 || n != c.steps {
			t.Errorf("%.3f m: %.4f in %d steps, want %.4f in %d", c.rise, rise, n, c.want, c.steps)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(0.05, 0.15).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0, 0.1).Draw(t, "more")
		rise := rapid.Float64Range(0.001, 2).Draw(t, "rise")
		got, n := steppable(rise, lo, hi)
		if step := got / float64(n); got < rise || step < lo-1e-9 || step > hi+1e-9 {
			t.Fatalf("%.6f in %d steps of %.6f", got, n, step)
		}
		// Nothing between is climbable.
		for x := rise; x < got-1e-6; x += max((got-rise)/50, 1e-6) {
			for k := 1.0; k < 60; k++ {
				if s := x / k; s >= lo+1e-9 && s <= hi-1e-9 {
					t.Fatalf("%.6f can be climbed in %.0f steps, got %.6f", x, k, got)
				}
			}
		}
	})
}
