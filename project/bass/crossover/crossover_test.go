// SPDX-License-Identifier: MIT

package crossover_test

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/crossover"
)

// sum returns low-pass and high-pass together, one inverted where the slope asks for it.
func sum(p crossover.Pair, f, corner float64) complex128 {
	high := p.High.Response(f, corner)
	if p.Opposed {
		high = -high
	}
	return p.Low.Response(f, corner) + high
}

// Linkwitz-Riley filters add up to an all-pass (Linkwitz 1976, from memory), and so do
// Butterworth filters of first and third order.
func TestTheSumIsFlat(t *testing.T) {
	flat := []project.CrossoverSlope{project.LinkwitzRiley2, project.LinkwitzRiley4, project.LinkwitzRiley8, project.Butterworth1, project.Butterworth3}
	rapid.Check(t, func(t *rapid.T) {
		slope := rapid.SampledFrom(flat).Draw(t, "slope")
		f, corner := rapid.Float64Range(5, 5000).Draw(t, "f"), rapid.Float64Range(20, 300).Draw(t, "corner")
		if got := cmplx.Abs(sum(crossover.Of(slope), f, corner)); math.Abs(got-1) > 1e-9 {
			t.Errorf("%s: %.12f at %g Hz, corner %g Hz", slope, got, f, corner)
		}
	})
}

// At the corner Linkwitz-Riley filters are 6.02 dB down, Butterworth ones 3.01 dB; far
// from it they fall by 6.02 dB an octave and order.
func TestCornersAndSlopes(t *testing.T) {
	for _, c := range []struct {
		slope  project.CrossoverSlope
		corner float64 // dB
		order  float64
	}{
		{project.Butterworth1, -3.0103, 1}, {project.Butterworth2, -3.0103, 2}, {project.Butterworth3, -3.0103, 3}, {project.Butterworth4, -3.0103, 4},
		{project.LinkwitzRiley2, -6.0206, 2}, {project.LinkwitzRiley4, -6.0206, 4}, {project.LinkwitzRiley8, -6.0206, 8},
	} {
		p := crossover.Of(c.slope)
		geomtest.Within(t, string(c.slope)+" low-pass at the corner", p.Low.Level(80, 80), c.corner, 1e-4)
		geomtest.Within(t, string(c.slope)+" high-pass at the corner", p.High.Level(80, 80), c.corner, 1e-4)
		octave := -20 * math.Log10(2) * c.order
		geomtest.Within(t, string(c.slope)+" low-pass far above", p.Low.Level(16000, 80)-p.Low.Level(8000, 80), octave, 1e-2)
		geomtest.Within(t, string(c.slope)+" high-pass far below", p.High.Level(0.4, 80)-p.High.Level(0.8, 80), octave, 1e-2)
	}
}

// A sealed main that has fallen by 3 dB at the crossover is the other half of a
// fourth-order Linkwitz-Riley high-pass.
func TestSealedMainsAreHalfOfTheFilter(t *testing.T) {
	p, whole := crossover.Of(project.SealedMains), crossover.Of(project.LinkwitzRiley4)
	own := crossover.Filter{Order: 2, Passes: crossover.Above}
	for _, f := range []float64{20, 60, 80, 100, 300} {
		if d := cmplx.Abs(p.High.Response(f, 80)*own.Response(f, 80) - whole.High.Response(f, 80)); d > 1e-12 {
			t.Errorf("%g Hz: off by %g", f, d)
		}
		if p.Low.Response(f, 80) != whole.Low.Response(f, 80) {
			t.Error("the low-pass is not of fourth order")
		}
	}
}

// The delay at low frequencies of a Butterworth low-pass of second order is
// sqrt 2/(2 pi corner): sqrt 2 is the coefficient of s in its polynomial. Phase falls,
// so time runs as exp(j 2 pi f t).
func TestLowPassDelays(t *testing.T) {
	p := crossover.Filter{Order: 2}
	f := 0.01
	geomtest.Within(t, "delay", -cmplx.Phase(p.Response(f, 80))/(2*math.Pi*f), math.Sqrt2/(2*math.Pi*80), 1e-8)
}

func TestNoCornerLetsAllPass(t *testing.T) {
	if crossover.Of("").Low.Response(50, 0) != 1 || (crossover.Filter{}).Response(50, 80) != 1 {
		t.Error("something is taken away")
	}
	if crossover.Of("") != crossover.Of(project.LinkwitzRiley4) {
		t.Error("the usual slope is not fourth-order Linkwitz-Riley")
	}
}
