// SPDX-License-Identifier: MIT

package solve

import (
	"math/rand/v2"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

func everyone(t testing.TB, d *project.Design) *sight.RangeResult {
	t.Helper()
	r, err := sight.Range(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// shortFor counts pairs of the loudspeakers ks that break for somebody and those
// that are open.
func shortFor(r *sight.RangeResult, ks []int) (breaks, open int) {
	for i := range r.Seats {
		for _, k := range ks {
			switch p := r.Pair(i, k); {
			case !p.Judged || p.Holds:
			case p.Certified:
				breaks++
			default:
				open++
			}
		}
	}
	return breaks, open
}

// tallRoom is a random room in which loudspeakers can hang high.
func tallRoom(r *rand.Rand) *project.Design {
	d := anyRoom(r)
	d.Room.Ceiling.Height += 2
	return d
}

// In random rooms what Lift finds for everyone holds for everyone, with nobody
// of the set sitters short of clear, and 5 mm lower, and 20, 40, ... mm down to
// where it was, somebody is blocked or a set sitter short. Judged by the audit
// and by the certificate of the whole room, not by the search's own.
func TestLiftForEveryoneIsLeast(t *testing.T) {
	const seed = 23
	r := rand.New(rand.NewPCG(seed, seed))
	o := LiftOptions{Elevation: 70, Allowance: -1, pastLimit: true, People: People{Everyone: true}}
	lower, unsure := 0, 0
	for room := range 16 {
		d := tallRoom(r)
		p := lift(t, d, o)
		if !p.Solved() {
			continue
		}
		if b, n := shortFor(everyone(t, p.Design), lifted(d)); b+n > 0 || alone(p.Design, lifted(d)) > 0 {
			t.Fatalf("seed %d room %d: solved, but %d pairs break, %d are open, %d short for the set", seed, room, b, n, alone(p.Design, lifted(d)))
		}
		if !strings.Contains(p.Note, "P5 to P95 at every recline") {
			t.Errorf("seed %d room %d: the note does not say for whom: %q", seed, room, p.Note)
		}
		set := lift(t, d, LiftOptions{Elevation: 70, Allowance: -1, pastLimit: true})
		for _, k := range lifted(d) {
			pair := []int{k, mirrorOf(d, k)}
			was, is := float64(d.Speakers[k].At.Z), float64(p.Design.Speakers[k].At.Z)
			if low := float64(set.Design.Speakers[k].At.Z); set.Solved() && is < low-0.0015 {
				t.Errorf("seed %d room %d: %s hangs at %.4f for everyone, at %.4f for the set", seed, room, d.Speakers[k].Name(), is, low)
			}
			if k > pair[1] || is-was < 0.005 {
				continue
			}
			down := p.Design.Clone()
			for drop := 0.005; drop <= is-was; drop = max(2*drop, 0.02) {
				for _, m := range pair {
					h := newHanging(d, m, d.Speakers[m], place.MainPoint(p.Design), was, is)
					down.Speakers[m].At = h.at(is - drop).At
				}
				lower++
				if alone(down, pair) > 0 || inFeature(down, pair) {
					continue
				}
				b, n := shortFor(everyone(t, down), pair)
				switch {
				case b > 0:
				case n > 0:
					unsure++
				default:
					t.Fatalf("seed %d room %d: %s holds for everyone %.3f m lower than %.4f m", seed, room, d.Speakers[k].Name(), drop, is)
				}
			}
		}
	}
	t.Logf("%d heights lower, %d of them open", lower, unsure)
	if lower < 40 || unsure > lower/10 {
		t.Errorf("%d lower heights looked at, %d of them open", lower, unsure)
	}
}

// Where the ceiling is in the way the proof says how high it would have to be,
// for whom, and who is blocked as it is; what it says is needed is enough.
func TestLiftForEveryoneUnderALowCeiling(t *testing.T) {
	d := demo(t, "two-row")
	o := LiftOptions{Elevation: 70, Allowance: -1, pastLimit: true, People: People{Everyone: true}}
	p := lift(t, d, o)
	if p.Solved() {
		t.Fatal("solved: the test tests nothing")
	}
	ob := p.Proof[0]
	if ob.Constraint != "the ceiling" || !(ob.Short > 0) || !strings.Contains(ob.Text, "everyone from P5 to P95 at every recline") {
		t.Errorf("proof: %+v", ob)
	}
	named := false
	for _, o := range p.Proof[1:] {
		named = named || strings.Contains(o.Text, " blocked by head in row 2 seat 2 of P") && strings.Contains(o.Text, "reclined") && o.Short > 0
	}
	if !named {
		t.Errorf("nobody is named: %+v", p.Proof)
	}
	d.Room.Ceiling.Height += unit.Length(ob.Short + 0.01)
	d.Room.Ceiling.FarHeight += unit.Length(ob.Short + 0.01)
	if p := lift(t, d, o); p.Proof[0].Constraint != "separation" { // sight is had; the heights are too near
		t.Errorf("under %v it still fails: %v", d.Room.Ceiling.Height, p.Proof[0].Text)
	}
}

// Everyone of one percentile who sits as the rows do asks for no more than that
// the set sitters be not blocked.
func TestLiftForEveryoneOfOne(t *testing.T) {
	d := hall(2, 4, 4)
	d.Seating.Sitters.Others = 50
	set := lift(t, d, LiftOptions{Allowance: -1})
	one := lift(t, d, LiftOptions{Allowance: -1, People: People{Everyone: true, Range: sight.RangeOptions{Low: 50, High: 50}}})
	for k := range d.Speakers {
		if a, b := set.Design.Speakers[k].At, one.Design.Speakers[k].At; a != b {
			t.Errorf("%s: %v for the set, %v for everyone of them", d.Speakers[k].Name(), a, b)
		}
	}
}

// everyoneSees reports whether everyone of the range in row i (from 0) sees the
// picture.
func everyoneSees(t *testing.T, d *project.Design, i int) bool {
	r := everyone(t, d)
	for n := range r.Views {
		if r.Seats[n].Row == i+1 && !r.Views[n].Holds {
			return false
		}
	}
	return true
}

// In random rooms the risers found for everyone let everyone see, and 5 mm lower,
// and 20, 40, ... mm, somebody of the row does not. The certificate of the whole
// room is the judge.
func TestRowsForEveryoneAreLeast(t *testing.T) {
	const seed = 31
	r := rand.New(rand.NewPCG(seed, seed))
	looked := 0
	for room := range 8 {
		d := hall(2, 1+r.IntN(4), 2)
		d.Screen.Bottom = unit.Length(0.9 + 0.3*r.Float64())
		d.Room.Ceiling.Height = 4.5
		for i := range d.Seating.Rows {
			d.Seating.Rows[i].Riser = 0
			d.Seating.Rows[i].Stagger = unit.Length(0.4 * (r.Float64() - 0.5))
		}
		o := RowsOptions{AnyRise: true, MostRise: 3, People: People{Everyone: true}}
		p := rows(t, d, o)
		if !p.Solved() {
			t.Logf("room %d: %s", room, p.Proof[0].Text)
			continue
		}
		if !strings.Contains(p.Note, "Everyone from P5 to P95 at every recline sees") {
			t.Errorf("room %d: the note does not say for whom: %s", room, p.Note)
		}
		o.Everyone = false
		set := rows(t, d, o)
		for i, need := range p.Rows {
			if !rowClear(p.Design, i) || !everyoneSees(t, p.Design, i) {
				t.Errorf("seed %d room %d: row %d at %.4f m: not everyone sees", seed, room, i+1, need.Riser)
			}
			if i == 0 {
				continue // the front row starts where it stands
			}
			if need.Least < set.Rows[i].Least-resolution && p.Rows[i-1].Least == set.Rows[i-1].Least {
				t.Errorf("seed %d room %d: row %d needs %.4f m for everyone, %.4f for the set", seed, room, i+1, need.Least, set.Rows[i].Least)
			}
			low := p.Design.Clone()
			for drop := 0.005; need.Least-drop >= p.Rows[i-1].Riser; drop = max(2*drop, 0.02) {
				looked++
				setRiser(low, i, need.Least-drop)
				if rowClear(low, i) && everyoneSees(t, low, i) {
					t.Fatalf("seed %d room %d: everyone in row %d sees from %.4f m, found %.4f m", seed, room, i+1, need.Least-drop, need.Least)
				}
			}
		}
	}
	if looked < 15 {
		t.Errorf("only %d lower risers looked at", looked)
	}
}

// The lowest edge for everyone, and its trade-off with the risers: it falls, no
// point of it asks less than for the set sitters, and each that is within the
// limits is one at which everyone sees.
func TestBottomForEveryoneAndTradeOff(t *testing.T) {
	d := hall(2, 3, 2)
	d.Room.Ceiling.Height, d.Screen.Width = 5, 3
	o := RowsOptions{Vary: Bottom, Curve: 5, AnyRise: true, MostRise: 3, People: People{Everyone: true}}
	p := rows(t, d, o)
	if !p.Solved() || !everyoneSees(t, p.Design, 0) || !everyoneSees(t, p.Design, 1) {
		t.Fatalf("lower edge at %v: %v", p.Design.Screen.Bottom, p.Proof)
	}
	low := p.Design.Clone()
	for drop := unit.Length(0.005); drop < 0.4; drop = max(2*drop, 0.02) {
		if low.Screen.Bottom = p.Design.Screen.Bottom - drop; everyoneSees(t, low, 0) && everyoneSees(t, low, 1) {
			t.Fatalf("everyone sees from %v, found %v", low.Screen.Bottom, p.Design.Screen.Bottom)
		}
	}
	o.Everyone = false
	set := rows(t, d, o)
	fine := 0
	for i, a := range p.Curve {
		if b := set.Curve[i]; a.Bottom != b.Bottom || a.OK && b.OK && a.LastRiser < b.LastRiser-millimetre {
			t.Errorf("edge at %.3f: riser %.3f for everyone, %.3f for the set", a.Bottom, a.LastRiser, b.LastRiser)
		}
		if i > 0 && a.OK && p.Curve[i-1].OK && a.LastRiser > p.Curve[i-1].LastRiser+millimetre {
			t.Errorf("edge %.3f riser %.3f, then edge %.3f riser %.3f", p.Curve[i-1].Bottom, p.Curve[i-1].LastRiser, a.Bottom, a.LastRiser)
		}
		if !a.OK {
			continue
		}
		fine++
		at := d.Clone()
		at.Screen.Bottom = unit.Length(a.Bottom)
		setRiser(at, 0, 0)
		setRiser(at, 1, a.LastRiser)
		if !everyoneSees(t, at, 1) {
			t.Errorf("edge %.3f, riser %.3f: not everyone sees", a.Bottom, a.LastRiser)
		}
	}
	if fine < 2 {
		t.Errorf("only %d points within the limits", fine)
	}
}

// Where risers for everyone cannot be had the compromise leaves no set sitter
// without the picture who had it, and the proof still speaks of everyone.
func TestRowsForEveryoneSpareTheSetSitters(t *testing.T) {
	d := demo(t, "large")
	p := rows(t, d, RowsOptions{People: People{Everyone: true}})
	if p.Solved() || p.Before.PictureBlocked > 0 {
		t.Fatalf("before %+v, proof %v: the test tests nothing", p.Before, p.Proof)
	}
	if p.After.PictureBlocked > 0 || !strings.Contains(p.Proof[0].Text, "everyone from P5 to P95") || !strings.Contains(p.Note, " Proposed is ") {
		t.Errorf("after %+v, proof %q, note %q", p.After, p.Proof[0].Text, p.Note)
	}
	if was, is := everyone(t, d).PictureCount, everyone(t, p.Design).PictureCount; is.Holds < was.Holds {
		t.Errorf("%+v of the views hold for everyone, %+v before", is, was)
	}
}

// A range that makes no sense is refused.
func TestPeopleAreChecked(t *testing.T) {
	o := People{Everyone: true, Range: sight.RangeOptions{Low: 95, High: 5}}
	if _, err := Lift(t.Context(), hall(1, 2, 2), LiftOptions{People: o}); err == nil {
		t.Error("Lift takes P95 to P5")
	}
	if _, err := Rows(t.Context(), hall(1, 2, 2), RowsOptions{People: o}); err == nil {
		t.Error("Rows takes P95 to P5")
	}
}
