// SPDX-License-Identifier: MIT

package layout

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
)

func (p *planner) show(v float64) string {
	return unit.Length(v).Format(p.base.Units != project.Imperial)
}

// noSeat says why not even one seat fits.
func (p *planner) noSeat() string {
	var wide, long float64
	for _, h := range p.all {
		wide, long = max(wide, h.wide), max(long, h.long())
	}
	return fmt.Sprintf("No seat fits before a picture: behind the screen wall %s are free by %s.", p.show(wide), p.show(long))
}

// prove lists what stands against the wish: whatever must hold and does not, who does
// not hear or see, what cannot be built, and what Lift could not clear.
func (p *planner) prove(out *solve.Proposal, r *sight.Result, lift []solve.Obstacle) {
	d := out.Design
	p.provePicture(out, r)
	told := map[string]bool{}
	add := func(o solve.Obstacle) {
		if !told[o.Text] {
			told[o.Text] = true
			out.Proof = append(out.Proof, o)
		}
	}
	for _, m := range practice.Check(d, r, p.std).Failing() {
		// Who does not hear or see is told below, seat by seat.
		if m.Severity == practice.Must && m.Rule != "sight" && m.Rule != "picture-whole" {
			add(solve.Obstacle{Constraint: "rule " + m.Rule, Where: "the room", Text: m.Text})
		}
	}
	for _, f := range fit.Findings(d) {
		add(solve.Obstacle{Constraint: "room", Where: f.Where, Text: f.String()})
	}
	for i := range r.Seats {
		for k := range r.Speakers {
			if v := r.Pair(i, k).Verdict; v == sight.Tight || v == sight.Blocked {
				q := r.Pair(i, k).Deciding()
				add(solve.Obstacle{Constraint: r.WordsFrom(i, q.Blocker), Where: fmt.Sprintf("row %d seat %d to %s", r.Seats[i].Row, r.Seats[i].Number, r.Speakers[k].Name()),
					Short: max(float64(d.Criteria.Margin)-q.Clearance, 0), Text: r.Sentence(i, k, d.Units)})
			}
		}
	}
	for i, v := range r.Views {
		if v.Verdict == sight.Blocked {
			add(solve.Obstacle{Constraint: r.WordsFrom(i, v.Blocker), Where: fmt.Sprintf("row %d seat %d", r.Seats[i].Row, r.Seats[i].Number),
				Short: max(float64(d.Criteria.PictureMargin)-v.Clearance, 0), Text: r.PictureSentence(i, d.Units)})
		}
	}
	for _, o := range lift {
		add(o)
	}
}

// wholePicture is the wish that gives where rows cannot rise as high as their view takes.
const wholePicture = "the whole picture"

// provePicture says that the wish for the whole picture gives, for how many, and that
// the planned risers are no higher for what limits them.
func (p *planner) provePicture(out *solve.Proposal, r *sight.Result) {
	n, worst := 0, -1
	for i, v := range r.Views {
		if v.Verdict != sight.Blocked {
			continue
		}
		if n++; worst < 0 || v.Visible < r.Views[worst].Visible {
			worst = i
		}
	}
	if n == 0 || p.wish.Keep.Rows || !p.loose {
		return
	}
	var risers []string
	for _, row := range out.Design.Seating.Rows {
		if row.Riser > 0 {
			risers = append(risers, p.show(float64(row.Riser)))
		}
	}
	at := r.Seats[worst]
	text := fmt.Sprintf("The wish that gives is the whole picture for every seat: %d of %s miss some of it, row %d seat %d the most.",
		n, several(len(r.Seats), "seat"), at.Row, at.Number)
	if len(risers) > 0 {
		text += " Higher risers than " + strings.Join(risers, " and ") + " would take more headroom or more steps."
	}
	out.Proof = append(out.Proof, solve.Obstacle{Constraint: wholePicture, Where: "rows", Short: float64(n), Kind: solve.Number, Text: text})
}

// forEveryone says for whom the plan holds, with Everyone.
func (p *planner) forEveryone(out *solve.Proposal) error {
	if !p.wish.Everyone {
		return nil
	}
	r, err := sight.RangeFor(p.ctx, out.Design, p.wish.Range)
	if err != nil {
		return err
	}
	words := "The plan " + r.Words(p.base.Units)
	if r.Holds() {
		out.Note += " " + words + "."
		return nil
	}
	ob := solve.Obstacle{Constraint: "not certified", Where: "the plan", Text: words}
	if i, k, ok := r.Worst(); ok {
		ob.Where = fmt.Sprintf("row %d seat %d to %s", r.Seats[i].Row, r.Seats[i].Number, r.Speakers[k].Name())
		if q := r.Pair(i, k); q.Certified {
			ob.Constraint, ob.Short = r.Case(i, q.Worst), -q.Upper
		}
	}
	out.Proof = append(out.Proof, ob)
	return nil
}

// tellChanges says in words what a plan comes to, and what sets the picture's height.
func (p *planner) tellChanges(o *Option, before *project.Design) {
	out, d := o.Proposal, o.Proposal.Design
	told := func(format string, args ...any) {
		out.Changes = append(out.Changes, solve.Change{Measure: diff.Words, What: fmt.Sprintf(format, args...)})
	}
	if !p.wish.Keep.Rows {
		told("%s with %s in place of %s", several(o.Rows, "row"), several(o.Seats, "seat"), several(len(before.Seating.Rows), "row"))
		for i, row := range d.Seating.Rows {
			what := fmt.Sprintf("row %d: %s at %s from the screen wall", i+1, several(row.Seats, "seat"), p.show(float64(row.Distance)))
			switch {
			case atBar(d, row):
				what += ", at the bar, as it is"
			case row.Riser > 0:
				what += ", riser " + p.show(float64(row.Riser))
			}
			told("%s", what)
		}
	}
	if !p.wish.Keep.Screen {
		s := d.Screen
		o.Limit = p.limitOf(d)
		told("picture %.3g:1, %s wide, lower edge at %s; %s sets its height, %s below the %s that is free there",
			s.Aspect, p.show(float64(s.Width)), p.show(float64(s.Bottom)), o.Limit, p.show(o.TopLimit-o.Top), p.show(o.TopLimit))
	}
	if p.wish.Keep.Loudspeakers {
		return
	}
	main := place.MainPoint(d)
	for _, s := range d.Speakers {
		az, el := direction(s, main)
		told("%s at %s from the screen wall, %s from the left wall, %s high: azimuth %.1f°, elevation %.1f°",
			s.Name(), p.show(float64(s.At.X)), p.show(float64(s.At.Y)), p.show(float64(s.At.Z)), az, el)
	}
	left := 0
	for _, s := range before.Speakers {
		kept := false
		for _, n := range d.Speakers {
			kept = kept || n.Label == s.Label && n.Copy == s.Copy
		}
		if !kept {
			left++
		}
	}
	if left > 0 {
		told("%s of the design left out: not of %s, or a second of its kind", several(left, "loudspeaker"), p.system.String())
	}
	out.Note = "Steps, guards and loads overhead are for the local code and licensed practice to judge."
}

// direction returns from where a loudspeaker sounds at the main position, degrees.
func direction(s project.Loudspeaker, main geometry.Vec) (az, el float64) {
	a, e, _ := geometry.AzEl(s.At.Vec().Sub(main))
	return level(a / unit.Degree), level(e / unit.Degree)
}

// level returns v, degrees, but 0 where it would be printed as -0.0.
func level(v float64) float64 {
	if math.Abs(v) < 0.05 {
		return 0
	}
	return v
}

// limitOf says what sets the height of the picture of a plan.
func (p *planner) limitOf(d *project.Design) string {
	a := arrangement{aspect: d.Screen.Aspect, bottom: float64(d.Screen.Bottom), width: float64(d.Screen.Width)}
	if w, ok := p.limitNames[a.key()]; ok {
		return w
	}
	return "what the rows see"
}
