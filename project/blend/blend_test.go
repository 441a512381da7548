// SPDX-License-Identifier: MIT

package blend

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass"
	"earline/project/bass/field"
	"earline/project/file"
)

// free returns a study of one main and one subwoofer at one place in the free field, the
// subwoofer's sound later by late seconds and as loud.
func free(late float64, inverted bool) *Study {
	t := field.New(2, 1, bass.Octaves(lowest, highest, perOctave))
	s := &Study{Plan: &bass.Plan{}, Step: 1e-4, Slope: project.LinkwitzRiley4, common: 80, grid: t}
	m := Main{Name: "M+000", Crossover: 80}
	for _, hz := range t.Frequencies {
		m.sound = append(m.sound, 1)
		s.subs = append(s.subs, bass.Drive{Delay: late, Inverted: inverted}.Response(hz))
	}
	s.Mains = []Main{m}
	return s
}

// A main and a subwoofer in one place without a room add up flat through a fourth-order
// Linkwitz-Riley crossover, each 6.02 dB down at the corner (Linkwitz 1976, from
// memory).
func TestOnePlaceAddsUpFlat(t *testing.T) {
	s := free(0, false)
	sum := s.Sum(0, s.AsIs(0))
	for i, l := range sum.Together.Seat(0) {
		geomtest.Within(t, "together", l, 0, 1e-9)
		geomtest.Within(t, "in phase", sum.InPhase.Seat(0)[i], 0, 1e-9)
	}
	f := sum.Figures(0, 80)
	geomtest.Within(t, "level", f.Level, 0, 1e-9)
	geomtest.Within(t, "dip", f.Dip, 0, 1e-9)
	geomtest.Within(t, "uneven", f.Uneven, 0, 1e-9)
}

// A subwoofer that comes half a period of the crossover late cancels the main there: the
// two are as loud and opposed. Solving finds the delay or the polarity that mends it,
// whatever is wrong.
func TestALateSubwooferIsBroughtBack(t *testing.T) {
	s := free(1.0/160, false)
	if f := s.Sum(0, s.AsIs(0)).Figures(0, 80); f.Level > -15 || f.Dip > -15 || math.Abs(math.Log2(f.DipAt/80)) > 0.02 {
		t.Errorf("half a period late: %+v", f)
	}
	rapid.Check(t, func(t *rapid.T) {
		late, inverted := rapid.Float64Range(-0.0125, 0.0125).Draw(t, "late"), rapid.Bool().Draw(t, "inverted")
		s := free(late, inverted)
		before := s.Sum(0, s.AsIs(0)).Figures(0, 80)
		after := s.Sum(0, s.Solve(0, s.AsIs(0))).Figures(0, 80)
		if after.Dip < before.Dip-1e-9 || after.Dip < -1.01 {
			t.Errorf("%.4f s, inverted %v: %.2f dB, was %.2f dB", late, inverted, after.Dip, before.Dip)
		}
	})
}

// Solve is at least as good as trying every delay and polarity one by one, less the
// 1 dB that a change must be worth.
func TestSolveAgainstTryingAll(t *testing.T) {
	s := study(t, "small")
	set := s.AsIs(0)
	got := s.Sum(0, s.Solve(0, set)).Figures(s.Seat, set.Crossover).Dip
	best := math.Inf(-1)
	for k := -125; k <= 125; k++ {
		for _, inverted := range []bool{false, true} {
			try := set
			try.Delay, try.Inverted = float64(k)*s.Step, inverted
			best = max(best, s.Sum(0, try).Figures(s.Seat, set.Crossover).Dip)
		}
	}
	if got < best-1-1e-9 || got > best+1e-9 {
		t.Errorf("dip %.3f dB, trying all %.3f dB", got, best)
	}
}

func design(t *testing.T, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatal("no demo", name)
	}
	bare(d)
	return d
}

// bare makes d a rectangle with nothing solid in it: the sum over modes serves it.
func bare(d *project.Design) {
	d.Room.Finishes.Wall = nil // of walls that a rectangle has not
	lo, hi := d.Room.Polygon().Bounds()
	corner := func(x, y float64) project.Corner { return project.Corner{X: unit.Length(x), Y: unit.Length(y)} }
	d.Room.Footprint = []project.Corner{corner(lo.X, lo.Y), corner(hi.X, lo.Y), corner(hi.X, hi.Y), corner(lo.X, hi.Y)}
	d.Room.Features, d.Room.Surfaces.Wall, d.Room.Treatments = nil, nil, nil
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
}

func study(t *testing.T, name string) *Study {
	t.Helper()
	d := design(t, name)
	var store bass.Store
	s, err := Of(context.Background(), &store, d, Mains(d), nil)
	if err != nil {
		t.Fatal(err)
	}
	if s.Plan.Way() != bass.Modes {
		t.Fatal("not by modes")
	}
	return s
}

// Levels are those that are promised: without filters, both are at 0 dB in their octave
// at the main position.
func TestLevelsAreSet(t *testing.T) {
	s := study(t, "small")
	geomtest.Within(t, "subwoofers", s.band(s.subs, 40), 0, 1e-9)
	for _, m := range s.Mains {
		if m.Reach == 0 {
			geomtest.Within(t, m.Name, s.band(m.sound, 80), 0, 1e-9)
		}
	}
	if last := s.grid.Frequencies[len(s.grid.Frequencies)-1]; last != 300 {
		t.Errorf("to %g Hz", last)
	}
}

// The proposal shifts all subwoofers alike, keeps every delay at 0 or more, and the
// study of what it makes has the figures that were promised.
func TestTheProposalKeepsItsPromise(t *testing.T) {
	d := design(t, "small")
	var store bass.Store
	s, err := Of(context.Background(), &store, d, Mains(d), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range []Setting{
		{Crossover: 80, Slope: s.Slope, Delay: -0.0031, Inverted: true},
		{Crossover: 80, Slope: s.Slope, Delay: 0.0042},
		s.Solve(0, s.AsIs(0)),
	} {
		out := s.Tuned(d, set)
		for _, l := range out.Speakers {
			if l.Tuning.Delay < 0 {
				t.Errorf("%s: delay of %g ms", l.Name(), l.Tuning.Delay)
			}
		}
		again, err := Of(context.Background(), &store, out, Mains(out), nil)
		if err != nil {
			t.Fatal(err)
		}
		promised, kept := s.Sum(0, set).Figures(s.Seat, 80), again.Sum(0, again.AsIs(0)).Figures(s.Seat, 80)
		geomtest.Within(t, "dip", kept.Dip, promised.Dip, 1e-6)
		geomtest.Within(t, "level", kept.Level, promised.Level, 1e-6)
		subs := s.Plan.Speakers
		for _, k := range subs[1:] {
			was := d.Speakers[k].Tuning.Delay - d.Speakers[subs[0]].Tuning.Delay
			geomtest.Within(t, "among the subwoofers", out.Speakers[k].Tuning.Delay-out.Speakers[subs[0]].Tuning.Delay, was, 1e-6)
		}
	}
}

// A crossover below the low end of a main is one line that names the nearest that works.
func TestACrossoverBelowTheMainsIsSaid(t *testing.T) {
	d := design(t, "small")
	k := Mains(d)[0]
	for i := range d.Models {
		if d.Models[i].ID == d.Speakers[k].Model {
			d.Models[i].Cutoff = 93
		}
	}
	d.Speakers[k].Tuning.Crossover = 0
	var store bass.Store
	s, err := Of(context.Background(), &store, d, []int{k}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if lines := s.Reaches(); len(lines) != 1 || !strings.Contains(lines[0], "Nearest that works: 95 Hz") {
		t.Errorf("%q", lines)
	}
	d.Speakers[k].Tuning.Crossover = 100
	if s, err = Of(context.Background(), &store, d, []int{k}, nil); err != nil || len(s.Reaches()) != 0 || s.AsIs(0).Crossover != 100 {
		t.Errorf("%v: %q", err, s.Reaches())
	}
	if o, ok := Flattest(s.Options(0)); !ok || o.Crossover < 93 {
		t.Errorf("the flattest is not reached: %+v", o)
	}
}

func TestWithoutSubwoofersThereIsNoCrossover(t *testing.T) {
	d := design(t, "small")
	var rest []project.Loudspeaker
	for _, l := range d.Speakers {
		if !strings.HasPrefix(l.Label, "LFE") {
			rest = append(rest, l)
		}
	}
	d.Speakers = rest
	var store bass.Store
	if _, err := Of(context.Background(), &store, d, Mains(d), nil); err == nil || !strings.Contains(err.Error(), "no subwoofer") {
		t.Error(err)
	}
}

// The centre comes first: M+000 where there is one, else what is ahead in the middle.
func TestTheCentreComesFirst(t *testing.T) {
	d := design(t, "large")
	if l := d.Speakers[Mains(d)[0]].Label; l != "M+000" {
		t.Errorf("%s", l)
	}
	for i := range d.Speakers {
		if d.Speakers[i].Label == "M+000" {
			d.Speakers[i].Label = "M+SC"
		}
	}
	if l := d.Speakers[Mains(d)[0]].Label; l != "M+SC" {
		t.Errorf("%s", l)
	}
}

func BenchmarkLarge(b *testing.B) {
	d, _ := file.Demo("large")
	bare(d)
	var store bass.Store
	for b.Loop() {
		s, err := Of(context.Background(), &store, d, Mains(d), nil)
		if err != nil || s.Plan.Way() != bass.Modes {
			b.Fatal("not by modes", err)
		}
		s.Solve(0, s.AsIs(0))
		s.Options(0)
	}
}

// Mains with a low end of 400 Hz were told that 400 Hz is the nearest crossover that works;
// a file may not hold one above 300 Hz.
func TestNoCrossoverIsNamedThatCannotBeSet(t *testing.T) {
	d := design(t, "small")
	k := Mains(d)[0]
	for i := range d.Models {
		if d.Models[i].ID == d.Speakers[k].Model {
			d.Models[i].Cutoff = 400
		}
	}
	var store bass.Store
	s, err := Of(context.Background(), &store, d, []int{k}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if lines := s.Reaches(); len(lines) != 1 || strings.Contains(lines[0], "Nearest") || !strings.Contains(lines[0], "300 Hz is the highest") {
		t.Errorf("%q", lines)
	}
}

// Where the subwoofers stay as they are, "as set, with the delay proposed" spoke of a delay
// that nobody proposed.
func TestNoDelayIsSpokenOfWhereNoneIsProposed(t *testing.T) {
	for _, name := range []string{"small", "two-row"} {
		d := design(t, name)
		var store bass.Store
		k := Mains(d)[0]
		s, err := Of(context.Background(), &store, d, []int{k}, nil)
		if err != nil {
			t.Fatal(err)
		}
		a := s.Answer(0)
		if got := strings.Contains(a.Flattest(), "proposed"); got != a.Changes() {
			t.Errorf("%s, changes %v: %s", name, a.Changes(), a.Flattest())
		}
	}
}
