// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"reflect"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/bass/modal"
)

func db(p complex128) float64 { return 20 * math.Log10(cmplx.Abs(p)) }

// Closed forms of Butterworth's filters: |H|^2 = 1/(1 + (f0/f)^2n), -3.01 dB at
// f0 of any order, 12 and 24 dB per octave far below; a fourth-order
// Linkwitz-Riley filter is Butterworth's second order twice, -6.02 dB at f0.
func TestResponses(t *testing.T) {
	for e, order := range map[project.Enclosure]int{project.Sealed: 2, project.Ported: 4} {
		s := Sub{Enclosure: e, Corner: 25}
		geomtest.Within(t, "corner, dB", db(s.Response(25)), -3.0103, 1e-4)
		geomtest.Within(t, "fall per octave, dB", db(s.Response(0.5))-db(s.Response(0.25)), 6.0206*float64(order), 1e-3)
		for _, f := range []float64{5, 12, 20, 25, 40, 100, 400} {
			want := -10 * math.Log10(1+math.Pow(25/f, float64(2*order)))
			geomtest.Within(t, fmt.Sprint("order ", order, " at ", f), db(s.Response(f)), want, 1e-9)
		}
		// Far above, in phase; at the corner the phase is a quarter turn per order of
		// two ahead.
		geomtest.Within(t, "phase at the corner, degrees", math.Abs(cmplx.Phase(s.Response(25))*180/math.Pi), float64(order)*45, 1e-6)
	}
	d := Drive{LowPass: 80}
	geomtest.Within(t, "low-pass at its corner, dB", db(d.Response(80)), -6.0206, 1e-4)
	geomtest.Within(t, "low-pass, fall per octave, dB", db(d.Response(4000))-db(d.Response(8000)), 24.0824, 1e-3)
	// A low-pass turns the phase back, by half a turn at its corner.
	if p := cmplx.Phase(d.Response(60)); !(p < 0) {
		t.Errorf("phase of the low-pass below its corner: %v, want behind", p)
	}
	d = Drive{Gain: -6, Delay: 0.005, Inverted: true}
	want := -cmplx.Rect(math.Pow(10, -0.3), -2*math.Pi*40*0.005)
	if got := d.Response(40); cmplx.Abs(got-want) > 1e-12 {
		t.Errorf("gain, delay and polarity: got %v, want %v", got, want)
	}
	if got := (Sub{}).Response(20); got != 1 {
		t.Errorf("ideal: got %v, want 1", got)
	}
}

// levels makes a transfer of one source with the given levels, [seat][frequency].
func levels(l [][]float64) *field.Transfer {
	f := make([]float64, len(l[0]))
	for i := range f {
		f[i] = 20 + 10*float64(i)
	}
	t := field.New(1, len(l), f)
	for r := range l {
		for i, v := range l[r] {
			t.Row(0, r)[i] = cmplx.Rect(math.Pow(10, v/20), float64(r+2*i))
		}
	}
	return t
}

// Welti and Devantier, JAES 54 (2006) 347: the mean over frequency of the
// variance over seats (population variance). The numbers are closed forms.
func TestMeanSpatialVariance(t *testing.T) {
	for _, tc := range []struct {
		name                string
		l                   [][]float64
		msv, output, spread float64
		widest              float64
	}{
		{"2 seats x 2 frequencies", [][]float64{{80, 84}, {84, 84}}, 2, 83, 2, 4},
		{"3 seats x 2 frequencies", [][]float64{{80, 84}, {82, 78}, {84, 81}}, 4.3333, 81.5, 5, 6},
		{"alike", [][]float64{{80, 70}, {80, 70}}, 0, 75, 0, 0},
	} {
		r, err := Combine(levels(tc.l), []Sub{{}})
		if err != nil {
			t.Fatal(err)
		}
		f := r.Figures()
		geomtest.Within(t, tc.name+": variance", f.MeanSpatialVariance, tc.msv, 1e-4)
		geomtest.Within(t, tc.name+": seat to seat", f.SeatToSeat, math.Sqrt(tc.msv), 1e-4)
		geomtest.Within(t, tc.name+": output", f.Output, tc.output, 1e-9)
		geomtest.Within(t, tc.name+": spread", f.Spread, tc.spread, 1e-9)
		geomtest.Within(t, tc.name+": widest", f.WidestSpread, tc.widest, 1e-9)
	}
}

// cinema is a room of 110 m3 with subwoofers in the corners and rows of seats.
func cinema(t testing.TB, subs []geometry.Vec, seats int, f []float64) *field.Transfer {
	t.Helper()
	var ears []geometry.Vec
	for i := range seats {
		ears = append(ears, geometry.V(2.9+0.95*float64(i/6)+0.02*float64(i%6), 0.85+0.66*float64(i%6), 1.1+0.15*float64(i/6)))
	}
	sum, err := modal.New(modal.Room{Length: 8, Width: 5, Height: 2.75}, modal.Uniform(0.45), ears, f)
	if err != nil {
		t.Fatal(err)
	}
	out, err := sum.Transfer(subs)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var corners = []geometry.Vec{{X: 0.3, Y: 0.3, Z: 0.3}, {X: 0.3, Y: 4.2, Z: 0.3}, {X: 7.7, Y: 0.4, Z: 0.3}, {X: 6.9, Y: 4.7, Z: 0.3}}

// Two equal subwoofers in one place are 6.02 dB louder than one; opposed ones are
// silent; sensitivity and gain add up; and turning the order round changes
// nothing.
func TestCombine(t *testing.T) {
	f := Octaves(20, 120, 12)
	two := cinema(t, []geometry.Vec{corners[0], corners[0]}, 6, f)
	one := cinema(t, corners[:1], 6, f)
	a, _ := Combine(one, []Sub{{Enclosure: project.Ported, Corner: 22}})
	b, _ := Combine(two, []Sub{{Enclosure: project.Ported, Corner: 22}, {Enclosure: project.Ported, Corner: 22}})
	c, _ := Combine(two, []Sub{{}, {Drive: Drive{Inverted: true}}})
	d, _ := Combine(one, []Sub{{Enclosure: project.Ported, Corner: 22, Sensitivity: 94, Drive: Drive{Gain: -3, Delay: 0.01}}})
	for i := range a.Level {
		geomtest.Within(t, "two, dB", b.Level[i]-a.Level[i], 6.0206, 1e-4)
		geomtest.Within(t, "sensitivity and gain, dB", d.Level[i]-a.Level[i], 91, 1e-9)
		if c.Level[i] > -190 {
			t.Fatalf("opposed: %v dB", c.Level[i])
		}
	}
	if f := c.Figures(); math.IsNaN(f.MeanSpatialVariance) || math.IsInf(f.Output, 0) {
		t.Errorf("figures of silence: %+v", f)
	}
	if len(a.Remarks) == 0 {
		t.Error("the remarks of the transfer are lost")
	}
}

func TestOctaves(t *testing.T) {
	f := Octaves(20, 160, 24)
	if len(f) != 73 || f[0] != 20 || f[72] != 160 {
		t.Errorf("got %d from %v to %v", len(f), f[0], f[len(f)-1])
	}
	geomtest.Within(t, "third octave", f[48], 80, 1e-9)
	for _, bad := range [][2]float64{{0, 10}, {20, 20}, {30, 20}, {20, math.Inf(1)}, {math.NaN(), 20}} {
		if got := Octaves(bad[0], bad[1], 12); got != nil {
			t.Errorf("%v: got %v", bad, got)
		}
	}
}

// The value is that of the response, and its slopes those of finite differences.
func TestValueAndSlopes(t *testing.T) {
	r := geomtest.Rand(t)
	tr := cinema(t, corners, 12, Octaves(20, 120, 6))
	subs := []Sub{{Enclosure: project.Sealed, Corner: 30}, {Enclosure: project.Ported, Corner: 20, Sensitivity: 2}, {}, {Sensitivity: -3}}
	weights := []float64{3, 2, 1, 1, 1, 1, 2, 1, 1, 1, 1, 1}
	n := newObjective(tr, subs, weights, 0.3)
	n.measure([][]Drive{make([]Drive, 4)}, 3)
	for range 20 {
		d := make([]Drive, len(subs))
		for i := range d {
			d[i] = Drive{Gain: -12 * r.Float64(), Delay: 0.02 * r.Float64(), Inverted: r.IntN(2) == 1}
			subs[i].Drive = d[i]
		}
		grad := make([]float64, 2*len(d))
		v := n.value(d, grad)
		resp, err := Combine(tr, subs)
		if err != nil {
			t.Fatal(err)
		}
		want := resp.Weighed(weights)
		for _, b := range n.thirds {
			energy := 0.0 // mean of the third, over frequencies and seats
			for i := b.from; i < b.to; i++ {
				for seat, w := range shares(weights, 12) {
					energy += w * math.Pow(10, resp.Seat(seat)[i]/10) / float64(b.to-b.from)
				}
			}
			lost := max(0, b.inPhase-10*math.Log10(energy))
			short := max(0, b.floor-10*math.Log10(energy))
			want += 0.3*b.share*lost*lost + hold*short*short
		}
		geomtest.Within(t, "value", v, want, 1e-7*want)
		for k := range grad {
			change := func(by float64) float64 {
				e := slices.Clone(d)
				if k%2 == 0 {
					e[k/2].Gain += by
				} else {
					e[k/2].Delay += by
				}
				return n.value(e, nil)
			}
			h := 1e-5
			if k%2 == 1 {
				h = 1e-8
			}
			want := (change(h) - change(-h)) / (2 * h)
			geomtest.Within(t, fmt.Sprint("slope ", k), grad[k], want, 1e-5*math.Abs(want)+1e-5/h*1e-5)
		}
	}
}

// A case whose best is known: the second subwoofer is exactly what the first
// lacks of an even level, but 5 ms early, upside down and 6 dB too loud.
func TestOptimiseFindsWhatIsMissing(t *testing.T) {
	r := geomtest.Rand(t)
	f := Octaves(20, 120, 12)
	tr := field.New(2, 8, f)
	for seat := range 8 {
		// What is missing turns slowly with frequency, as sound in a room does.
		a, late, b, later := 0.2+0.5*r.Float64(), 0.01*r.Float64(), 0.2*r.Float64(), 0.02*r.Float64()
		for i, hz := range f {
			x := cmplx.Rect(a, -2*math.Pi*hz*late) + cmplx.Rect(b, -2*math.Pi*hz*later)
			tr.Row(0, seat)[i] = 1 - x
			tr.Row(1, seat)[i] = -x * cmplx.Rect(math.Pow(10, 6.0/20), 2*math.Pi*hz*0.005)
		}
	}
	got, err := Optimise(context.Background(), tr, []Sub{{}, {}}, Limits{Price: -1, GiveUp: -1})
	if err != nil {
		t.Fatal(err)
	}
	d := got.Subs
	if !d[1].Inverted || d[0].Inverted {
		t.Errorf("polarities: %+v", d)
	}
	geomtest.Within(t, "gain, dB", d[1].Gain-d[0].Gain, -6, 1e-9)
	geomtest.Within(t, "delay, ms", 1000*(d[1].Delay-d[0].Delay), 5, 1e-9)
	geomtest.Within(t, "variance", got.After.MeanSpatialVariance, 0, 1e-9)
	if got.Before.MeanSpatialVariance < 1 {
		t.Errorf("it was even before: %v", got.Before)
	}
}

// Never worse than what is given; on the steps and within the limits; the same
// each time; what is kept is kept.
func TestOptimise(t *testing.T) {
	tr := cinema(t, corners, 12, Octaves(20, 120, 12))
	subs := []Sub{{Enclosure: project.Sealed, Corner: 28}, {Enclosure: project.Sealed, Corner: 28}, {Enclosure: project.Ported, Corner: 22}, {Enclosure: project.Ported, Corner: 22}}
	last := 0.0
	l := Limits{GainStep: 0.5, DelayStep: 0.0001, Progress: func(s float64) {
		if s < last || s > 1 {
			t.Errorf("progress went from %v to %v", last, s)
		}
		last = s
	}}
	got, err := Optimise(context.Background(), tr, subs, l)
	if err != nil {
		t.Fatal(err)
	}
	if last != 1 {
		t.Errorf("progress ended at %v", last)
	}
	t.Logf("seat to seat %.2f -> %.2f dB, output %.1f -> %.1f dB, value %.2f -> %.2f, %d starts", got.Before.SeatToSeat, got.After.SeatToSeat,
		got.Before.Output, got.After.Output, got.ValueBefore, got.ValueAfter, got.Starts)
	if !(got.ValueAfter < 0.8*got.ValueBefore) {
		t.Errorf("value %v, was %v: nothing gained", got.ValueAfter, got.ValueBefore)
	}
	for i, s := range got.Subs {
		onStep := func(x, step float64) bool { return math.Abs(x/step-math.Round(x/step)) < 1e-6 }
		if s.Gain < -12 || s.Gain > 0 || s.Delay < 0 || s.Delay > 0.020 || !onStep(s.Gain, 0.5) || !onStep(s.Delay, 0.0001) {
			t.Errorf("subwoofer %d: %+v", i+1, s.Drive)
		}
		if s.Enclosure != subs[i].Enclosure || s.Corner != subs[i].Corner {
			t.Errorf("subwoofer %d is another: %+v", i+1, s)
		}
	}
	r, _ := Combine(tr, got.Subs)
	if r.Figures() != got.After {
		t.Errorf("figures %+v are not those of the response %+v", got.After, r.Figures())
	}

	again, _ := Optimise(context.Background(), tr, subs, Limits{})
	if !reflect.DeepEqual(again.Subs, got.Subs) {
		t.Errorf("another time: %+v, was %+v", again.Subs, got.Subs)
	}

	// From what it found nothing gets worse, and from odd drives neither.
	for _, given := range [][]Sub{got.Subs, {{Drive: Drive{Gain: 3.3}}, {Drive: Drive{Delay: 0.0333}}, {Drive: Drive{Gain: -20}}, {}}} {
		o, err := Optimise(context.Background(), tr, given, Limits{Starts: 1})
		if err != nil {
			t.Fatal(err)
		}
		if (worth{o.ShortBefore, o.ValueBefore}).beats(o.worth()) {
			t.Errorf("from %+v: value %v, was %v", given, o.ValueAfter, o.ValueBefore)
		}
	}

	kept := []Sub{{Drive: Drive{Gain: -1.23}}, {Drive: Drive{Gain: -4.56, Delay: 0.00123}}, {}, {}}
	o, err := Optimise(context.Background(), tr, kept, Limits{KeepGain: true, KeepPolarity: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range o.Subs {
		if s.Gain != kept[i].Gain || s.Inverted {
			t.Errorf("subwoofer %d: %+v, gain and polarity were to be kept", i+1, s.Drive)
		}
	}
}

// One subwoofer alone can be made no better: it stays as it is. And what the
// design keeps of a drive reads as whole steps.
func TestNothingToOptimise(t *testing.T) {
	tr := cinema(t, corners[:1], 6, Octaves(20, 120, 12))
	got, err := Optimise(context.Background(), tr, []Sub{{Corner: 25}}, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Subs[0], Sub{Corner: 25}) {
		t.Errorf("got %+v", got.Subs[0])
	}
	if got := (Drive{Gain: -0.30000000000000004, Delay: 18 * 0.0001, Inverted: true}).Tuning(); got != (project.Tuning{Gain: -0.3, Delay: 1.8, Inverted: true}) {
		t.Errorf("got %+v", got)
	}
}

func TestOptimiseCancelled(t *testing.T) {
	tr := cinema(t, corners, 12, Octaves(20, 120, 12))
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Optimise(ctx, tr, make([]Sub, 4), Limits{Progress: func(float64) { cancel() }})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
	ctx, cancel = context.WithCancel(context.Background())
	cancel()
	if _, err := Place(ctx, tr, 2, Sub{}, Search{}); !errors.Is(err, context.Canceled) {
		t.Errorf("place: got %v, want %v", err, context.Canceled)
	}
}

// Every set of places, judged one by one through Combine.
func TestPlaceAgainstAllSets(t *testing.T) {
	spots, err := Spots([]Zone{{Hi: geometry.Vec2{X: 0.3, Y: 5}, Height: 0.3}, {Lo: geometry.Vec2{X: 7.5, Y: 0.5}, Hi: geometry.Vec2{X: 7.5, Y: 4.5}, Height: 0.3}}, 1.3)
	if err != nil {
		t.Fatal(err)
	}
	tr := cinema(t, spots, 6, Octaves(20, 100, 6))
	sub := Sub{Enclosure: project.Sealed, Corner: 25, Drive: Drive{Gain: -2}}
	for _, n := range []int{1, 2, 3} {
		var want []Set
		var walk func(chosen []int)
		walk = func(chosen []int) {
			if len(chosen) == n {
				some := field.New(n, tr.Receivers, tr.Frequencies)
				for k, p := range chosen {
					copy(some.Source(k), tr.Source(p))
				}
				r, err := Combine(some, slices.Repeat([]Sub{sub}, n))
				if err != nil {
					t.Fatal(err)
				}
				want = append(want, Set{Places: slices.Clone(chosen), Figures: r.Figures()})
				return
			}
			from := 0
			if len(chosen) > 0 {
				from = chosen[len(chosen)-1] + 1
			}
			for p := from; p < len(spots); p++ {
				walk(append(slices.Clone(chosen), p))
			}
		}
		walk(nil)
		slices.SortStableFunc(want, func(a, b Set) int {
			if a.Figures.MeanSpatialVariance < b.Figures.MeanSpatialVariance {
				return -1
			}
			return 1
		})
		got, err := Place(context.Background(), tr, n, sub, Search{Price: -1, Keep: 4})
		if err != nil {
			t.Fatal(err)
		}
		if !got.Proven || len(got.Best) != 4 {
			t.Fatalf("%d places: proven %v, %d sets", n, got.Proven, len(got.Best))
		}
		for i, s := range got.Best {
			geomtest.Within(t, fmt.Sprintf("%d places, set %d, variance", n, i+1), s.Figures.MeanSpatialVariance, want[i].Figures.MeanSpatialVariance, 1e-9)
			geomtest.Within(t, "value", s.Value, s.Figures.MeanSpatialVariance, 1e-9)
		}
		// Exchanges cannot beat it, and say that they prove nothing.
		quick, err := Place(context.Background(), tr, n, sub, Search{Price: -1, MostSets: 1})
		if err != nil {
			t.Fatal(err)
		}
		if quick.Proven || quick.Best[0].Value < got.Best[0].Value-1e-9 {
			t.Errorf("%d places: exchanges found %v (proven %v), all sets %v", n, quick.Best[0].Value, quick.Proven, got.Best[0].Value)
		}
		again, _ := Place(context.Background(), tr, n, sub, Search{Price: -1, Keep: 4})
		if !reflect.DeepEqual(again, got) {
			t.Errorf("%d places: another time it differs", n)
		}
	}
}

// Four subwoofers in the middles of the walls are heard more alike over the
// middle of a room than one in a corner (Welti, AES 112 (2002), from memory;
// common practice).
func TestFourBeatOne(t *testing.T) {
	f := Octaves(20, 80, 12)
	four := cinema(t, []geometry.Vec{{X: 0, Y: 2.5, Z: 0.3}, {X: 8, Y: 2.5, Z: 0.3}, {X: 4, Y: 0, Z: 0.3}, {X: 4, Y: 5, Z: 0.3}}, 18, f)
	one := cinema(t, []geometry.Vec{{X: 0, Y: 0, Z: 0.3}}, 18, f)
	a, _ := Combine(four, make([]Sub, 4))
	b, _ := Combine(one, make([]Sub, 1))
	if v, w := a.Figures().MeanSpatialVariance, b.Figures().MeanSpatialVariance; !(v < w) {
		t.Errorf("variance of four %v, of one %v", v, w)
	}
}

func TestSpots(t *testing.T) {
	spots, err := Spots([]Zone{{Hi: geometry.Vec2{X: 1, Y: 0.9}, Height: 0.2}, {Lo: geometry.Vec2{X: 1}, Hi: geometry.Vec2{X: 1, Y: 0.9}, Height: 0.2}}, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	if len(spots) != 9 || spots[0] != geometry.V(0, 0, 0.2) || spots[8] != geometry.V(1, 0.9, 0.2) {
		t.Errorf("got %v", spots)
	}
}

func TestBadInput(t *testing.T) {
	tr := cinema(t, corners[:2], 2, []float64{30, 60})
	two := []Sub{{}, {}}
	with := func(s Sub) []Sub { return []Sub{{}, s} }
	ctx := context.Background()
	combine := func(s []Sub) func() error { return func() error { _, err := Combine(tr, s); return err } }
	optimise := func(l Limits) func() error {
		return func() error { _, err := Optimise(ctx, tr, two, l); return err }
	}
	for name, tc := range map[string]struct {
		do      func() error
		problem string
	}{
		"too few":          {combine(two[:1]), "subwoofers"},
		"no corner":        {combine(with(Sub{Corner: -3})), "subwoofer 2 corner"},
		"odd enclosure":    {combine(with(Sub{Enclosure: "open"})), "subwoofer 2 enclosure"},
		"negative delay":   {combine(with(Sub{Drive: Drive{Delay: -1}})), "subwoofer 2 delay"},
		"not a number":     {combine(with(Sub{Drive: Drive{Gain: math.NaN()}})), "subwoofer 2 gain"},
		"negative corner":  {combine(with(Sub{Drive: Drive{LowPass: -80}})), "subwoofer 2 low-pass"},
		"gains crossed":    {optimise(Limits{LeastGain: 3, GreatestGain: -3}), "gains"},
		"endless delay":    {optimise(Limits{LongestDelay: math.Inf(1)}), "longest delay"},
		"steps":            {optimise(Limits{GainStep: -1}), "gain step"},
		"too many starts":  {optimise(Limits{Starts: 1e6}), "starts"},
		"more than places": {func() error { _, err := Place(ctx, tr, 3, Sub{}, Search{}); return err }, "subwoofers to place"},
		"no spacing":       {func() error { _, err := Spots([]Zone{{}}, 0); return err }, "spacing"},
		"zone inside out": {func() error {
			_, err := Spots([]Zone{{Lo: geometry.Vec2{X: 2}}}, 1)
			return err
		}, "zone 1"},
		"endless zone": {func() error {
			_, err := Spots([]Zone{{Hi: geometry.Vec2{X: 1e9, Y: 1e9}}}, 0.1)
			return err
		}, "zones"},
		"not finite": {func() error {
			bad := field.New(1, 1, []float64{20})
			bad.P[0] = cmplx.Inf()
			_, err := Combine(bad, two[:1])
			return err
		}, "sound of the subwoofers"},
		"nobody": {func() error { _, err := Combine(field.New(1, 0, []float64{20}), two[:1]); return err }, "seats"},
	} {
		err := tc.do()
		if len(project.Faults(err)) == 0 || !strings.Contains(err.Error(), tc.problem) {
			t.Errorf("%s: got %v, want a fault with %q", name, err, tc.problem)
		}
	}
}

func TestLn(t *testing.T) {
	r := geomtest.Rand(t)
	for range 100_000 {
		x := geomtest.Size(r, silence, 1e20)
		if d := ln(x) - math.Log(x); !(math.Abs(d) < 1e-10) {
			t.Fatalf("ln %v: off by %v", x, d)
		}
	}
	for _, x := range []float64{silence, 0.5, math.Sqrt(0.5), 1, math.Sqrt2, 2, 4} {
		geomtest.Within(t, fmt.Sprint("ln ", x), ln(x), math.Log(x), 1e-10)
	}
}

func BenchmarkOptimise(b *testing.B) {
	tr := cinema(b, corners, 24, Octaves(20, 120, 38))
	b.Run(fmt.Sprintf("subs=4,seats=24,frequencies=%d", len(tr.Frequencies)), func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			o, err := Optimise(context.Background(), tr, make([]Sub, 4), Limits{})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(o.ValueAfter, "value")
		}
	})
	n := newObjective(tr, make([]Sub, 4), nil, 0.1)
	drives := make([]Drive, 4)
	grad := make([]float64, 8)
	b.Run("trial", func(b *testing.B) {
		for b.Loop() {
			n.value(drives, nil)
		}
	})
	b.Run("trial_with_slopes", func(b *testing.B) {
		for b.Loop() {
			n.value(drives, grad)
		}
	})
	b.Run("combine", func(b *testing.B) {
		for b.Loop() {
			if _, err := Combine(tr, make([]Sub, 4)); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkPlace(b *testing.B) {
	var zones []Zone
	for _, x := range []float64{0.3, 7.7} {
		zones = append(zones, Zone{Lo: geometry.Vec2{X: x, Y: 0.3}, Hi: geometry.Vec2{X: x, Y: 4.7}, Height: 0.3})
	}
	for _, y := range []float64{0.3, 4.7} {
		zones = append(zones, Zone{Lo: geometry.Vec2{X: 0.3, Y: y}, Hi: geometry.Vec2{X: 7.7, Y: y}, Height: 0.3})
	}
	spots, err := Spots(zones, 0.63)
	if err != nil {
		b.Fatal(err)
	}
	tr := cinema(b, spots, 24, Octaves(20, 120, 12))
	for _, most := range []int{500_000, 1} {
		b.Run(fmt.Sprintf("places=%d,subs=4,seats=24,all=%v", len(spots), most > 1), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p, err := Place(context.Background(), tr, 4, Sub{}, Search{MostSets: most})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(p.Best[0].Value, "value")
			}
		})
	}
}
