// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"os"
	"strconv"
	"strings"
	"testing"

	"earline/project"
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
		d := projecttest.Room(seed)
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

// What lift says that it keeps of the build allowance is what the tolerance of the
// proposal confirms, and it never raises by less than a millimetre, left without right,
// or beyond the standard's limit.
func TestLiftKeepsItsBuildAllowance(t *testing.T) {
	rooms := map[string]*project.Design{"small": demo(t, "small"), "two-row": demo(t, "two-row"), "large": demo(t, "large")}
	for seed := range uint64(40) {
		if d := projecttest.Room(seed); d.Validate() == nil {
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
