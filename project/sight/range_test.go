// SPDX-License-Identifier: MIT

package sight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
)

var demos = []string{"small", "two-row", "large"}

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// apartRows returns d with every seat of its straight rows a row of its own, so
// that each can recline by itself, and with the main point where it is.
func apartRows(d *project.Design) *project.Design {
	c := d.Clone()
	c.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
	c.Seating.Rows = nil
	for _, r := range d.Seating.Rows {
		for n := range r.Seats {
			one := r
			one.Seats, one.Stagger = 1, r.Stagger+unit.Length(float64(n)-float64(r.Seats-1)/2)*r.Pitch
			c.Seating.Rows = append(c.Seating.Rows, one)
		}
	}
	return c
}

// shuffle seats random people of the range at random reclines.
func shuffle(r *rand.Rand, d *project.Design, o RangeOptions) {
	pick := func(lo, hi float64) float64 { // the ends are where things break
		switch r.IntN(4) {
		case 0:
			return lo
		case 1:
			return hi
		}
		return geomtest.Between(r, lo, hi)
	}
	d.Seating.Sitters.Listener, d.Seating.Sitters.Others = pick(o.Low, o.High), pick(o.Low, o.High)
	for i := range d.Seating.Rows {
		c, _ := d.Chair(d.Seating.Rows[i].Chair)
		d.Seating.Rows[i].Recline = unit.Degrees(pick(float64(c.MinRecline), float64(c.MaxRecline)))
	}
}

// No sitter of the range, in any recline, is worse off than is certified; and
// where the plan holds nobody is blocked. Independent slow way: the plain audit
// of 5000 random companies a demo.
func TestRangeHoldsForEverybodyInIt(t *testing.T) {
	for _, name := range demos {
		t.Run(name, func(t *testing.T) {
			d := demo(t, name)
			res, err := Range(t.Context(), d)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%+v, picture %+v: %s", res.Count, res.PictureCount, res.Words(project.Metric))
			sample := apartRows(d)
			for k := range sample.Models { // the others decide nothing
				m := &sample.Models[k]
				m.Drivers = []project.Driver{m.Drivers[m.Deciding()]}
			}
			r := geomtest.Rand(t)
			for range 5000 {
				shuffle(r, sample, res.Options)
				a := audit(t, sample)
				for n := range res.Pairs {
					p, q := &res.Pairs[n], &a.Pairs[n]
					if !p.Judged {
						continue
					}
					c := q.Deciding().Clearance
					if c < p.Lower || p.Holds && q.Verdict == Blocked {
						i, k := n/len(a.Speakers), n%len(a.Speakers)
						t.Fatalf("seat %s to %s: %+v, but %v with %v for P%v of P%v", res.Seats[i].Name(), a.Speakers[k].Name(),
							*p, q.Verdict, c, sample.Seating.Sitters.Listener, sample.Seating.Sitters.Others)
					}
				}
				for i := range res.Views {
					v, w := &res.Views[i], &a.Views[i]
					if v.Holds && (w.Verdict == Blocked || w.Clearance < v.Lower) {
						t.Fatalf("seat %s: %+v, but sees %v of the picture with %v", res.Seats[i].Name(), *v, w.Visible, w.Clearance)
					}
				}
			}
			for n := range res.Pairs {
				if p := &res.Pairs[n]; p.Judged && p.Holds && p.Upper < p.Lower {
					t.Errorf("pair %d: upper %v below lower %v", n, p.Upper, p.Lower)
				}
			}
		})
	}
}

// Each worst case is one that the plain audit finds blocked, as deep.
func TestRangeWorstIsReal(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		res, err := Range(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		for n := range res.Pairs {
			p := &res.Pairs[n]
			if !p.Judged || p.Holds || !p.Certified || p.Worst.Lowered > 0 {
				continue
			}
			i, k := n/len(res.Speakers), n%len(res.Speakers)
			if p.Worst.LongHead { // the audit has none
				if c := headClearance(d, res, i, k, p.Worst, res.longest(d)); c > p.Upper+1e-9 {
					t.Errorf("%s, seat %s to %s: %s, %v; the head is %v away", name, res.Seats[i].Name(),
						res.Speakers[k].Name(), res.Case(i, p.Worst), p.Upper, c)
				}
				continue
			}
			a := audit(t, caseOf(d, res, i, p.Worst))
			if q := a.Pair(i, k); q.Verdict != Blocked || q.Deciding().Clearance > p.Upper+1e-9 {
				t.Errorf("%s, seat %s to %s: %s, %v; the audit says %v %v", name, res.Seats[i].Name(),
					a.Speakers[k].Name(), res.Case(i, p.Worst), p.Upper, q.Verdict, q.Deciding().Clearance)
			}
			checked++
		}
		for i := range res.Views {
			v := &res.Views[i]
			if !v.Judged || v.Holds || !v.Certified || v.Worst.Lowered > 0 || v.Worst.LongHead {
				continue
			}
			if a := audit(t, caseOf(d, res, i, v.Worst)); a.Views[i].Verdict != Blocked {
				t.Errorf("%s, seat %s: %s; the audit says %v", name, res.Seats[i].Name(), res.Case(i, v.Worst), a.Views[i].Verdict)
			}
			checked++
		}
		t.Logf("%s: %d worst cases", name, checked)
	}
}

// headClearance returns the clearance of the listener of c in seat i from the
// head of the other, on the way to loudspeaker k, were that head so long.
func headClearance(d *project.Design, res *RangeResult, i, k int, c RangeCase, above float64) float64 {
	seat, other := res.Seats[i], res.Seats[i]
	for _, s := range res.Seats {
		if p := &res.Parts[c.Blocker]; s.Row == p.Row && s.Number == p.Seat {
			other = s
		}
	}
	seat.Recline, other.Recline = c.Recline, c.OtherRecline
	b := place.PersonAt(d, c.Listener).In(seat)
	ear := [2]geometry.Vec{b.EarLeft, b.EarRight}[c.Ear]
	head := place.PersonAt(d, c.Other).WithCrown(above).In(other).Head.Solid()
	sp := &res.Speakers[k]
	got, _ := head.Clearance(geometry.Segment{A: ear, B: sp.Drivers[sp.Spec.Deciding()].Center})
	return got
}

// longest returns the longest head of the range from ear to crown, metres, as
// seen on a sitter.
func (r *RangeResult) longest(d *project.Design) float64 {
	small := place.PersonAt(d, r.Options.Low)
	above, ok := place.CrowdBetween(d, r.Options.Low, r.Options.High).LongHead(small)
	if !ok {
		return 0
	}
	s := r.Seats[0]
	s.Recline = 0
	b := small.WithCrown(above).In(s)
	return b.Crown.Z - b.EarLeft.Z
}

// A big head stood 9 mm higher above its ear than any head that the certificate
// knew, and was not found. In the demos nobody who is certified is blocked by a
// head of the range of any length on any trunk.
func TestRangeHoldsForLongHeads(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		res, err := Range(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		r := geomtest.Rand(t)
		longest := res.longest(d)
		pick := func(lo, hi float64) float64 { // the ends are where things break
			return []float64{lo, hi, geomtest.Between(r, lo, hi)}[r.IntN(3)]
		}
		for range 100_000 {
			i, k, n := r.IntN(len(res.Seats)), r.IntN(len(res.Speakers)), r.IntN(len(res.Parts))
			p, part := res.Pair(i, k), &res.Parts[n]
			if part.Kind != place.HeadPart || part.Row == res.Seats[i].Row && part.Seat == res.Seats[i].Number || !p.Holds {
				continue
			}
			mine := res.Seats[i].Leans()
			var its place.Lean
			for _, s := range res.Seats {
				if s.Row == part.Row && s.Number == part.Seat {
					its = s.Leans()
				}
			}
			c := RangeCase{Ear: Side(r.IntN(2)), Listener: pick(5, 95), Recline: pick(mine.From, mine.To),
				Blocker: n, Other: pick(5, 95), OtherRecline: pick(its.From, its.To)}
			above := pick(0.118, longest) // m; the shortest is P5 of the mix, rounded up
			if got := headClearance(d, res, i, k, c, above); got < p.Lower {
				t.Fatalf("%s, seat %s to %s: %+v, but %v for %+v with %v m from ear to crown", name, res.Seats[i].Name(),
					res.Speakers[k].Name(), *p, got, c, above)
			}
		}
	}
}

// A loudspeaker just over the neighbour's crown holds for heads as high as their
// trunks have them and not for a long one; the sentence says so. Higher by as
// much as a long head is longer it holds. Clearances are the exact ones of the
// heads themselves.
func TestLongHeadOnShortTrunkIsFound(t *testing.T) {
	d := hall(1, 2, 0)
	d.Chairs[0].Headrest = 0
	d.Chairs[0].MaxRecline = 5
	o := RangeOptions{Low: 5, High: 95}
	seat := place.Seats(d)[1]
	crown := place.PersonAt(d, 95).In(seat).Crown
	ear := place.PersonAt(d, 5).In(place.Seats(d)[0]).EarRight
	at := func(over float64) (*RangeResult, RangePair) { // the path of P5 passes so high over the crown
		rise := (crown.Z + over - ear.Z) / (crown.Y - ear.Y)
		d.Speakers = []project.Loudspeaker{{Label: "M-090", Model: "m", Mount: project.OnWall,
			At: project.Point{X: unit.Length(crown.X), Y: 5.7, Z: unit.Length(ear.Z + rise*(5.7-ear.Y))}}}
		res, err := RangeFor(t.Context(), d, o)
		if err != nil {
			t.Fatal(err)
		}
		return res, *res.Pair(0, 0)
	}
	for over, want := range map[float64]string{-0.02: "plain", 0: "long", 0.1: "holds"} {
		res, p := at(over)
		got := "holds"
		switch {
		case !p.Certified:
			got = "not certified"
		case p.Worst.LongHead && !p.Holds:
			got = "long"
			if text := res.Sentence(0, 0, project.Metric); !strings.Contains(text, "blocked by head in row 1 seat 2 of P95 with a long head") {
				t.Error(text)
			}
		case !p.Holds:
			got = "plain"
		}
		if got != want {
			t.Errorf("%v m over the crown: %s, want %s: %s", over, got, want, res.Sentence(0, 0, project.Metric))
		}
	}
}

// A tall headrest, lowered through the head that rests on it, stood about the
// sitter's own ears and blocked everything.
func TestRestingHeadHoldsItsHeadrestUp(t *testing.T) {
	d := hall(1, 1, 4)
	c := &d.Chairs[0]
	c.Headrest, c.MinRecline, c.MaxRecline = 0.35, 35, 60
	d.Seating.Rows[0].Recline = 35
	res, err := Range(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	for k := range res.Speakers {
		if p := res.Pair(0, k); !p.Certified || !p.Holds && p.Worst.Lowered > 0 {
			t.Error(res.Sentence(0, k, project.Metric))
		}
	}
	if res.Count.Holds == 0 {
		t.Error(res.Words(project.Metric))
	}
}

// caseOf returns d with the people of a case.
func caseOf(d *project.Design, res *RangeResult, i int, c RangeCase) *project.Design {
	s := apartRows(d)
	for n, seat := range res.Seats {
		s.Seating.Rows[n].Recline = unit.Degrees(seat.Recline * 180 / math.Pi)
	}
	s.Seating.Rows[i].Recline = unit.Degrees(c.Recline * 180 / math.Pi)
	s.Seating.Sitters.Listener = c.Listener
	if c.Other > 0 {
		s.Seating.Sitters.Others = c.Other
	}
	if c.Blocker >= 0 && moves(res.Parts[c.Blocker].Kind) {
		p := res.Parts[c.Blocker]
		for n, seat := range res.Seats {
			if n != i && seat.Row == p.Row && seat.Number == p.Seat {
				s.Seating.Rows[n].Recline = unit.Degrees(c.OtherRecline * 180 / math.Pi)
			}
		}
	}
	return s
}

// Nothing of the demos is left open.
func TestRangeSettlesTheDemos(t *testing.T) {
	for _, name := range demos {
		res, err := Range(t.Context(), demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		if n := res.Count.Open + res.PictureCount.Open; n > 0 {
			t.Errorf("%s: %d are not certified: %s", name, n, res.Words(project.Metric))
		}
	}
}

// The answer does not depend on how many cores share the seats.
func TestRangeIsTheSameOnAnyCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for _, name := range demos {
		d := demo(t, name)
		var one *RangeResult
		for _, cores := range []int{1, 2, 3, 8} {
			runtime.GOMAXPROCS(cores)
			res, err := Range(t.Context(), d)
			if err != nil {
				t.Fatal(err)
			}
			if one == nil {
				one = res
			}
			if !slices.Equal(res.Pairs, one.Pairs) || !slices.Equal(res.Views, one.Views) {
				t.Errorf("%s: %d cores answer otherwise than one", name, cores)
			}
		}
	}
}

// The column that carries a loudspeaker counts only where it is crossed: its
// face stands at the driver and takes no clearance.
func TestRangeLetsTheCarrierBe(t *testing.T) {
	d := hall(1, 1, 0)
	const face = 0.4
	d.Room.Features = []project.Feature{{Kind: project.Column, Length: 0.4, Width: face, Height: 3, At: project.Point{X: 3, Y: face / 2}}}
	d.Models[0].Flush = true
	d.Speakers = []project.Loudspeaker{{Label: "M+090", Model: "m", Mount: project.OnWall, At: project.Point{X: 3, Y: face + 0.001, Z: 2.4}}}
	a := audit(t, d)
	res, err := Range(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	margin := float64(d.Criteria.Margin)
	for i := range res.Seats {
		if a.Pair(i, 0).Verdict != Clear {
			t.Fatalf("the audit says %s: the test tests nothing", a.Sentence(i, 0, project.Metric))
		}
		if p := res.Pair(i, 0); !p.Clear(margin - 1e-6) {
			t.Errorf("%s, no nearer than %v", res.Sentence(i, 0, project.Metric), p.Lower)
		}
	}
}

func BenchmarkRange(b *testing.B) {
	for _, name := range demos {
		d := demo(b, name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Range(context.Background(), d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// crowdedHall returns a random hall: staggered or curved rows, a notch, a column.
func crowdedHall(t *rapid.T) *project.Design {
	d := hall(rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(1, 4).Draw(t, "seats"), 6)
	curved := rapid.Bool().Draw(t, "curved")
	for i := range d.Seating.Rows {
		r := &d.Seating.Rows[i]
		r.Stagger = unit.Length(rapid.Float64Range(-0.4, 0.4).Draw(t, "stagger"))
		r.Riser = unit.Length(rapid.Float64Range(0, 0.5).Draw(t, "riser")) * unit.Length(i)
		if curved {
			r.Curve = unit.Length(rapid.Float64Range(4, 12).Draw(t, "curve"))
		}
	}
	for k := range d.Speakers {
		s := &d.Speakers[k]
		s.At.Z = unit.Length(rapid.Float64Range(0.5, 2.9).Draw(t, "z"))
		s.At.X = unit.Length(rapid.Float64Range(0.4, 8.6).Draw(t, "x"))
	}
	d.Screen.Bottom = unit.Length(rapid.Float64Range(0.5, 1.5).Draw(t, "bottom"))
	d.Screen.Transparent = rapid.Bool().Draw(t, "transparent")
	if rapid.Bool().Draw(t, "notch") {
		d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 5, Y: 6}, {X: 5, Y: 4.8}, {X: 3, Y: 4.8}, {X: 3, Y: 6}, {X: 0, Y: 6}}
	}
	if rapid.Bool().Draw(t, "column") {
		d.Room.Features = []project.Feature{{Kind: project.Column, Length: 0.3, Width: 0.3, Height: 3,
			At:   project.Point{X: unit.Length(rapid.Float64Range(1, 8).Draw(t, "fx")), Y: unit.Length(rapid.Float64Range(0.1, 1.5).Draw(t, "fy"))},
			Turn: unit.Degrees(rapid.Float64Range(0, 90).Draw(t, "turn"))}}
	}
	d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
	return d
}

// In random halls too nobody is worse off than is certified, nor is blocked
// where the plan holds.
func TestRangeInRandomHalls(t *testing.T) {
	seen := RangeCount{}
	rapid.Check(t, func(rt *rapid.T) {
		d := crowdedHall(rt)
		res, err := Range(context.Background(), d)
		if err != nil {
			rt.Fatal(err)
		}
		seen.Holds += res.Count.Holds
		seen.Breaks += res.Count.Breaks
		seen.Open += res.Count.Open
		sample := d.Clone()
		if d.Seating.Rows[0].Curve == 0 {
			sample = apartRows(d)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "people"), 1))
		for range 20 {
			shuffle(r, sample, res.Options)
			a := audit(t, sample)
			for n := range res.Pairs {
				p, q := &res.Pairs[n], &a.Pairs[n]
				if c := q.Deciding().Clearance; c < p.Lower || p.Holds && q.Verdict == Blocked {
					rt.Fatalf("seat %s to %s: %+v, but %v with %v by %s", res.Seats[n/len(a.Speakers)].Name(), a.Speakers[n%len(a.Speakers)].Name(),
						*p, q.Verdict, c, a.Words(q.Deciding().Blocker))
				}
			}
			for i := range res.Views {
				v, w := &res.Views[i], &a.Views[i]
				if v.Holds && (w.Verdict == Blocked || w.Clearance < v.Lower) {
					rt.Fatalf("seat %s: %+v, but sees %v of the picture with %v", res.Seats[i].Name(), *v, w.Visible, w.Clearance)
				}
			}
		}
	})
	t.Logf("%+v", seen)
	if seen.Holds == 0 || seen.Breaks == 0 {
		t.Errorf("nothing to compare: %+v", seen)
	}
}

// A wider range never holds where a narrower does not, and what is proven to
// break stays so.
func TestRangeIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := crowdedHall(t)
		d.Seating.Sitters.Listener, d.Seating.Sitters.Others = 50, 50
		var last *RangeResult
		for _, o := range []RangeOptions{{50, 50, false}, {30, 70, false}, {30, 70, true}, {5, 95, true}, {1, 99, true}} {
			res, err := RangeFor(context.Background(), d, o)
			if err != nil {
				t.Fatal(err)
			}
			if last != nil {
				for n := range res.Pairs {
					narrow, wide := &last.Pairs[n], &res.Pairs[n]
					if wide.Holds && !narrow.Holds || !narrow.Holds && narrow.Certified && wide.Holds {
						t.Fatalf("pair %d: %s %+v, but %s %+v", n, last.Options.Words(), *narrow, o.Words(), *wide)
					}
				}
			}
			last = res
		}
	})
}

// One person as the rows recline is the plain audit.
func TestRangeOfOneIsTheAudit(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		d.Seating.Sitters.Others = d.Seating.Sitters.Listener
		p := d.Seating.Sitters.Listener
		res, err := RangeFor(t.Context(), d, RangeOptions{Low: p, High: p})
		if err != nil {
			t.Fatal(err)
		}
		a := audit(t, d)
		for n := range a.Pairs {
			p, q := &res.Pairs[n], &a.Pairs[n]
			if p.Judged != (q.Verdict != NotJudged) {
				t.Errorf("%s pair %d: judged %v, audit %v", name, n, p.Judged, q.Verdict)
			}
			if p.Judged && (!p.Certified || p.Holds != (q.Verdict != Blocked)) {
				t.Errorf("%s pair %d: %+v, audit %v %v", name, n, *p, q.Verdict, q.Deciding().Clearance)
			}
		}
		for i := range a.Views {
			if v := &res.Views[i]; !v.Certified || v.Holds != (a.Views[i].Verdict != Blocked) {
				t.Errorf("%s seat %d: %+v, audit %v", name, i, *v, a.Views[i].Verdict)
			}
		}
	}
}

func TestRangeRefuses(t *testing.T) {
	d := hall(1, 1, 2)
	for _, o := range []RangeOptions{{}, {Low: 95, High: 5}, {Low: 5, High: 100}, {Low: math.NaN(), High: 95}} {
		if _, err := RangeFor(t.Context(), d, o); err == nil {
			t.Errorf("%+v is accepted", o)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if r, err := Range(ctx, d); r != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v, %v", r, err)
	}
	for name, d := range map[string]*project.Design{
		"empty": {}, "no seats": func() *project.Design { d := hall(1, 1, 4); d.Seating.Rows = nil; return d }(),
		"no models":     func() *project.Design { d := hall(1, 1, 4); d.Models = nil; return d }(),
		"behind screen": func() *project.Design { d := hall(1, 1, 4); d.Screen.Distance = 8; return d }(),
	} {
		res, err := Range(t.Context(), d)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		res.Words(project.Metric)
	}
}

func TestRangeWords(t *testing.T) {
	res, err := Range(t.Context(), hall(1, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	if got := res.Words(project.Metric); got != "holds for P5 to P95 at every recline" {
		t.Errorf("nothing to judge but a free picture: %s", got)
	}
	// The loudspeaker beyond a neighbour at ear height.
	d := hall(1, 3, 0)
	ear := place.Listener(d, place.Seats(d)[0]).EarRight
	d.Speakers = []project.Loudspeaker{{Label: "M-090", Model: "m", Mount: project.OnWall,
		At: project.Point{X: unit.Length(ear.X), Y: 5.9, Z: unit.Length(ear.Z)}}}
	res, err = Range(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	if p := res.Pair(0, 0); p.Holds || !p.Certified || !(p.Upper < -0.05) {
		t.Errorf("a head at ear height between ear and driver: %+v", *p)
	}
	if got := res.Words(project.Metric); !strings.HasPrefix(got, "does not hold for P5 to P95 at every recline: 1 of 3 pairs and 3 of 3 views do; worst: row 1 seat ") {
		t.Error(got)
	}
}
