// SPDX-License-Identifier: MIT

package equalise

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/bass/filter"
)

// spaced returns frequencies from 16 to 160 Hz, 32 to an octave.
func spaced() []float64 {
	var f []float64
	for k := range 107 {
		f = append(f, 16*math.Exp2(float64(k)/32))
	}
	return f
}

// peak returns what a peak does at f, dB.
func peak(t interface{ Fatal(...any) }, f []float64, hz, gain, q float64) []float64 {
	b, err := filter.New(project.Filter{Kind: project.Peak, Frequency: hz, Gain: gain, Q: q}, filter.Rate)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float64, len(f))
	for i, hz := range f {
		out[i] = filter.Level(b.Response(hz, filter.Rate))
	}
	return out
}

func added(all ...[]float64) []float64 {
	sum := make([]float64, len(all[0]))
	for _, a := range all {
		for i, v := range a {
			sum[i] += v
		}
	}
	return sum
}

func level(f []float64, dB float64) []float64 { return slices.Repeat([]float64{dB}, len(f)) }

// What a filter did is undone by the same filter turned round: the answer is known, with
// the target where the response was before.
func TestTwoPeaksAreTakenAwayByTheirOwnCuts(t *testing.T) {
	f := spaced()
	bumps := added(peak(t, f, 32, 8, 4), peak(t, f, 61, 5.5, 3))
	s := newSolver(&Responses{Frequencies: f, Level: [][]float64{bumps}}, Options{From: 20, To: 120, Most: UsualMost})
	copy(s.above, bumps)
	s.solve()
	want := []project.Filter{{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 32, Gain: -8, Q: 4},
		{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 61, Gain: -5.5, Q: 3}}
	if !slices.Equal(s.filters, want) || s.rms() > 1e-9 {
		t.Errorf("%+v, %.3f dB left; want %+v", s.filters, s.rms(), want)
	}
}

// A target that rises to the low end is reached from a flat response by turning down what
// lies above: no boost.
func TestARisingTargetIsReachedByCuts(t *testing.T) {
	f := spaced()
	target := project.Target{Points: []project.TargetPoint{{Frequency: 25, Level: 5}, {Frequency: 100, Level: 0}}}
	got, err := Solve(Responses{Frequencies: f, Level: [][]float64{level(f, 90)}}, Options{Target: target, From: 20, To: 120})
	if err != nil {
		t.Fatal(err)
	}
	// Cuts take the upper half down; the lower half, which would want a boost, stays.
	if got.Boost != 0 || got.RMSAfter > 0.8*got.RMSBefore || got.OverAfter > 0.5 {
		t.Errorf("%+v: %.2f dB rms, was %.2f; %.2f dB over", got.Filters, got.RMSAfter, got.RMSBefore, got.OverAfter)
	}
}

// A null that one seat has and the other has not stays, with its reason; a dip that both
// have is filled as far as boosts are allowed.
func TestANullThatDiffersFromSeatToSeatIsNotFilled(t *testing.T) {
	f := spaced()
	one := added(level(f, 100), peak(t, f, 70, -25, 4))
	r := Responses{Frequencies: f, Level: [][]float64{one, added(level(f, 100), peak(t, f, 70, -6, 4))}}
	got, err := Solve(r, Options{From: 20, To: 120, Boost: 3})
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range got.Level {
		if got.Apart[i] > alike && l > spill+1e-9 {
			t.Errorf("%.1f Hz, where the seats lie %.1f dB apart, is raised %.1f dB", f[i], got.Apart[i], l)
		}
	}
	if len(got.Unfilled) != 1 || got.Unfilled[0].Why != SeatsDiffer || !strings.Contains(got.Unfilled[0].String(), "the seats lie") {
		t.Errorf("left: %v", got.Unfilled)
	}
	both := added(level(f, 100), peak(t, f, 70, -6, 3))
	got, err = Solve(Responses{Frequencies: f, Level: [][]float64{both, both}}, Options{From: 20, To: 120, Boost: 3})
	if err != nil {
		t.Fatal(err)
	}
	if got.Boost < 2.5 || got.Boost > 3+1e-9 || got.RMSAfter > 0.7*got.RMSBefore {
		t.Errorf("a common dip is raised %.1f dB, %.2f dB rms left of %.2f: %+v", got.Boost, got.RMSAfter, got.RMSBefore, got.Filters)
	}
	got, err = Solve(Responses{Frequencies: f, Level: [][]float64{both, both}}, Options{From: 20, To: 120})
	if err != nil {
		t.Fatal(err)
	}
	if got.Boost != 0 || len(got.Unfilled) != 1 || got.Unfilled[0].Why != CutsOnly {
		t.Errorf("cuts only raise %.1f dB and leave %v", got.Boost, got.Unfilled)
	}
}

// Nothing is boosted below where the subwoofers end, nor where no headroom is left.
func TestABoostNeedsReachAndHeadroom(t *testing.T) {
	f := spaced()
	r := Responses{Frequencies: f, Level: [][]float64{added(level(f, 100), peak(t, f, 28, -6, 3))}, Lowest: 40}
	got, err := Solve(r, Options{From: 20, To: 120, Boost: 3})
	if err != nil {
		t.Fatal(err)
	}
	if got.Boost > spill || len(got.Unfilled) != 1 || got.Unfilled[0].Why != SubwoofersEnd {
		t.Errorf("raised %.1f dB, left %v", got.Boost, got.Unfilled)
	}
	r.Lowest, r.Limit, r.Wanted = 0, level(f, 20), level(f, 119.5) // at about 100 dB some 0.5 dB are left
	if got, err = Solve(r, Options{From: 20, To: 120, Boost: 3}); err != nil {
		t.Fatal(err)
	}
	if got.Boost > spill+1e-9 || len(got.Unfilled) != 1 || got.Unfilled[0].Why != NoHeadroom {
		t.Errorf("raised %.1f dB, left %v", got.Boost, got.Unfilled)
	}
}

// drawn are responses of a few seats with peaks and nulls of their own, no two alike.
func drawn(t *rapid.T) Responses {
	r := Responses{Frequencies: spaced()}
	common := level(r.Frequencies, rapid.Float64Range(60, 120).Draw(t, "level"))
	ripple := func(name string, of []float64, gain float64) []float64 {
		for range rapid.IntRange(0, 4).Draw(t, name) {
			of = added(of, peak(t, r.Frequencies, rapid.Float64Range(16, 150).Draw(t, "hz"), rapid.Float64Range(-gain, gain).Draw(t, "gain"), rapid.Float64Range(0.5, 12).Draw(t, "q")))
		}
		return of
	}
	common = ripple("common", common, 12)
	for range rapid.IntRange(1, 5).Draw(t, "seats") {
		r.Level = append(r.Level, ripple("own", common, 9))
		r.Weights = append(r.Weights, rapid.Float64Range(0.5, 3).Draw(t, "weight"))
	}
	if rapid.Bool().Draw(t, "ends") {
		r.Lowest = rapid.Float64Range(16, 60).Draw(t, "lowest")
	}
	return r
}

// The laws of every answer: never worse than without, no boost without leave, whole
// steps, at most so many, each time the same, and the same for a level that is higher
// throughout.
func TestFiltersKeepTheirPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn(t)
		o := Options{From: 20, To: rapid.Float64Range(60, 130).Draw(t, "to"), Most: rapid.IntRange(1, 6).Draw(t, "most"),
			Boost: rapid.SampledFrom([]float64{0, 1.5, 3}).Draw(t, "boost")}
		got, err := Solve(r, o)
		if err != nil {
			t.Fatal(err)
		}
		if got.RMSAfter > got.RMSBefore || len(got.Filters) > o.Most {
			t.Fatalf("%d filters, %.3f dB rms, was %.3f", len(got.Filters), got.RMSAfter, got.RMSBefore)
		}
		if o.Boost == 0 && got.Boost != 0 || got.Boost > max(o.Boost, spill)+1e-9 {
			t.Fatalf("raised %.3f dB at %.1f Hz of %.1f", got.Boost, got.BoostAt, o.Boost)
		}
		for i, l := range got.Level {
			if f := r.Frequencies[i]; l > spill+1e-9 && (got.Apart[i] > alike || f < r.Lowest || f < o.From || f > o.To) {
				t.Fatalf("%.1f Hz is raised %.2f dB", f, l)
			}
		}
		for _, f := range got.Filters {
			for _, v := range []float64{f.Frequency, 2 * f.Gain, 10 * f.Q} {
				if math.Abs(v-math.Round(v)) > 1e-9 {
					t.Fatalf("%+v is on no step", f)
				}
			}
			if f.Gain == 0 || f.Frequency < o.From-1 || f.Frequency > o.To+1 {
				t.Fatalf("%+v does nothing, or is out of the band", f)
			}
		}
		again, err := Solve(r, o)
		if err != nil || !reflect.DeepEqual(got, again) {
			t.Fatalf("another answer the second time: %v", err)
		}
		chain, err := filter.Of(got.Filters)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range r.Frequencies {
			if l := chain.Level(f); math.Abs(l-got.Level[i]) > 1e-6 {
				t.Fatalf("%.1f Hz: the filters do %.6f dB, said to be %.6f", f, l, got.Level[i])
			}
		}
	})
}

// Two rows allowed 3 dB of boost were left 3.0 dB from the target, with cuts only 2.6 dB.
func TestABoostNeverDoesWorseThanCutsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, o := drawn(t), Options{From: 20, To: 80, Most: rapid.IntRange(1, 6).Draw(t, "most")}
		cuts, err := Solve(r, o)
		if err != nil {
			t.Fatal(err)
		}
		o.Boost = GreatestBoost
		both, err := Solve(r, o)
		if err != nil {
			t.Fatal(err)
		}
		if both.RMSAfter > cuts.RMSAfter+1e-9 {
			t.Fatalf("%.4f dB rms with boosts, %.4f with cuts only", both.RMSAfter, cuts.RMSAfter)
		}
	})
}

// What Judge says of the filters that Solve found is what Solve said.
func TestFiltersAreJudgedAsTheyWereFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, o := drawn(t), Options{From: 20, To: 80, Boost: 2}
		found, err := Solve(r, o)
		if err != nil {
			t.Fatal(err)
		}
		judged, err := Judge(r, found.Filters, o)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(judged.RMSAfter-found.RMSAfter) > 1e-9 || !slices.Equal(judged.Filters, found.Filters) || len(judged.Unfilled) != len(found.Unfilled) {
			t.Fatalf("judged %v, found %v", judged, found)
		}
	})
}

// One filter, against every filter on the steps of a processor in turn.
func TestOneFilterIsAboutTheBestOfAll(t *testing.T) {
	f := spaced()
	r := Responses{Frequencies: f, Level: [][]float64{added(level(f, 100), peak(t, f, 36, 9, 5), peak(t, f, 80, 4, 2), peak(t, f, 52, -7, 3))}}
	got, err := Solve(r, Options{From: 20, To: 120, Most: 1})
	if err != nil {
		t.Fatal(err)
	}
	s := newSolver(&r, Options{From: 20, To: 120, Most: 1})
	least := math.Inf(1)
	var best project.Filter
	for hz := 20.0; hz <= 120; hz++ {
		for _, q := range []float64{0.5, 0.7, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 10} {
			for gain := -15.0; gain < 0; gain += 0.5 {
				s.filters = []project.Filter{{Kind: project.Peak, Frequency: hz, Gain: gain, Q: q}}
				s.respond()
				if v := s.rms(); v < least {
					least, best = v, s.filters[0]
				}
			}
		}
	}
	if got.RMSAfter > least+0.01 {
		t.Errorf("%+v leaves %.3f dB, %+v %.3f", got.Filters, got.RMSAfter, best, least)
	}
}

func TestResponsesThatCannotBeUsedAreRefusedInOneLine(t *testing.T) {
	f := spaced()
	fine := Responses{Frequencies: f, Level: [][]float64{level(f, 100)}}
	band := Options{From: 20, To: 80}
	for want, tt := range map[string]struct {
		r Responses
		o Options
	}{
		"responses: 0 seats":        {Responses{Frequencies: f}, band},
		"response 1: 3 levels":      {Responses{Frequencies: f, Level: [][]float64{{1, 2, 3}}}, band},
		"response 1: NaN":           {Responses{Frequencies: f, Level: [][]float64{level(f, math.NaN())}}, band},
		"weights of seats: 2":       {Responses{Frequencies: f, Level: fine.Level, Weights: []float64{1, 1}}, band},
		"weight of a seat: -1":      {Responses{Frequencies: f, Level: fine.Level, Weights: []float64{-1}}, band},
		"limits of the signal: 1 l": {Responses{Frequencies: f, Level: fine.Level, Limit: []float64{1}, Wanted: level(f, 1)}, band},
		"frequencies: 30 Hz at 2":   {Responses{Frequencies: []float64{40, 30}, Level: [][]float64{{1, 2}}}, band},
		"band: 200 to 400 Hz":       {fine, Options{From: 200, To: 400}},
		"band: 80 to 20 Hz":         {fine, Options{From: 80, To: 20}},
		"boost: 6 dB, allowed: 0 (": {fine, Options{From: 20, To: 80, Boost: 6}},
		"filters: 40, allowed: 1 t": {fine, Options{From: 20, To: 80, Most: 40}},
	} {
		if _, err := Solve(tt.r, tt.o); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	var f []float64
	for k := range 320 {
		f = append(f, 16*math.Exp2(float64(k)/96))
	}
	r := Responses{Frequencies: f, Level: [][]float64{added(level(f, 100), peak(b, f, 24, 7, 3), peak(b, f, 33, 9, 6), peak(b, f, 41, -8, 4), peak(b, f, 55, 6, 5), peak(b, f, 71, 8, 4), peak(b, f, 96, 5, 3))}}
	for b.Loop() {
		if _, err := Solve(r, Options{From: 20, To: 120, Boost: 3}); err != nil {
			b.Fatal(err)
		}
	}
}
