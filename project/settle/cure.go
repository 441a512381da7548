// SPDX-License-Identifier: MIT

package settle

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
)

// Cure is what can be done about a cause.
type Cure struct {
	// Says is the move that cures it, in a sentence.
	Says string
	// Solver names what works it out, as in the menu Solve; empty where nothing does.
	Solver string

	work func(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*solve.Proposal, error)
	only bool // of what it proposes only the loudspeakers of the cause are taken
}

// Cure says what can be done about c.
func (c *Cause) Cure() Cure {
	settles := func(settle bool) func(context.Context, *project.Design, practice.Standard, solve.Progress) (*solve.Proposal, error) {
		return func(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*solve.Proposal, error) {
			return solve.Lift(ctx, d, solve.LiftOptions{Standard: std, Settle: settle, Progress: tell})
		}
	}
	bed := c.layer == string(practice.Wide) || c.layer == string(practice.Side) || c.layer == string(practice.Rear)
	switch {
	case c.Family == Driver && c.layer == string(practice.Front):
		return Cure{Says: "Raise the fronts, or the rows behind the heads in the way.", Solver: "Lift sides and rears", work: settles(false), only: true}
	case c.Family == Driver && bed:
		return Cure{Says: "Raise them until they are just clear of the heads.", Solver: "Lift sides and rears", work: settles(false), only: true}
	case c.Family == Height && bed:
		return Cure{Says: "Hang them at the least height that sight needs.", Solver: "Lift sides and rears", work: settles(true), only: true}
	case (c.Family == Height || c.Family == Direction) && c.layer == string(practice.Height), c.Family == Driver && c.layer == string(practice.Height):
		return Cure{Says: "Put the heights under their azimuth, about 45° up.", Solver: "Heights", only: true,
			work: func(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*solve.Proposal, error) {
				return solve.Heights(ctx, d, solve.HeightsOptions{Standard: std, Progress: tell})
			}}
	case c.Family == Picture:
		return Cure{Says: "Raise the rows behind, or the picture's lower edge.", Solver: "Rows",
			work: func(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*solve.Proposal, error) {
				p, err := solve.Rows(ctx, d, solve.RowsOptions{Standard: std, Progress: tell})
				if err != nil {
					return nil, err
				}
				return &p.Proposal, nil
			}}
	case c.Family == View:
		return Cure{Says: "Give the picture another size, or the rows another distance.", Solver: "Screen",
			work: func(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*solve.Proposal, error) {
				p, err := solve.Screen(ctx, d, solve.ScreenOptions{Standard: std, Progress: tell})
				if err != nil {
					return nil, err
				}
				return &p.Proposal, nil
			}}
	case c.Family == Reach:
		return Cure{Says: "Choose models of wider coverage, or some that can be aimed, or move the seats in."}
	case c.Family == Direction:
		return Cure{Says: "Move them along their wall into the directions of their labels."}
	case c.Family == Height:
		return Cure{Says: "Hang them nearer to the height that is asked for."}
	case c.Family == Build:
		return Cure{Says: "Move it back into the room, or give it the space."}
	case c.Family == Safety && len(c.Remarks) > 0 && c.Remarks[0].Rule == "door-swing":
		return Cure{Says: "Move what stands in the door's way, or hang the door so that it opens clear of it."}
	case c.Family == Safety:
		return Cure{Says: "Change the rows, the platforms or the ways until people pass safely."}
	}
	return Cure{Says: "Give it the distance that is asked for."}
}

// Can reports whether a solver works the cure out.
func (c Cure) Can() bool { return c.work != nil }

// Remedy is a cure that was worked out.
type Remedy struct {
	*solve.Proposal
	// Cured is whether the cause is gone.
	Cured bool
	// Verdict says in a sentence how far it is cured, Why what stands in the way of more,
	// and Cost what changes for everything else, a line each.
	Verdict   string
	Why, Cost []string
}

// Remedy works out what cures c in d. It may take seconds.
func (c *Cause) Remedy(ctx context.Context, d *project.Design, std practice.Standard, tell solve.Progress) (*Remedy, error) {
	cure := c.Cure()
	if !cure.Can() {
		return nil, errors.New("no solver works this out: " + lower(cure.Says))
	}
	p, err := cure.work(ctx, d, std, tell)
	if err != nil {
		return nil, err
	}
	was := sight.Audit(d)
	if cure.only {
		p = c.part(d, p)
	}
	is := sight.Audit(p.Design)
	p.After = countsOf(is)
	rulesWas, rulesIs := practice.Check(d, was, std), practice.Check(p.Design, is, std)
	then := Causes(is, rulesIs, nil)
	out := &Remedy{Proposal: p}
	left := then.Find(c.ID)
	unmoved := len(p.Changes) == 0
	// A rule may be settled now and yet be noted.
	out.Cured = !unmoved && (left == nil || left.Severity < c.Severity && left.Severity == practice.Note)
	out.Verdict = verdict(out, c, left, unmoved)
	if !out.Cured {
		const enough = 2 // the rest is what follows from it, seat by seat
		for _, o := range p.Proof[:min(len(p.Proof), enough)] {
			out.Why = append(out.Why, o.Text)
		}
	}
	out.Cost = costs(was, is, rulesWas, rulesIs, c)
	now, before := then.Short(), Causes(was, rulesWas, nil).Short()
	out.Cost = append(out.Cost, "Before: "+before+". After: "+now+".")
	return out, nil
}

// verdict says how far a remedy cures its cause c, of which left is what remains.
func verdict(r *Remedy, c, left *Cause, unmoved bool) string {
	const nowhere = "No place in this room cures it within the limits."
	switch {
	case r.Cured && r.After.Findings > r.Before.Findings:
		return "Cured, but more than before cannot be built."
	case r.Cured && r.After.Blocked > r.Before.Blocked:
		return "Cured, but more paths than before are blocked."
	case r.Cured && r.After.Tight > r.Before.Tight && r.After.Blocked >= r.Before.Blocked:
		return "Cured, but more paths than before are tight."
	case r.Cured && left != nil:
		return "Settled. Noted: " + left.Text + "."
	case r.Cured:
		return "Cured."
	case unmoved && len(r.Proof) == 0:
		return "The solver finds nothing better for these."
	case unmoved || left == nil:
		return nowhere
	case len(c.blocked) > 0 && len(left.blocked) == 0:
		return "Nobody is blocked any more. Left: " + left.Text + "."
	case left.Harm < c.Harm:
		return "Better, not cured. Left: " + left.Text + ". " + nowhere
	}
	return nowhere
}

// part returns p with only what moves the loudspeakers of c.
func (c *Cause) part(d *project.Design, p *solve.Proposal) *solve.Proposal {
	out := &solve.Proposal{Design: d.Clone(), Before: p.Before, Note: p.Note, Kept: p.Kept}
	if len(p.Design.Speakers) == len(d.Speakers) {
		for _, k := range c.Speakers {
			out.Design.Speakers[k] = p.Design.Speakers[k]
		}
	}
	out.Changes = diff.Seen(diff.Compare(d, out.Design))
	for _, o := range p.Proof {
		if slices.ContainsFunc(c.Speakers, func(k int) bool { return strings.Contains(o.Where+" "+o.Text, d.Speakers[k].Name()) }) {
			out.Proof = append(out.Proof, o)
		}
	}
	return out
}

func countsOf(r *sight.Result) solve.Counts {
	return solve.Counts{Clear: r.Count[sight.Clear], Tight: r.Count[sight.Tight], Blocked: r.Count[sight.Blocked],
		PictureBlocked: r.PictureCount[sight.Blocked], Findings: len(fit.Findings(r.Design))}
}

// costs says what a cure changes for others.
func costs(was, is *sight.Result, rulesWas, rulesIs *practice.Result, c *Cause) []string {
	var lines []string
	from, to := countsOf(was), countsOf(is)
	add := func(name string, a, b int) {
		if a != b {
			lines = append(lines, fmt.Sprintf("%s: %d before, %d after.", name, a, b))
		}
	}
	add("Paths blocked", from.Blocked, to.Blocked)
	add("Paths tight", from.Tight, to.Tight)
	add("Seats that miss some of the picture", from.PictureBlocked, to.PictureBlocked)
	add("Cannot be built", from.Findings, to.Findings)
	// Left and right hang alike as a rule: one line for both where they do.
	g := gatherer{r: is, d: is.Design}
	alike := map[string][]int{}
	var order []string
	for _, k := range c.Speakers {
		if was.Speakers[k].At == is.Speakers[k].At {
			continue
		}
		name := is.Speakers[k].Copy
		text := fmt.Sprintf("%s up from the main position, was %s.", degrees(elevation(is, k)), degrees(elevation(was, k)))
		if name != "" {
			text = " " + name + ": " + text
		} else {
			text = ": " + text
		}
		if alike[text] == nil {
			order = append(order, text)
		}
		alike[text] = append(alike[text], k)
	}
	for _, text := range order {
		lines = append(lines, g.speakers(alike[text])+text)
	}
	if a, b := apart(rulesWas), apart(rulesIs); a < 180 && b < 180 && math.Abs(a-b) >= 0.05 {
		lines = append(lines, "Bed and heights at least "+degrees(b)+" apart, were "+degrees(a)+".")
	}
	return lines
}

func degrees(v float64) string { return fmt.Sprintf("%.1f°", math.Round(v*10)/10+0) }

// elevation returns that of loudspeaker k from the main listening position, degrees.
func elevation(r *sight.Result, k int) float64 {
	v := r.Speakers[k].At.Vec().Sub(r.Main)
	return math.Atan2(v.Z, math.Hypot(v.X, v.Y)) / unit.Degree
}

// apart returns the least angle between the bed and the heights that anybody hears,
// degrees; 180 where it is not measured.
func apart(kept *practice.Result) float64 {
	least := 180.0
	for _, m := range kept.Remarks {
		if m.Rule == "separation" {
			least = math.Min(least, m.Measured)
		}
	}
	return least
}

// lower returns s with its first letter small.
func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
