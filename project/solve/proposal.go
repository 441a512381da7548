// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"slices"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// Proposal is a changed design and why.
type Proposal struct {
	// Design is the changed copy: the solution or, when Proof says that there is
	// none, the nearest compromise.
	Design  *project.Design
	Changes []Change
	// Before and After count what the old and the new design come to.
	Before, After Counts
	// Proof says what stands against the wish, and what was whole and is no longer;
	// empty when solved.
	Proof []Obstacle
	// Note is a remark for the reader, such as a caution; may be empty.
	Note string
	// Kept says how far what was lifted may hang off its place and stay clear.
	Kept []Kept

	std practice.Standard
}

// Solved reports whether everything wished for is had and nothing that was whole before
// is broken: see conclude.
func (p *Proposal) Solved() bool { return len(p.Obstacles()) == 0 }

// Obstacles returns what stands against the wish: the proof, and what can no longer be
// built.
func (p *Proposal) Obstacles() []Obstacle {
	more := p.After.Findings - p.Before.Findings
	if more <= 0 {
		return p.Proof
	}
	text := fmt.Sprintf("%d more than before cannot be built", more)
	if found := fit.Findings(p.Design); len(found) > 0 {
		text += ": " + found[0].String()
	}
	return append(slices.Clone(p.Proof), Obstacle{Constraint: "room", Where: "the room", Short: float64(more), Kind: Number, Text: text + "."})
}

// Change is one value that a proposal changes, or a remark on one in Words.
type Change = diff.Change

// Kind is what the numbers of a Change or an Obstacle are.
type Kind = diff.Measure

// The kinds of number.
const (
	Metres  = diff.Metres
	Degrees = diff.Degrees
	Number  = diff.Number
)

// Counts are the totals of an audit: pairs of seat and loudspeaker by verdict,
// seats that do not see the whole picture, and things in the design that cannot be
// built (fit.Findings).
type Counts struct {
	Clear, Tight, Blocked int
	PictureBlocked        int
	Findings              int
}

// Obstacle is one reason why a wish cannot be met.
type Obstacle struct {
	// Constraint is the limit that is broken: "ceiling", "head in row 2 seat 3".
	Constraint string
	// Where is the seat, the loudspeaker or both, in words.
	Where string
	// Short is by how much it is broken, in metres or as Kind says.
	Short float64
	Kind  Kind
	Text  string // one sentence
}

// Progress receives the share of the work that is done, 0 to 1, and what the
// solver is doing. It is called on the solver's goroutine; nil is allowed.
type Progress func(done float64, what string)

func (p Progress) tell(done float64, what string) {
	if p != nil {
		p(done, what)
	}
}

// count audits d.
func count(d *project.Design) (Counts, *sight.Result) {
	r := sight.Audit(d)
	return Counts{
		Clear: r.Count[sight.Clear], Tight: r.Count[sight.Tight], Blocked: r.Count[sight.Blocked],
		PictureBlocked: r.PictureCount[sight.Blocked], Findings: len(fit.Findings(d)),
	}, r
}

// begin checks that d can be worked on, starts a proposal by the rules of std and audits
// d.
func begin(ctx context.Context, d *project.Design, std practice.Standard) (*Proposal, *sight.Result, error) {
	if d == nil {
		return nil, nil, &project.Fault{Field: "design", Found: "none", Allowed: "a design"}
	}
	if err := d.Validate(); err != nil {
		return nil, nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	p := &Proposal{Design: d.Clone(), std: std.For(d)}
	before, was := count(d)
	p.Before, p.After = before, before
	return p, was, nil
}

// length and angle return a fault for an option outside its limits, or nil.
func length(field string, v unit.Length, lo, hi float64) error {
	if x := float64(v); !(x >= lo && x <= hi) {
		return &project.Fault{Field: field, Found: unit.Length(x).String(),
			Allowed: unit.Length(lo).String() + " to " + unit.Length(hi).String()}
	}
	return nil
}

func angle(field string, v unit.Degrees, lo, hi float64) error {
	if x := float64(v); !(x >= lo && x <= hi) {
		return &project.Fault{Field: field, Found: fmt.Sprintf("%g°", x), Allowed: fmt.Sprintf("%g° to %g°", lo, hi)}
	}
	return nil
}

// upTo rounds v up to a whole multiple of step, but not for an excess that is only
// rounding.
func upTo(v, step float64) float64 {
	const slack = 1e-6 // of a step
	return math.Ceil(v/step-slack) * step
}
