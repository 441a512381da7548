// SPDX-License-Identifier: MIT

package layout

import (
	"context"
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
)

// Proposal is the answer of Plan: what was wished for, or the nearest to it. Options has
// it first and then, where a wish must give, what other plans come to.
type Proposal struct {
	solve.Proposal
	Options []Option
}

// Option is one of several plans.
type Option struct {
	Name string // "as wished for", "2 rows in place of 3"
	// Why says in one sentence what it is better at than the first, and what it gives up.
	Why string
	Figures
	Proposal *solve.Proposal
}

// Figures are what plans are compared by. Metres and degrees.
type Figures struct {
	Seats, Rows   int
	Aspect        float64
	Width, Bottom float64 // of the picture
	Top, TopLimit float64 // its upper edge, and the height that the room allows there
	Limit         string  // what the upper edge keeps below
	HighestRiser  float64
	LastAngle     float64 // under which the last row sees the picture
	Blocked       int     // pairs of seat and loudspeaker, and views of the picture
	Tight         int
	Must, Should  int // remarks
}

// Plan proposes rows, picture and loudspeakers for the room of d, together. It keeps
// chairs, loudspeaker models, names, a bar with its stools, and whatever w.Keep says.
// Proof lists every rule that must hold and does not, whoever does not hear or see, and
// what Lift finds to stand against it; Options what else could be had. It returns a
// *project.Fault for a wish outside its limits, and the context's error when cancelled.
func Plan(ctx context.Context, d *project.Design, w Wish) (*Proposal, error) {
	if d == nil {
		return nil, &project.Fault{Field: "design", Found: "none", Allowed: "a design"}
	}
	if err := d.Validate(); err != nil {
		return nil, err
	}
	if w.Range == (sight.RangeOptions{}) {
		w.Range = sight.WholeRange()
	}
	if err := w.Range.Check(); err != nil {
		return nil, err
	}
	if err := w.fill(d); err != nil {
		return nil, err
	}
	tell := func(done float64, what string) {
		if w.Progress != nil {
			w.Progress(done, what)
		}
	}
	tell(0, "rows, picture and loudspeakers together")
	first, err := planOne(ctx, d, w)
	if err != nil {
		return nil, err
	}
	first.Name = "as wished for"
	out := &Proposal{Options: []Option{*first}}
	if !first.Proposal.Solved() || first.Should > 0 {
		others := others(d, w, first)
		for i, o := range others {
			tell(0.4+0.5*float64(i)/float64(len(others)), o.name)
			next, err := planOne(ctx, o.design, o.wish)
			if err != nil {
				return nil, err
			}
			if !o.worth(next) {
				continue
			}
			next.Name, next.Why = o.name, compare(first, next, d.Units)
			if next.Why == "" { // better at nothing
				continue
			}
			out.Options = append(out.Options, *next)
		}
	}
	if len(out.Options) > 1 {
		for i := range first.Proposal.Proof {
			if o := &first.Proposal.Proof[i]; o.Constraint == wholePicture {
				o.Text += " The other plans show what else could be had."
			}
		}
	}
	out.Proposal = *first.Proposal
	tell(1, "planned")
	return out, ctx.Err()
}

// planOne makes one plan.
func planOne(ctx context.Context, d *project.Design, w Wish) (*Option, error) {
	p := newPlanner(ctx, d, w)
	p.share = 3 // there are up to four plans
	asked := w.Seats
	ways := p.ways()
	if len(ways) == 0 && len(p.stools) > 0 {
		p.leave = true
		ways = p.ways()
	}
	if len(ways) == 0 {
		p.loose = true
		ways = p.ways()
	}
	if len(ways) == 0 {
		// Fewer seats, in as many rows as suit.
		p.loose = false
		p.wish.Rows = min(p.wish.Rows, p.wish.Seats)
		n := p.fitting()
		if n == 0 && p.wish.Rows > 0 {
			p.wish.Rows = 0
			n = p.fitting()
		}
		if n > 0 {
			p.wish.Seats, p.wish.Rows = n, min(p.wish.Rows, n)
			ways = p.ways()
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	prop := &solve.Proposal{Design: d.Clone()}
	prop.Before = countsOf(d, sight.Audit(d))
	if len(ways) == 0 {
		prop.After = prop.Before
		prop.Proof = []solve.Obstacle{{Constraint: "room", Where: "rows", Short: 1, Kind: solve.Number, Text: p.noSeat()}}
		o := &Option{Proposal: prop}
		o.Figures = p.figures(prop.Design, sight.Audit(prop.Design))
		return o, nil
	}
	best := p.best(ways)
	if !w.Keep.Loudspeakers && len(p.kit.added) > 0 {
		setPower(best, p.kit.added)
	}
	lifted, err := p.lift(best)
	if err != nil {
		return nil, err
	}
	prop.Design = lifted.Design
	if n := p.wish.Seats; n < asked {
		prop.Proof = append(prop.Proof, solve.Obstacle{Constraint: "room", Where: "rows", Short: float64(asked - n), Kind: solve.Number,
			Text: fmt.Sprintf("%d seats do not fit: %d do.", asked, n)})
	}
	r := sight.Audit(prop.Design)
	prop.After = countsOf(prop.Design, r)
	p.prove(prop, r, lifted.Proof)
	o := &Option{Proposal: prop, Figures: p.figures(prop.Design, r)}
	p.tellChanges(o, d)
	if err := p.forEveryone(prop); err != nil {
		return nil, err
	}
	return o, ctx.Err()
}

// lift has Lift look at what is still in somebody's way, and keeps what it finds where
// no rule is the worse for it. The proof of what it cannot clear stays.
func (p *planner) lift(d *project.Design) (*solve.Proposal, error) {
	r := sight.Audit(d)
	none := &solve.Proposal{Design: d}
	if p.wish.Keep.Loudspeakers || r.Count[sight.Blocked]+r.Count[sight.Tight] == 0 {
		return none, p.ctx.Err()
	}
	most := p.std.Elevation(practice.Side).Limit.Most()
	l, err := solve.Lift(p.ctx, d, solve.LiftOptions{Elevation: unit.Degrees(most)})
	if err != nil {
		return nil, err
	}
	if p.faultOf(l.Design).less(p.faultOf(d)) {
		return l, nil
	}
	none.Proof = l.Proof
	return none, nil
}

func countsOf(d *project.Design, r *sight.Result) solve.Counts {
	return solve.Counts{Clear: r.Count[sight.Clear], Tight: r.Count[sight.Tight], Blocked: r.Count[sight.Blocked],
		PictureBlocked: r.PictureCount[sight.Blocked], Findings: len(fit.Findings(d))}
}

// figures measures a plan.
func (p *planner) figures(d *project.Design, r *sight.Result) Figures {
	s := d.Screen
	f := Figures{Rows: len(d.Seating.Rows), Aspect: s.Aspect, Width: float64(s.Width), Bottom: float64(s.Bottom),
		Top:     float64(s.Bottom) + s.Height(),
		Blocked: r.Count[sight.Blocked] + r.PictureCount[sight.Blocked], Tight: r.Count[sight.Tight]}
	f.TopLimit = p.top(rectAbout(float64(s.Centre), float64(s.Width)/2, float64(s.Distance)-0.05, float64(s.Distance)+0.02))
	for _, row := range d.Seating.Rows {
		if atBar(d, row) && !p.wish.Keep.Rows {
			f.Rows--
			continue
		}
		f.Seats += row.Seats
		f.HighestRiser = max(f.HighestRiser, float64(row.Riser))
	}
	f.LastAngle = math.Inf(1)
	for i, seat := range r.Seats {
		if atBar(d, d.Seating.Rows[seat.Row-1]) && !p.wish.Keep.Rows {
			continue
		}
		eye := r.Bodies[i].Eye()
		far, off := eye.X-float64(s.Distance), math.Abs(eye.Y-float64(s.Centre))
		if far > 0 {
			half := float64(s.Width) / 2
			f.LastAngle = min(f.LastAngle, (math.Atan((half-off)/far)+math.Atan((half+off)/far))/unit.Degree)
		}
	}
	if math.IsInf(f.LastAngle, 1) {
		f.LastAngle = 0
	}
	n := practice.Check(d, r, p.std).Counts()
	f.Must, f.Should = n[practice.Must], n[practice.Should]
	return f
}

// alternative is another plan to look at.
type alternative struct {
	name   string
	design *project.Design
	wish   Wish
	worth  func(*Option) bool // showing
}

// others returns what else to look at where a wish must give.
func others(d *project.Design, w Wish, first *Option) []alternative {
	var all []alternative
	if n := first.Rows; n > 1 && !w.Keep.Rows {
		v := w
		v.Rows = n - 1
		all = append(all, alternative{fmt.Sprintf("%s in place of %d", several(n-1, "row"), n), d, v,
			func(o *Option) bool { return o.Rows > 0 && o.Rows < n }})
	}
	if !w.Keep.Screen && w.Aspect == 0 {
		v := w
		v.Aspect = 2.39
		name := "a 2.39:1 picture"
		if first.Aspect > 2 {
			v.Aspect, name = 1.85, "a 1.85:1 picture"
		}
		all = append(all, alternative{name, d, v, func(o *Option) bool {
			const more = 0.05 // m: another shape is not worth a higher riser
			return o.Aspect != first.Aspect && o.HighestRiser <= first.HighestRiser+more
		}})
	}
	const tall, most = 75, 75 // percentiles
	if d.Seating.Sitters.Others > most {
		v := d.Clone()
		v.Seating.Sitters.Others = tall
		all = append(all, alternative{fmt.Sprintf("P%d in place of P%.0f", tall, d.Seating.Sitters.Others), v, w, func(*Option) bool { return true }})
	}
	return all
}

// compare says what a plan is better at than the first one, and what it gives up;
// nothing of a plan that is better at nothing.
func compare(a, b *Option, u project.Units) string {
	var better, worse []string
	count := func(now, then int, what string) {
		if then < now {
			better = append(better, fmt.Sprintf("%d %s in place of %d", then, what, now))
		} else if then > now {
			worse = append(worse, fmt.Sprintf("%d %s in place of %d", then, what, now))
		}
	}
	count(a.Must, b.Must, "must")
	count(a.Should, b.Should, "should")
	count(a.Blocked, b.Blocked, "blocked")
	count(a.Tight, b.Tight, "tight")
	show := func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
	if d := a.HighestRiser - b.HighestRiser; d > 0.005 {
		better = append(better, fmt.Sprintf("highest riser %s in place of %s", show(b.HighestRiser), show(a.HighestRiser)))
	} else if d < -0.005 {
		worse = append(worse, fmt.Sprintf("highest riser %s in place of %s", show(b.HighestRiser), show(a.HighestRiser)))
	}
	if b.Seats != a.Seats {
		worse = append(worse, fmt.Sprintf("%s in place of %d", several(b.Seats, "seat"), a.Seats))
	}
	if wide := "picture " + show(b.Width) + " wide in place of " + show(a.Width); a.Width-b.Width > 0.005 {
		worse = append(worse, wide)
	} else if b.Width-a.Width > 0.005 {
		better = append(better, wide)
	}
	if len(better) == 0 {
		return ""
	}
	text := "Better: " + list(better) + "."
	if len(worse) > 0 {
		text += " Given up: " + list(worse) + "."
	}
	return text
}

func list(words []string) string { return strings.Join(words, ", ") }

// several says how many there are of what a word names: "1 row", "3 rows".
func several(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}
