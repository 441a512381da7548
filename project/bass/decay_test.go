// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/bass/modal"
)

// lined is the small demo without anything in it, of 6 x 4.5 x 2.7 m, all surfaces of
// one absorption in all bands, and of those in the thirds.
func lined(t *testing.T, alpha float64, thirds ...project.ThirdAbsorption) *project.Design {
	t.Helper()
	d := demo(t, "small").Clone()
	d.Room.Footprint = []project.Corner{{}, {X: 6}, {X: 6, Y: 4.5}, {Y: 4.5}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 2.7}
	d.Room.Features, d.Room.Treatments = nil, nil
	m := project.Material{ID: "all", Name: "all", Bass: thirds}
	for range project.OctaveCount {
		m.Absorption = append(m.Absorption, alpha)
	}
	d.Room.Materials = append(d.Room.Materials, m)
	d.Room.Surfaces = project.Surfaces{Floor: "all", Ceiling: "all", Walls: "all", Platforms: "all"}
	for i := range d.Seating.Rows {
		r := &d.Seating.Rows[i]
		r.Riser, r.Front, r.Back, r.Steps = 0, 0, 0, nil
	}
	return d
}

// From an examination of this room by hand: with 0.10 all round axial modes ring 1.5 s,
// tangential ones 1.2 s, where Sabine's formula says 1.0 s.
func TestAxialModesRingLongestThenTangentialThenOblique(t *testing.T) {
	p := plan(t, lined(t, 0.10), Shown())
	var sum, n [4]float64
	for _, m := range p.ModeTimes() {
		sum[m.Kind()] += m.Time
		n[m.Kind()]++
		geomtest.Within(t, "Q", m.Quality(), m.Frequency*m.Time/2.1988, 1e-3*m.Quality()) // 3 ln 10/pi
	}
	axial, tangential, oblique := sum[modal.Axial]/n[modal.Axial], sum[modal.Tangential]/n[modal.Tangential], sum[modal.Oblique]/n[modal.Oblique]
	t.Logf("%.2f %.2f %.2f s", axial, tangential, oblique)
	geomtest.Within(t, "axial, s", axial, 1.5, 0.05)
	geomtest.Within(t, "tangential, s", tangential, 1.2, 0.05)
	if oblique >= tangential {
		t.Errorf("oblique modes ring %.2f s", oblique)
	}
}

func TestAMaterialsThirdsMakeTheModesInThemRingShorter(t *testing.T) {
	plain := thirdTimes(plan(t, lined(t, 0.10), Shown()).ModeTimes())
	trap := thirdTimes(plan(t, lined(t, 0.10, project.ThirdAbsorption{Hz: 40, Absorption: 0.1}, project.ThirdAbsorption{Hz: 50, Absorption: 0.1},
		project.ThirdAbsorption{Hz: 63, Absorption: 0.4}, project.ThirdAbsorption{Hz: 80, Absorption: 0.1}), Shown()).ModeTimes())
	for i, f := range project.BassThirds() {
		switch {
		case f == 63 && !(trap[i] < 0.6*plain[i]), (f < 40 || f > 80) && trap[i] != plain[i]:
			t.Errorf("%g Hz: %.3f s, without the trap %.3f s", f, trap[i], plain[i])
		}
	}
}

func TestMeasuredTimesAreWhatTheModesRing(t *testing.T) {
	d := lined(t, 0.10)
	want := map[float64]float64{31.5: 1.1, 40: 0.9, 63: 0.5, 100: 0.45, 200: 0.3}
	for _, f := range project.BassThirds() {
		if s, ok := want[f]; ok {
			d.Measured.Decay = append(d.Measured.Decay, project.ThirdTime{Hz: f, Time: s})
		}
	}
	p := plan(t, d, Shown())
	var store Store
	got, err := store.Decay(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, third := range got.Thirds {
		if s, ok := want[third.Hz]; ok {
			geomtest.Within(t, "computed", third.Computed, s, 0.02*s)
			geomtest.Within(t, "measured", third.Measured, s, 0)
		} else if third.Measured != 0 {
			t.Errorf("%g Hz: measured %g s", third.Hz, third.Measured)
		}
	}
	// Between 40 and 63 Hz the scale lies between theirs.
	if a, b, c := p.modes[4], p.modes[5], p.modes[6]; !(a < b && b < c) {
		t.Errorf("scales %.2f, %.2f, %.2f", a, b, c)
	}
	// What was measured holds whatever the tables say.
	for _, share := range []float64{0.5, 2} {
		for i, s := range thirdTimes(p.Absorbing(share).ModeTimes()) {
			geomtest.Within(t, "with another share", s, got.Thirds[i].Computed, 0.02*s)
		}
	}
}

// Modes of known decay, as they are heard, are read as they ring.
func TestThirdsReadTheDecayThatIsThere(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var at []float64 // spread evenly they would sound in step, as echoes
	for range 200 {
		at = append(at, 12+230*r.Float64())
	}
	for _, want := range []float64{0.3, 0.8, 1.6} {
		h := field.New(1, 100, lines())
		rate := 3 * math.Ln10 / want
		for seat := range h.Receivers {
			row := h.Row(0, seat)
			for _, at := range at {
				wn, loud := 2*math.Pi*at, r.NormFloat64()
				for k, f := range h.Frequencies {
					w := 2 * math.Pi * f
					row[k] += complex(loud*wn, 0) / complex(wn*wn+rate*rate-w*w, 2*rate*w)
				}
			}
		}
		for _, third := range thirdsOf(h) {
			if third.Short || third.Hz < 25 {
				continue
			}
			if math.Abs(third.Computed/want-1) > 0.12 {
				t.Errorf("%g Hz: %.3f s, want %.3f s", third.Hz, third.Computed, want)
			}
		}
	}
}

// The two ways agree on how long the thirds of a box ring: the modes' own times, and
// what is heard at the seats from a corner, where a mode next to the edge of a third is
// heard through its filter too.
func TestBothWaysRingAlike(t *testing.T) {
	p := plan(t, lined(t, 0.12), Shown())
	modes := thirdTimes(p.ModeTimes())
	waves, err := p.rings(context.Background(), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	off, n := 0.0, 0.0
	for i, third := range waves {
		t.Logf("%5g Hz: modes %.2f s, waves %.2f s, short %v", third.Hz, modes[i], third.Computed, third.Short)
		if modes[i] == 0 || third.Short || third.Hz < 31 {
			continue
		}
		if math.Abs(third.Computed/modes[i]-1) > 0.25 {
			t.Errorf("%g Hz: modes %.2f s, waves %.2f s", third.Hz, modes[i], third.Computed)
		}
		off, n = off+math.Log(third.Computed/modes[i]), n+1
	}
	if mean := math.Exp(off / n); n < 8 || math.Abs(mean-1) > 0.08 {
		t.Errorf("waves ring %.3f times as long, as a mean of %g", mean, n)
	}
}

func TestWavesRingAsLongAsWasMeasuredAsAWhole(t *testing.T) {
	d := lined(t, 0.12)
	d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: 3, Y: 0.5}, Length: 0.4, Width: 0.4, Height: 2.7}}
	for _, f := range []float64{50, 63, 80, 100} {
		d.Measured.Decay = append(d.Measured.Decay, project.ThirdTime{Hz: f, Time: 0.5})
	}
	p := plan(t, d, Shown())
	var store Store
	got, err := store.Decay(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	off, n := 0.0, 0.0
	for _, third := range got.Thirds {
		if third.Measured != 0 {
			off, n = off+math.Log(third.Computed/third.Measured), n+1
		}
	}
	if n != 4 || math.Abs(off/n) > 0.06 {
		t.Errorf("computed %.3f of what was measured, as a mean of %g", math.Exp(off/n), n)
	}
	if len(store.scales) != 1 {
		t.Errorf("%d scales kept", len(store.scales))
	}
}

// The range that half and twice the absorption give lies about the response at its
// peaks, and is nothing where the decay was measured.
func TestTheUncertaintyOfAbsorptionClosesWhereDecayWasMeasured(t *testing.T) {
	wide := func(d *project.Design) float64 {
		p := plan(t, d, Shown())
		var store Store
		st, err := store.New(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if st, err = store.Ranged(st); err != nil || st.Halved == nil || st.Doubled == nil {
			t.Fatal("no range", err)
		}
		peak := 0
		for i, l := range st.Halved.Level {
			if l > st.Halved.Level[peak] {
				peak = i
			}
		}
		return st.Halved.Level[peak] - st.Doubled.Level[peak]
	}
	d := lined(t, 0.10)
	open := wide(d)
	for i, f := range project.BassThirds() {
		d.Measured.Decay = append(d.Measured.Decay, project.ThirdTime{Hz: f, Time: 1 - 0.05*float64(i)})
	}
	closed := wide(d)
	t.Logf("%.2f dB, measured %.2f dB", open, closed)
	if open < 6 || open > 12.1 { // four times the loss is 12 dB at the peak of one mode
		t.Errorf("half to twice the absorption is %.2f dB", open)
	}
	if closed > 0.5 {
		t.Errorf("with measured times it is %.2f dB", closed)
	}
}

// At its own frequency a mode falls by 60 dB in its decay time, and the first slice is
// the response.
func TestTheWaterfallFallsAsTheRoomRings(t *testing.T) {
	p := plan(t, lined(t, 0.10), Shown())
	var store Store
	w, err := store.Waterfall(context.Background(), p, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	st, err := store.New(context.Background(), plan(t, lined(t, 0.10), w.Frequencies), nil)
	if err != nil {
		t.Fatal(err)
	}
	peak := 0
	for i, l := range w.Level[0] {
		if l > w.Level[0][peak] {
			peak = i
		}
	}
	for i, f := range w.Frequencies {
		got, want := w.Level[0][i], st.Response.Seat(0)[i]-st.Response.Seat(0)[peak]
		if math.Abs(got-want) > 0.05 {
			t.Errorf("%.1f Hz: %.2f dB, the response has %.2f dB", f, got, want)
		}
	}
	mode := p.ModeTimes()[0]
	for _, m := range p.ModeTimes() {
		if math.Abs(m.Frequency-w.Frequencies[peak]) < math.Abs(mode.Frequency-w.Frequencies[peak]) {
			mode = m
		}
	}
	for k, s := range w.Times[1:] {
		got := w.Level[k+1][peak] - w.Level[0][peak]
		if want := -60 * s / mode.Time; math.Abs(got-want) > 3 {
			t.Errorf("%.1f Hz, %.2f s: %.1f dB, want %.1f dB", w.Frequencies[peak], s, got, want)
		}
	}
}
