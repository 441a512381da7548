// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"os"
	"strconv"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/sight"
)

// proposals runs every solver that changes a room that is there.
func proposals(t *testing.T, d *project.Design) map[string]*Proposal {
	t.Helper()
	ctx := context.Background()
	out := map[string]*Proposal{}
	keep := func(name string, p *Proposal, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = p
	}
	p, err := Lift(ctx, d, LiftOptions{})
	keep("lift", p, err)
	p, err = Heights(ctx, d, HeightsOptions{})
	keep("heights", p, err)
	s, err := Screen(ctx, d, ScreenOptions{})
	keep("screen", &s.Proposal, err)
	r, err := Rows(ctx, d, RowsOptions{})
	keep("rows", &r.Proposal, err)
	r, err = Rows(ctx, d, RowsOptions{Vary: Bottom})
	keep("rows for the edge", &r.Proposal, err)
	return out
}

// mustBroken counts the rules that must be kept and are not, with sight.
func mustBroken(d *project.Design, r *sight.Result) map[string]bool {
	out := map[string]bool{}
	for _, m := range practice.Check(d, r, practice.Standard{}).Remarks {
		if !m.OK && m.Severity == practice.Must {
			out[m.Rule] = true
		}
	}
	return out
}

// check holds the laws of an honest proposal. The judge is the audit of the whole room,
// afresh.
func checkHonest(t *testing.T, where string, d *project.Design, p *Proposal) {
	t.Helper()
	was, is := sight.Audit(d), sight.Audit(p.Design)
	said := ""
	for _, o := range p.Obstacles() {
		said += o.Text + "\n"
	}
	worse := func(what string) { t.Errorf("%s: %s, and it says only:\n%s", where, what, said) }
	if got := (Counts{is.Count[sight.Clear], is.Count[sight.Tight], is.Count[sight.Blocked], is.PictureCount[sight.Blocked], len(fit.Findings(p.Design))}); got != p.After {
		t.Errorf("%s: counts %+v, the audit has %+v", where, p.After, got)
	}
	for i := range is.Seats {
		if is.Views[i].Verdict > was.Views[i].Verdict && p.Solved() {
			worse("a picture got worse")
		}
		for k := range is.Speakers {
			if v := is.Pair(i, k).Verdict; v >= sight.Tight && v > was.Pair(i, k).Verdict && p.Solved() {
				worse(is.Speakers[k].Name() + " got worse")
			}
		}
	}
	if len(fit.Findings(p.Design)) > len(fit.Findings(d)) && p.Solved() {
		worse("more cannot be built")
	}
	before := mustBroken(d, was)
	for rule := range mustBroken(p.Design, is) {
		if before[rule] {
			continue
		}
		told := false
		for _, o := range p.Obstacles() {
			told = told || o.Constraint == rule || rule == "sight" || rule == "picture-whole"
		}
		if !told {
			worse("the rule " + rule + " is broken")
		}
	}
	if len(p.Changes) == 0 && p.After != p.Before {
		t.Errorf("%s: nothing is said to change, but %+v becomes %+v", where, p.Before, p.After)
	}
	if p.Note != "" && strings.HasPrefix(p.Note, " ") {
		t.Errorf("%s: note %q", where, p.Note)
	}
}

// In any room no solver says solved and leaves something broken that was whole, and
// none breaks a rule that must be kept without listing it. EARLINE_ROOMS asks for more
// rooms.
func TestNoSolverBreaksWhatItDoesNotList(t *testing.T) {
	rooms := 40
	if n, err := strconv.Atoi(os.Getenv("EARLINE_ROOMS")); err == nil {
		rooms = n
	}
	counts := map[string][2]int{}
	for seed := range uint64(rooms) {
		d := withHeights(projecttest.Room(seed), seed)
		if d.Validate() != nil {
			continue
		}
		for name, p := range proposals(t, d) {
			checkHonest(t, "seed "+strconv.FormatUint(seed, 10)+" "+name, d, p)
			n := counts[name]
			if n[1]++; p.Solved() {
				n[0]++
			}
			counts[name] = n
		}
	}
	for name, n := range counts {
		t.Logf("%s: %d of %d solved", name, n[0], n[1])
	}
}

// withHeights makes heights of some loudspeakers of every other room.
func withHeights(d *project.Design, seed uint64) *project.Design {
	if seed%2 == 0 {
		return d
	}
	to := map[string]string{"M+060": "U+045", "M-060": "U-045", "M+110": "U+135", "M-110": "U-135"}
	for k := range d.Speakers {
		if label, ok := to[d.Speakers[k].Label]; ok {
			d.Speakers[k].Label = label
		}
	}
	return d
}

// What lift says that it keeps of the build allowance is what the tolerance of the
// proposal confirms, and it never raises by less than a millimetre, left without right,
// or beyond the standard's limit.
func TestLiftKeepsItsBuildAllowance(t *testing.T) {
	rooms := map[string]*project.Design{"small": demo(t, "small"), "two-row": demo(t, "two-row"), "large": demo(t, "large")}
	for seed := range uint64(40) {
		if d := withHeights(projecttest.Room(seed), seed); d.Validate() == nil {
			rooms["seed "+strconv.FormatUint(seed, 10)] = d
		}
	}
	kept := 0
	for name, d := range rooms {
		p := lift(t, d, LiftOptions{})
		r := sight.Audit(p.Design)
		for _, k := range p.Kept {
			kept++
			for _, lim := range sight.Tolerance(p.Design, r, k.Speaker).Limits {
				if lim.Way == k.Way && (lim.Max < k.Least || k.Least < 0.010) {
					t.Errorf("%s: %s %s is said to have %.4f m, and has %.4f m", name, p.Design.Speakers[k.Speaker].Name(), k.Way, k.Least, lim.Max)
				}
			}
		}
		for k, s := range p.Design.Speakers {
			by := s.At.Vec().Dist(d.Speakers[k].At.Vec())
			if by > 0 && by < 0.001 {
				t.Errorf("%s: %s moves by %.4f mm", name, s.Name(), 1000*by)
			}
			if by == 0 {
				continue
			}
			if j := mirrorOf(d, k); j >= 0 && lifts(d, d.Speakers[j]) && s.At.Z != p.Design.Speakers[j].At.Z {
				t.Errorf("%s: %s at %v, its mirror at %v", name, s.Name(), s.At.Z, p.Design.Speakers[j].At.Z)
			}
		}
	}
	if kept < 20 {
		t.Errorf("only %d allowances looked at", kept)
	}
}

// room reads a room of testdata.
func room(t *testing.T, path string) *project.Design {
	t.Helper()
	d, err := file.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The picture of the small demo was hung 40 mm over the floor, behind the box of the
// centre loudspeaker, and called solved.
func TestScreenKeepsItsLowerEdge(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		p, err := Screen(context.Background(), d, ScreenOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Design.Screen.Bottom < d.Screen.Bottom {
			t.Errorf("%s: lower edge %v to %v, which nobody needs", name, d.Screen.Bottom, p.Design.Screen.Bottom)
		}
		if p.After.PictureBlocked > p.Before.PictureBlocked {
			t.Errorf("%s: %+v, before %+v", name, p.After, p.Before)
		}
		checkHonest(t, name, d, &p.Proposal)
	}
}

// Rooms in which solvers proposed a platform as high as a person, a side loudspeaker at
// 4 m, a picture at the floor, a lift of less than a millimetre, or more that is blocked
// than there was.
func TestCompromisesMakeSense(t *testing.T) {
	for _, name := range []string{"lift-cannot-help", "front-row-too-low", "three-rows-too-low", "picture-behind-soffit", "ceiling-of-many-corners"} {
		d := room(t, "testdata/"+name+".earline")
		lims := limitsOf(d, practice.Of(d))
		for solver, p := range proposals(t, d) {
			where := name + ", " + solver
			checkHonest(t, where, d, p)
			if !p.Solved() && p.After.worse(p.Before) && solver != "heights" {
				t.Errorf("%s: a compromise of %+v, before %+v", where, p.After, p.Before)
			}
			front := 0.0
			for _, i := range fromFront(p.Design) {
				was, is := float64(d.Seating.Rows[i].Riser), float64(p.Design.Seating.Rows[i].Riser)
				if is != was && is-front > lims.std.Code(d.Criteria.Code).Guard.Most()+1e-9 {
					t.Errorf("%s: row %d at %.3f m, %.3f m over the row in front", where, i+1, is, is-front)
				}
				front = is
			}
			if was, is := d.Screen.Bottom, p.Design.Screen.Bottom; is < was && is < 0.3 {
				t.Errorf("%s: lower edge %v, was %v", where, is, was)
			}
			room := sight.Audit(p.Design)
			for k, s := range p.Design.Speakers {
				if by := s.At.Vec().Dist(d.Speakers[k].At.Vec()); by > 0 && by < 0.001 {
					t.Errorf("%s: %s moves by %.2f mm", where, s.Name(), 1000*by)
				}
				_, el, _ := geometry.AzEl(s.At.Vec().Sub(room.Main))
				if solver == "lift" && s.At != d.Speakers[k].At && el/unit.Degree > lims.elevation(s).Limit.Most()+1e-6 {
					t.Errorf("%s: %s at %.1f°", where, s.Name(), el/unit.Degree)
				}
			}
		}
	}
}

// In the L-shaped room with three rows the heads before the fronts were told
// and left there: behind a screen that sound passes, raising them costs no hole.
func TestLiftRaisesFrontsBehindTheScreen(t *testing.T) {
	d := room(t, "../../testdata/rooms/room-b.earline")
	blocked := func(d *project.Design) (n int) {
		r := sight.Audit(d)
		for i := range r.Seats {
			for k, s := range d.Speakers {
				if isFront(d, s) && r.Pair(i, k).Verdict == sight.Blocked {
					n++
				}
			}
		}
		return n
	}
	if blocked(d) == 0 {
		t.Fatal("no front is blocked: the test tests nothing")
	}
	p := lift(t, d, LiftOptions{})
	if n := blocked(p.Design); n > 0 {
		t.Errorf("%d pairs with fronts are blocked", n)
	}
	band := limitsOf(d, practice.Of(d)).frontHeights(d)
	for _, s := range p.Design.Speakers {
		if isFront(d, s) && !band.Holds(float64(s.At.Z)) {
			t.Errorf("%s at %v, beyond %.3f to %.3f m", s.Name(), s.At.Z, band.Least(), band.Most())
		}
	}
	if left := lift(t, d, LiftOptions{KeepFronts: true}); blocked(left.Design) != blocked(d) {
		t.Error("they move although they are to stay")
	}
}

// The wide room with five seats abreast: 20 degrees first, nothing blocked, and the
// second pair of sides in words.
func TestLiftInAWideRoom(t *testing.T) {
	p := lift(t, room(t, "../../testdata/rooms/room-d.earline"), LiftOptions{})
	if p.After.Blocked != 0 || p.After.Clear != 104 || p.After.Tight != 6 {
		t.Errorf("%+v", p.After)
	}
	if !strings.Contains(p.Note, "a second pair of sides") {
		t.Errorf("nothing is said of a second pair: %s", p.Note)
	}
}

// Of sides that hang right under a soffit, where no height is clear, the lift said that
// each may be built 10 mm off its place in any direction and stays clear.
func TestNothingIsPromisedForWhatIsNotClear(t *testing.T) {
	p := lift(t, room(t, "../../testdata/rooms/room-b.earline"), LiftOptions{Allowance: 0.01})
	notes := p.Note
	if !strings.Contains(notes, "Each but M+090, M-090, M+090 b, M-090 b may be built") {
		t.Errorf("notes: %s", notes)
	}
}
