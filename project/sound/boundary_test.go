// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
)

// One rigid surface at h behind a loudspeaker, heard from far ahead: the comb of two
// equal sources 2 h apart, 2 |cos(2 pi f h/c)|, with its first cancellation where h is a
// quarter wavelength.
func TestOneSurfaceIsAComb(t *testing.T) {
	const c, h = 343.0, 0.72
	n := Interference{Bounces: []Bounce{{Later: 2 * h}}}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(1, 1000).Draw(t, "f")
		want := 2 * math.Cos(2*math.Pi*f*h/c)
		if got := n.power(f, c, -1); math.Abs(got-want*want) > 1e-9 {
			t.Errorf("%g Hz: %g, want %g", f, got, want*want)
		}
	})
	n.sum(c)
	// 343/(4 x 0.72) = 119.1 Hz; the grid of the answer is a 24th of an octave.
	if math.Abs(math.Log2(n.Dip.Frequency/119.1)) > 1.0/48 || n.Dip.Bounce != 0 || !n.Dip.Matters() {
		t.Errorf("%+v", n.Dip)
	}
}

// The power that a source sends out at h from a rigid plane is 1 + sin(2kh)/(2kh) of that
// in the free field (Waterhouse, Output of a Sound Source in a Reverberation Chamber, J.
// Acoust. Soc. Am. 30 (1958) 4; from memory): twice near it, once far from it. It is the
// mean over all directions of what the comb sends there.
func TestThePowerNearAPlaneIsWaterhouses(t *testing.T) {
	const c = 343.0
	for _, kh := range []float64{1e-3, 0.3, 1, 2.25, 5, 200} {
		f, h := 100.0, kh*c/(2*math.Pi*100)
		mean, steps := 0.0, 4000
		for i := range steps {
			cos := (float64(i) + 0.5) / float64(steps)
			n := Interference{Bounces: []Bounce{{Later: 2 * h * cos}}}
			mean += n.power(f, c, -1) / float64(steps) / 2 // half of all directions
		}
		geomtest.Within(t, "power", mean, 1+math.Sin(2*kh)/(2*kh), 1e-4)
	}
}

// boundaryRoom is a hall that swallows all but what the screen wall, wall 4, reflects,
// with a loudspeaker that sends the same all round before it.
func boundaryRoom(h float64) *project.Design {
	d := hall(1, 1, 1)
	all := func(a float64) []float64 { return []float64{a, a, a, a, a, a, a, a} }
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "open", Name: "open", Absorption: all(1)}, project.Material{ID: "stone", Name: "stone", Absorption: all(0)})
	d.Room.Surfaces = project.Surfaces{Floor: "open", Ceiling: "open", Walls: "open", Wall: []project.WallSurface{{Wall: 4, Material: "stone"}}}
	m := &d.Models[0]
	m.CoverageH, m.CoverageV = 360, 360
	m.Drivers = []project.Driver{{Band: project.Full, Diameter: 0.1}}
	d.Speakers[0].At = project.Point{X: unit.Length(h), Y: hallWidth / 2, Z: 1.2}
	return d
}

// The room as a whole gives the closed form: at a quarter wavelength the image, weaker by
// its longer way, takes away 1 - d/(d + 2h).
func TestTheScreenWallBehindCancelsAtAQuarterWave(t *testing.T) {
	const h = 0.72
	d := boundaryRoom(h)
	all, err := Boundaries(context.Background(), d, nil)
	if err != nil || len(all) != 1 {
		t.Fatal(err, len(all))
	}
	n := &all[0]
	if !n.Dip.Matters() {
		t.Fatalf("%+v", n.Dip)
	}
	b := n.Bounces[n.Dip.Bounce]
	if b.Words != d.Room.WallName(4) || !b.Behind {
		t.Errorf("%+v", b)
	}
	geomtest.Within(t, "distance", b.Distance, h, 1e-9)
	speed := airOf(d.Room.Air).speed
	f := speed / 2 / b.Later
	if math.Abs(math.Log2(n.Dip.Frequency/f)) > 1.0/48 {
		t.Errorf("dip at %.1f Hz, want %.1f Hz", n.Dip.Frequency, f)
	}
	alone := Interference{Bounces: []Bounce{b}}
	image := math.Pow(10, b.gain[1]/20)
	geomtest.Within(t, "what is left", alone.power(f, speed, -1), (1-image)*(1-image), 0.01)
	// On the axis, a quarter wave of 500 Hz and of 100 Hz.
	geomtest.Within(t, "near", b.Near, speed/500/4, 0.01)
	geomtest.Within(t, "far", b.Far, speed/100/4, 0.02)
	if s := n.Sentence(d); !strings.Contains(s, "-9 dB at 119 Hz, screen wall 0.72 m away") {
		t.Error(s)
	}
}

// A loudspeaker in the wall has no image in it.
func TestFlushLoudspeakersHaveNoImageInTheirWall(t *testing.T) {
	d := boundaryRoom(0)
	d.Models[0].Flush = true
	d.Speakers[0].At.Z = 1.2
	all, err := Boundaries(context.Background(), d, nil)
	if err != nil || len(all) != 1 {
		t.Fatal(err, len(all))
	}
	for _, b := range all[0].Bounces {
		if b.Words == d.Room.WallName(4) {
			t.Errorf("an image in the %s at %.3f m", b.Words, b.Distance)
		}
	}
	if all[0].Dip.Matters() {
		t.Errorf("%+v", all[0].Dip)
	}
}

// The distances that bound the band are those at which the image comes half a wavelength
// later.
func TestDistancesFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		along, ear, later := rapid.Float64Range(0, 8).Draw(t, "along"), rapid.Float64Range(0.3, 5).Draw(t, "ear"), rapid.Float64Range(0.05, 1.7).Draw(t, "later")
		h, ok := distanceFor(later, along, ear)
		if !ok {
			if later < 1.9*ear { // at most twice the ear's distance, far away
				t.Errorf("no distance for %g", later)
			}
			return
		}
		if got := math.Hypot(along, h+ear) - math.Hypot(along, h-ear); math.Abs(got-later) > 1e-9 {
			t.Errorf("%g, want %g", got, later)
		}
	})
}

// Levels between octaves lie on a straight line over the logarithm of frequency.
func TestOctavesAt(t *testing.T) {
	level := [project.OctaveCount]float64{0, -1, -3, -4, -5, -6, -7, -8}
	mid := Midbands()
	geomtest.Within(t, "at a middle", octavesAt(&level, mid[2]), -3, 1e-9)
	geomtest.Within(t, "between", octavesAt(&level, math.Sqrt(mid[1]*mid[2])), -2, 1e-9)
	geomtest.Within(t, "below", octavesAt(&level, 20), 0, 0)
	geomtest.Within(t, "above", octavesAt(&level, 20000), -8, 0)
}
