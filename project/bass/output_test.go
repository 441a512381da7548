// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/air"
	"earline/project/bass/field"
	"earline/project/bass/wave"
	"earline/project/file"
)

// One litre to either side at 20 Hz in air of 1.2 kg/m3: w = 125.664/s, so p = 1.2 x
// 15791.4 x 1e-3/(4 pi) = 1.50796 Pa peak, 1.06629 Pa rms, 94.5373 dB re 20 uPa (closed
// form, worked by hand). An octave up the same volume gives 12.0412 dB more.
func TestDisplacementLevel(t *testing.T) {
	geomtest.Within(t, "a litre at 20 Hz", DisplacementLevel(1e-3, 20, 1.2), 94.5373, 1e-3)
	geomtest.Within(t, "an octave up", DisplacementLevel(1e-3, 40, 1.2)-DisplacementLevel(1e-3, 20, 1.2), 40*math.Log10(2), 1e-9)
	geomtest.Within(t, "twice the volume", DisplacementLevel(2e-3, 20, 1.2)-DisplacementLevel(1e-3, 20, 1.2), 20*math.Log10(2), 1e-9)
}

// What walls add comes from the room itself: a source on the floor gives at long
// wavelengths 20 lg 2 = 6 dB, one in a corner of three walls 20 lg 8 = 18 dB over the
// free field (image sources; Allison 1974 and Waterhouse 1958, from memory). The other
// walls take all of normal incidence; what they throw back of oblique sound, some 3 % of
// the direct sound, is why it is not exact.
func TestWallsAndCornersAddWhatImagesDo(t *testing.T) {
	const (
		side = 12.0  // m
		f    = 31.25 // Hz: waves of 11 m
	)
	run := func(floor, left, front float64, source, ear geometry.Vec) float64 {
		r := wave.Box(side, side, side, 1)
		r.Walls = make([]float64, len(r.Footprint))
		for i := range r.Footprint {
			a, b := r.Footprint.Edge(i)
			r.Walls[i] = 1
			if a.X == 0 && b.X == 0 {
				r.Walls[i] = front
			}
			if a.Y == 0 && b.Y == 0 {
				r.Walls[i] = left
			}
		}
		r.FloorGives, r.CeilingGives = floor, 1
		tr, err := wave.Run(context.Background(), r, []geometry.Vec{source}, []geometry.Vec{ear}, []float64{f}, wave.Options{LargestCell: 0.5, PointsPerWavelength: 12})
		if err != nil {
			t.Fatal(err)
		}
		// At 1 m in the free field it is 1: make up for the distance.
		return 20 * math.Log10(cmplx.Abs(tr.At(0, 0, 0))*source.Dist(ear))
	}
	mid := side / 2
	free := run(1, 1, 1, geometry.V(mid, mid, mid), geometry.V(mid+2, mid, mid))
	half := run(0, 1, 1, geometry.V(mid, mid, 0), geometry.V(mid+2, mid, 0))
	corner := run(0, 0, 0, geometry.V(0, 0, 0), geometry.V(2, 0, 0))
	geomtest.Within(t, "free field", free, 0, 0.5)
	geomtest.Within(t, "on the floor", half, 20*math.Log10(2), 0.5)
	geomtest.Within(t, "in a corner", corner, 20*math.Log10(8), 0.5)
}

// studied returns a demo with its subwoofers changed by edit, and its study.
func studied(t *testing.T, name string, edit func(d *project.Design)) (*project.Design, *Study) {
	t.Helper()
	d, _ := file.Demo(name)
	if edit != nil {
		edit(d)
	}
	p, err := Of(d, Shown())
	if err != nil {
		t.Fatal(err)
	}
	var s Store
	st, err := s.New(t.Context(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, st
}

func subModels(d *project.Design, edit func(m *project.Model)) {
	for i := range d.Models {
		if d.Models[i].Subwoofer() {
			edit(&d.Models[i])
		}
	}
}

// The peaks of the LFE channel are 115 dB: 85 + 20 + 10 (ISO 21727:2016, Table 2, with
// the levels of ISO 22234, read at second hand; headroom of the lineage of SMPTE ST 202).
// Five other channels at their peaks add up with it to 116.761 dB by energy well below
// the crossover.
func TestWhatMustBePlayed(t *testing.T) {
	pb := project.Playback{}.OrUsual()
	geomtest.Within(t, "LFE alone", must(pb, nil, 40), 115, 1e-9)
	geomtest.Within(t, "with five channels", must(pb, []redirected{{80, 5}}, 1), 116.761, 0.001)
	// At the crossover a fourth-order Linkwitz-Riley filter is 6.02 dB down.
	geomtest.Within(t, "at the crossover", must(pb, []redirected{{80, 5}}, 80), 10*math.Log10(math.Pow(10, 11.5)+5*math.Pow(10, 10.5)/4), 1e-9)
	// A loudspeaker with a crossover of its own counts below that; a Butterworth filter
	// is 3.01 dB down.
	pb.Slope = project.Butterworth4
	geomtest.Within(t, "two crossovers", must(pb, []redirected{{80, 4}, {120, 1}}, 120),
		10*math.Log10(math.Pow(10, 11.5)+math.Pow(10, 10.5)*(0.5+4/(1+math.Pow(1.5, 8)))), 1e-9)
}

// What is printed for 2.83 V, raised by rated power over 1 W in 8 ohm, is what can be
// played when power alone limits it, and the watts needed are those that reach exactly
// what must be played.
func TestOutputByPower(t *testing.T) {
	for _, name := range []string{"small", "two-row"} {
		d, st := studied(t, name, nil)
		o := st.Output(d)
		m, _ := d.Model(d.Speakers[st.Plan.Speakers[0]].Model)
		_, volts := st.Response.Thirds()
		up := 10 * math.Log10(m.Power*m.Load()/(2.83*2.83))
		for seat := range o.Can {
			for n := range o.Thirds {
				geomtest.Within(t, name, o.Can[seat][n], volts[seat][n]+up, 1e-9)
				if o.Moves[seat][n] {
					t.Error("excursion limits what has none")
				}
			}
		}
		geomtest.Within(t, name+": reserve", o.Main.Reserve, 10*math.Log10(o.Rated[0]/o.Needed[0]), 1e-9)
		subModels(d, func(m *project.Model) { m.Power = o.Needed[0] })
		geomtest.Within(t, name+": with just that", st.Output(d).Main.Reserve, 0, 1e-9)
	}
}

// A common gain of all subwoofers changes nothing: the signal rises by as much.
func TestACommonGainChangesNoOutput(t *testing.T) {
	d, st := studied(t, "small", nil)
	e, su := studied(t, "small", func(d *project.Design) {
		for i := range d.Speakers {
			d.Speakers[i].Tuning.Gain -= 7
		}
	})
	a, b := st.Output(d), su.Output(e)
	geomtest.Within(t, "reserve", b.Main.Reserve, a.Main.Reserve, 1e-9)
	geomtest.Within(t, "needed", b.Needed[0], a.Needed[0], 1e-6)
}

// A sealed subwoofer that moves little air is limited low down to the level of its
// displacement, raised by the room as any level is.
func TestExcursionLimitsLowDown(t *testing.T) {
	d, st := studied(t, "small", func(d *project.Design) {
		subModels(d, func(m *project.Model) { m.Enclosure, m.Excursion, m.Power = project.Sealed, 5, 20 })
	})
	o := st.Output(d)
	m, _ := d.Model(d.Speakers[st.Plan.Speakers[0]].Model)
	f := st.Response.Frequencies
	l := limited{model: m, sub: subOf(m), density: air.Density(d.Room.Air.OrUsual().Temperature)}
	if !o.Moves[0][1] || o.Moves[0][len(o.Thirds)-1] {
		t.Errorf("limited by excursion: %v, wanted low down only", o.Moves[0])
	}
	at1m := m.BassSensitivity() + 20*math.Log10(cmplx.Abs(l.sub.Response(f[10]))) + l.byExcursion(f[10])
	geomtest.Within(t, "in the free field", at1m, DisplacementLevel(m.Displacement(), f[10], l.density), 1e-9)
	// More air is more level, until power limits it.
	subModels(d, func(m *project.Model) { m.Excursion = 10 })
	more := st.Output(d)
	geomtest.Within(t, "twice the excursion", more.Can[0][1]-o.Can[0][1], 20*math.Log10(2), 0.01)
}

// A ported cone hardly moves at the tuning and runs free below it.
func TestPortedExcursion(t *testing.T) {
	m := project.Model{Sensitivity: 90, Cutoff: 25, Excursion: 10, Drivers: []project.Driver{{Band: project.Sub, Diameter: 0.3}}}
	at := func(e project.Enclosure, f float64) float64 {
		m.Enclosure = e
		l := limited{model: m, sub: subOf(m), density: 1.2}
		return l.byExcursion(f) + 20*math.Log10(cmplx.Abs(l.sub.Response(f)))
	}
	if gain := at(project.Ported, 25.5) - at(project.Sealed, 25.5); gain < 20 {
		t.Errorf("near the tuning the port helps by %.1f dB only", gain)
	}
	geomtest.Within(t, "an octave below", at(project.Ported, 12.5)-at(project.Sealed, 12.5), -20*math.Log10(3), 1e-9)
}

// A subwoofer in a wall whose sensitivity was measured in a wall is not counted twice:
// in the same place it plays 6 dB less than one of the same figure in the free field.
func TestAFlushSubwooferIsNotCountedTwice(t *testing.T) {
	level := func(s project.Space) float64 {
		d, st := studied(t, "small", func(d *project.Design) { subModels(d, func(m *project.Model) { m.Space = s }) })
		return st.Output(d).Can[0][3]
	}
	geomtest.Within(t, "free field less half space", level(project.FreeField)-level(project.HalfSpace), 20*math.Log10(2), 1e-9)
}

// 115 dB at 4.0 m from 94 dB for 1 W at 1 m take 2014.28 W in the free field (the inverse
// of level = S + 10 lg P - 20 lg r, IEC 60268-5, 7.1 and 20.3), and in a corner of three
// walls, with 18.06 dB more, a 64th of that.
func TestNeededWattsAgainstTheFreeField(t *testing.T) {
	d, _ := file.Demo("small")
	d.Playback = project.Playback{}
	for _, l := range d.Speakers {
		if l.Label == "LFE1" {
			d.Speakers = []project.Loudspeaker{l} // no channel is redirected
		}
	}
	subModels(d, func(m *project.Model) {
		m.Sensitivity, m.Impedance, m.Cutoff, m.Power = 94+10*math.Log10(2.83*2.83/8), 8, 0, 3000
	})
	p, err := Of(d, Shown())
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ images, want float64 }{"free field": {1, 2014.28}, "corner": {8, 2014.28 / 64}} {
		tr := field.New(1, len(p.Seats), p.Frequencies)
		for i := range tr.P {
			f := p.Frequencies[i%len(p.Frequencies)]
			tr.P[i] = cmplx.Rect(c.images/4, -2*math.Pi*f*4/343.2)
		}
		st, err := StudyOf(p, tr, p.Subs)
		if err != nil {
			t.Fatal(err)
		}
		o := st.Output(d)
		geomtest.Within(t, name, o.Needed[0], c.want, 0.01)
		geomtest.Within(t, name+": reserve", o.Main.Reserve, 10*math.Log10(3000/c.want), 1e-4)
	}
}

// Without mains the subwoofers were said to play "those of 0 other channels at once".
func TestNoOtherChannelsAreCountedWhereThereAreNone(t *testing.T) {
	for _, c := range []struct {
		mains int
		want  string
	}{{0, "peaks of the LFE channel, 109 dB."}, {1, "those of the other channel, 99 dB"}, {2, "those of 2 other channels at once"}} {
		d, st := studied(t, "small", func(d *project.Design) {
			n := 0
			d.Speakers = slices.DeleteFunc(d.Speakers, func(l project.Loudspeaker) bool {
				if strings.HasPrefix(l.Label, "LFE") {
					return false
				}
				n++
				return n > c.mains
			})
		})
		if text := strings.Join(st.Output(d).Remarks, "\n"); !strings.Contains(text, c.want) {
			t.Errorf("%d mains:\n%s", c.mains, text)
		}
	}
}
