// SPDX-License-Identifier: MIT

package bass_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass"
	"earline/project/file"
)

func planOf(t testing.TB, d *project.Design) *bass.Plan {
	t.Helper()
	p, err := bass.Of(d, bass.Octaves(20, 120, 12))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func demoOf(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// What a store keeps is what would be computed, and only a moved subwoofer is
// computed again.
func TestStoreKeepsWhatDidNotMove(t *testing.T) {
	ctx := context.Background()
	d := demoOf(t, "large")
	var s bass.Store
	p := planOf(t, d)
	first, err := s.New(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if first.Way != bass.Waves {
		t.Fatalf("a room with a notch by %v", first.Way)
	}
	told := 0
	again, err := s.New(ctx, planOf(t, d), func(float64) { told++ })
	if err != nil || told > 0 || !slices.Equal(again.Transfer.P, first.Transfer.P) {
		t.Errorf("kept: %v, progress told %d times", err, told)
	}
	d.Speakers[p.Speakers[1]].At.Y -= 0.5
	var fresh bass.Store
	got, err := s.New(ctx, planOf(t, d), nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := fresh.New(ctx, planOf(t, d), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got.Transfer.P, want.Transfer.P) {
		t.Error("one moved and the others kept differ from all computed")
	}
	if slices.Equal(got.Transfer.Source(1), first.Transfer.Source(1)) {
		t.Error("the moved one sounds as before")
	}
	// Another surface is another room.
	d.Room.Surfaces.Walls = d.Room.Surfaces.Floor
	if other, err := s.New(ctx, planOf(t, d), nil); err != nil || slices.Equal(other.Transfer.Source(0), got.Transfer.Source(0)) {
		t.Errorf("another wall sounds alike (%v)", err)
	}
}

// A coarse study is kept apart from a fine one, and is near it: within 4 dB root
// mean square where no seat lies in a dip.
func TestCoarseIsKeptApart(t *testing.T) {
	d := demoOf(t, "two-row")
	var s bass.Store
	fine, err := s.New(context.Background(), planOf(t, d), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := planOf(t, d)
	p.Coarse = true
	coarse, err := s.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if slices.Equal(coarse.Transfer.P, fine.Transfer.P) {
		t.Fatal("the fine one was given for the coarse one")
	}
	a, b := fine.Response.Mean(), coarse.Response.Mean()
	sum := 0.0
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i]) / float64(len(a))
	}
	if rms := math.Sqrt(sum); rms > 4 {
		t.Errorf("the mean of the seats is %.1f dB off", rms)
	}
}

// A cancelled search ends with the context's error.
func TestSeekIsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	d := demoOf(t, "large")
	var s bass.Store
	if _, err := s.Seek(ctx, d, planOf(t, d), 1, nil); err != context.Canceled {
		t.Error(err)
	}
}

// The places that are found lie in the zones, the subwoofers are turned away from
// the wall behind them, the design is valid, the seats hear more alike than
// before, and progress never goes back.
func TestSeek(t *testing.T) {
	d := demoOf(t, "large")
	var s bass.Store
	p := planOf(t, d)
	before, err := s.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	got, err := s.Seek(context.Background(), d, p, 0.8, func(v float64) {
		if v < last-1e-9 || v > 1+1e-9 {
			t.Errorf("progress %v after %v", v, last)
		}
		last = v
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := got.Design.Validate(); err != nil {
		t.Error(err)
	}
	if got.Study.Figures.MeanSpatialVariance >= before.Figures.MeanSpatialVariance {
		t.Errorf("%.1f dB2 from %.1f", got.Study.Figures.MeanSpatialVariance, before.Figures.MeanSpatialVariance)
	}
	seen := map[project.Point]bool{}
	for _, k := range p.Speakers {
		l := got.Design.Speakers[k]
		if seen[l.At] {
			t.Errorf("two subwoofers at %v", l.At)
		}
		seen[l.At] = true
		in := slices.ContainsFunc(p.Zones, func(z bass.Zone) bool {
			q := l.At.Vec()
			return q.X >= z.Lo.X && q.X <= z.Hi.X && q.Y >= z.Lo.Y && q.Y <= z.Hi.Y && q.Z == z.Height
		})
		if !in {
			t.Errorf("%s at %v is in no zone", l.Name(), l.At)
		}
		// A step along its axis leads away from the walls.
		a := l.Aim.Azimuth.Radians()
		here := geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)}
		there := here.Add(geometry.Vec2{X: -math.Cos(a), Y: -math.Sin(a)}.Mul(0.01))
		if gap := toWall(d, there) - toWall(d, here); math.Abs(gap-0.01) > 1e-6 {
			t.Errorf("%s at %v aims at %v: 1 cm on it is %v m farther from the wall", l.Name(), l.At, l.Aim.Azimuth, gap)
		}
	}
	// Nothing else was moved.
	for k := range d.Speakers {
		if !slices.Contains(p.Speakers, k) && got.Design.Speakers[k] != d.Speakers[k] {
			t.Errorf("%s was changed", d.Speakers[k].Name())
		}
	}
}

func toWall(d *project.Design, p geometry.Vec2) float64 {
	_, foot := d.Room.Polygon().Nearest(p)
	return p.Dist(foot)
}

// No subwoofers, no zones: one line that says so.
// Aligning keeps how the subwoofers were set against the other loudspeakers: their
// mean delay does not fall, and what they share changes no level.
func TestAligningKeepsTheCommonDelay(t *testing.T) {
	d := demoOf(t, "large")
	p := planOf(t, d)
	for _, k := range p.Speakers {
		d.Speakers[k].Tuning.Delay = 12
	}
	p = planOf(t, d)
	subs := slices.Clone(p.Subs)
	for i := range subs {
		subs[i].Delay = 0.0017 * float64(i%2) // as found, from no delay upwards
	}
	out := p.Aligned(d, subs)
	mean := 0.0
	for i, k := range p.Speakers {
		delay, first := out.Speakers[k].Tuning.Delay, out.Speakers[p.Speakers[0]].Tuning.Delay
		mean += delay / float64(len(p.Speakers))
		geomtest.Within(t, "delay against the first", delay-first, 1000*(subs[i].Delay-subs[0].Delay), 1e-6)
	}
	geomtest.Within(t, "mean delay", mean, 12, 1000*p.Limits.DelayStep/2+1e-6)
	// Those that were later than before stay so.
	if again := planOf(t, out).Aligned(out, p.Subs); again.Speakers[p.Speakers[0]].Tuning.Delay < 12 {
		t.Errorf("%+v", again.Speakers[p.Speakers[0]].Tuning)
	}
	var s bass.Store
	st, err := s.New(context.Background(), planOf(t, out), nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := bass.StudyOf(p, st.Transfer, subs)
	if err != nil {
		t.Fatal(err)
	}
	geomtest.Within(t, "seat to seat", st.Figures.SeatToSeat, want.Figures.SeatToSeat, 1e-6)
	geomtest.Within(t, "mean level", st.Figures.Output, want.Figures.Output, 1e-6)
}

func TestNothingToStudy(t *testing.T) {
	d := demoOf(t, "small")
	var s bass.Store
	d.SubZones = nil
	if _, err := s.Seek(context.Background(), d, planOf(t, d), 0.5, nil); err == nil || err.Error() != "sub_zones: none, allowed: one or more rectangles of floor where subwoofers may stand" {
		t.Error(err)
	}
	d.Speakers = d.Speakers[:2]
	if _, err := s.New(context.Background(), planOf(t, d), nil); err == nil || err.Error() != "loudspeakers: no subwoofer, allowed: one labelled LFE1 or LFE2 or more" {
		t.Error(err)
	}
}

// A subwoofer beyond a wall, or in a platform, is named; one built into the wall
// is not.
func TestSubwooferInAWall(t *testing.T) {
	for name, want := range map[string]struct {
		at   geometry.Vec
		says string
	}{
		"flush with the wall": {geometry.V(1, 0, 0.3), ""},
		"beyond the wall":     {geometry.V(0.48, -0.5, 0.25), "loudspeakers[17].at: LFE1 at (0.480, -0.500, 0.250) m, beyond the wall, allowed: a subwoofer that plays into the room"},
		"above the ceiling":   {geometry.V(1, 2, 4), "loudspeakers[17].at: LFE1 at (1.000, 2.000, 4.000) m, above the ceiling, allowed: a subwoofer that plays into the room"},
		"in the platform":     {geometry.V(7.2, 2, 0.3), "loudspeakers[17].at: LFE1 at (7.200, 2.000, 0.300) m, inside a platform, a stage, a column or a soffit, allowed: a subwoofer that plays into the room"},
	} {
		d := demoOf(t, "large")
		p := planOf(t, d)
		d.Speakers[p.Speakers[0]].At = project.PointOf(want.at)
		var s bass.Store
		_, err := s.New(context.Background(), planOf(t, d), nil)
		if err == nil && want.says != "" || err != nil && err.Error() != want.says {
			t.Errorf("%s: said %v, want %q", name, err, want.says)
		}
	}
}

// A part of the band is that part, and a pick of sources those sources.
func TestBandAndPick(t *testing.T) {
	var s bass.Store
	st, err := s.New(context.Background(), planOf(t, demoOf(t, "small")), nil)
	if err != nil {
		t.Fatal(err)
	}
	all := st.Transfer
	b := all.Band(40, 80)
	if f := b.Frequencies; f[0] < 40 || f[len(f)-1] > 80 || len(f) < 12 {
		t.Errorf("from %v to %v Hz, %d", f[0], f[len(f)-1], len(f))
	}
	from := slices.Index(all.Frequencies, b.Frequencies[0])
	if b.At(0, 1, 3) != all.At(0, 1, from+3) {
		t.Error("another value")
	}
	if empty := all.Band(300, 400); len(empty.Frequencies) != 0 {
		t.Error("something beyond the end")
	}
	if p := all.Pick([]int{0, 0}); p.Sources != 2 || p.At(1, 0, 0) != all.At(0, 0, 0) {
		t.Error("a pick of others")
	}
}

// Third octaves: a level that is the same everywhere is that in every band, and
// the middles are those of IEC 61260-1:2014 (base ten; from memory): 10^(n/10).
func TestThirds(t *testing.T) {
	r := &bass.Response{Seats: 1, Frequencies: bass.Shown()}
	for range r.Frequencies {
		r.Level = append(r.Level, 90)
	}
	mids, level := r.Thirds()
	want := []float64{19.953, 25.119, 31.623, 39.811, 50.119, 63.096, 79.433, 100, 125.893}
	if len(mids) != len(want) {
		t.Fatalf("bands %v, want %v", mids, want)
	}
	for i := range want {
		geomtest.Within(t, "middle", mids[i], want[i], 5e-4)
		geomtest.Within(t, "level", level[0][i], 90, 1e-9)
	}
	if mids, _ := (&bass.Response{}).Thirds(); len(mids) != 0 {
		t.Error("bands of nothing")
	}
}

// Aligning, and seeking places once the sound of each is known, in the large demo.
func BenchmarkLarge(b *testing.B) {
	d := demoOf(b, "large")
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		b.Fatal(err)
	}
	var s bass.Store
	st, err := s.New(context.Background(), p, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("align", func(b *testing.B) {
		for b.Loop() {
			_, o, err := st.Align(context.Background(), p.Subs, nil)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(o.ValueAfter, "value")
		}
	})
	seek := func() {
		if _, err := s.Seek(context.Background(), d, p, 0.3, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("seek", func(b *testing.B) {
		seek()
		for b.Loop() {
			seek()
		}
	})
}
