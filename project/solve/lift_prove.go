// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/diff"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// finish writes the result into the proposal.
func (l *lifter) finish(before *project.Design) {
	d := l.p.Design
	moved := make([]bool, len(d.Speakers))
	for _, g := range l.groups {
		if g.ok && !g.kept && l.shortMove(g) {
			l.restore(g)
			g.kept = true
		}
		for i := range g.members {
			m := &g.members[i]
			moved[m.k] = true
			if !g.kept {
				d.Speakers[m.k].At = l.exact.Room().Speakers[m.k].At
			}
		}
	}
	l.p.Changes = placeChanges(before, d)
	_, after := count(d)
	for _, g := range l.groups {
		if !g.ok {
			l.prove(g, after)
			l.offerPair(g)
		}
	}
	l.keep(after)
	left := 0
	for i := range after.Seats {
		for k := range after.Speakers {
			if v := after.Pair(i, k).Verdict; !moved[k] && v >= sight.Tight && v == l.was.Pair(i, k).Verdict {
				left++
			}
		}
	}
	if l.all != nil && len(l.groups) > 0 && !slices.ContainsFunc(l.groups, func(g *group) bool { return !g.ok }) {
		l.notes = append(l.notes, fmt.Sprintf("Nobody from %s finds a lifted loudspeaker blocked.", l.o.Range.Words()))
	}
	switch {
	case left > 0 && len(l.groups) == 0:
		l.p.add(Obstacle{Constraint: "nothing to lift", Where: "the room", Short: float64(left), Kind: Number,
			Text: fmt.Sprintf("%s of seat and loudspeaker stay short of clear, of loudspeakers that this does not move.", several(left, "pair"))})
	case left > 0:
		l.notes = append(l.notes, fmt.Sprintf("%s of seat and loudspeaker stay short of clear, of loudspeakers that this does not move.", several(left, "pair")))
	}
	l.p.Note = strings.Join(l.notes, " ")
	l.p.conclude(before, l.was)
}

// shortMove reports whether g moved by less than a millimetre, and is clear as given.
func (l *lifter) shortMove(g *group) bool {
	room := l.exact.Room()
	for i := range g.members {
		m := &g.members[i]
		if room.Speakers[m.k].At.Vec().Dist(m.given.At.Vec()) >= millimetre {
			return false
		}
	}
	placed := make([]place.Speaker, len(g.members))
	for i := range g.members {
		placed[i] = room.Speakers[g.members[i].k]
	}
	if l.restore(g) {
		return true
	}
	for i := range g.members {
		l.put(g.members[i].k, placed[i])
	}
	return false
}

// offerPair says where a second pair of sides serves better than more height: a common
// answer of the trade to many seats abreast, without a source.
func (l *lifter) offerPair(g *group) {
	const abreast = 5 // seats
	d := l.p.Design
	most := 0
	for _, r := range d.Seating.Rows {
		most = max(most, r.Seats)
	}
	if most < abreast || len(g.members) != 2 || practice.LayerIn(d, g.members[0].given) != practice.Side {
		return
	}
	label := g.members[0].given.Label
	copies := 0
	for _, s := range d.Speakers {
		if s.Label == label {
			copies++
		}
	}
	if copies > 1 {
		return
	}
	l.notes = append(l.notes, fmt.Sprintf("%s serve %d seats abreast: a second pair of sides (copies a and b), ahead of and behind the row's line, reaches more of them from a lower height.",
		g.names(), most))
}

// placeChanges lists the visible changes of the loudspeakers' places.
func placeChanges(before, after *project.Design) []Change {
	return slices.DeleteFunc(diff.Seen(diff.Compare(before, after)), func(c Change) bool {
		return c.Thing.Kind != diff.Speaker || !strings.Contains(c.Field, "].at.")
	})
}

// pairObstacle says what stands between seat i and loudspeaker k.
func pairObstacle(d *project.Design, r *sight.Result, i, k int) Obstacle {
	q := r.Pair(i, k).Deciding()
	return Obstacle{
		Constraint: r.WordsFrom(i, q.Blocker),
		Where:      fmt.Sprintf("row %d seat %d to %s", r.Seats[i].Row, r.Seats[i].Number, r.Speakers[k].Name()),
		Short:      max(float64(d.Criteria.Margin)-q.Clearance, 0),
		Text:       r.Sentence(i, k, d.Units),
	}
}

// needed looks for the clear height of g beyond its limit, in a room with a higher
// ceiling and nothing in the way of frames.
func (l *lifter) needed(g *group) (u float64, ok bool) {
	if g.hi < g.lo {
		return 0, false
	}
	if l.above == nil {
		d := l.p.Design.Clone()
		d.Room.Ceiling = d.Room.Ceiling.Raised(2 * beyond)
		above := *l
		above.higher = true
		above.exact = sight.NewProbe(d)
		above.roomy, above.probe, above.allowance = above.exact, above.exact, 0
		if above.all, _ = l.o.People.probe(d); above.all != nil { // made once already
			above.all.Look(0, cellsForEstimate)
			above.look = lookAgain
		}
		l.above = &above
	}
	rate := g.members[0].rate
	u, ok, _ = climb(l.ctx, g.hi, g.hi+beyond/rate, millimetre/rate, func(u float64) (float64, bool) { return l.above.shortfall(g, u) })
	return u, ok
}

// stand puts g where it is proposed.
func (l *lifter) stand(g *group) {
	if g.kept {
		l.restore(g)
	} else {
		l.move(g, g.u)
	}
}

// worst returns, for g at u, what stands most in the way, and in the way of which
// seat, both in words; empty when nothing does.
func (l *lifter) worst(g *group, u float64) (what, where string) {
	l.move(g, u)
	room := l.probe.Room()
	least := math.Inf(1)
	for i := range g.members {
		for seat, s := range room.Seats {
			q := l.probe.Path(seat, g.members[i].k)
			if (q.Verdict == sight.Tight || q.Verdict == sight.Blocked) && q.Clearance < least {
				least, what = q.Clearance, room.WordsFrom(seat, q.Blocker)
				where = fmt.Sprintf("row %d seat %d", s.Row, s.Number)
			}
		}
	}
	return what, where
}

// prove says why g could not be cleared.
func (l *lifter) prove(g *group, after *sight.Result) {
	d := l.p.Design
	show := func(z float64) string { return Metres.Show(z, d.Units) }
	m := &g.members[0]
	u, ok := l.needed(g)
	at := m.height(min(g.u, max(g.hi, g.lo)))
	ob := Obstacle{Constraint: g.limit, Where: g.names()}
	switch {
	case g.hi < g.lo:
		ob.Short = m.rate * (g.lo - g.hi)
		ob.Text = fmt.Sprintf("%s must hang at %s or more for %s, which is %s over what %s allows.",
			ob.Where, show(m.height(g.lo)), g.limits, show(ob.Short), g.limit)
	case ok:
		ob.Short = m.rate * (u - g.hi)
		ob.Text = fmt.Sprintf("%s would have to hang at %s%s to be clear for %s; %s allows %s, %s less. At %s the fewest pairs fall short.",
			ob.Where, l.o.about(), show(m.height(u)), l.o.whom(), g.limit, show(m.height(g.hi)), show(ob.Short), show(at))
	default:
		ob.Text = fmt.Sprintf("%[1]s cannot be clear for %[6]s at any height (searched to %[2]s; %[3]s allows %[4]s). At %[5]s the fewest pairs fall short.",
			ob.Where, show(m.height(g.hi)+beyond), g.limit, show(m.height(g.hi)), show(at), l.o.whom())
		if what, where := l.worst(g, g.hi); what != "" {
			ob.Text += fmt.Sprintf(" Highest up, %s is in the way of %s.", what, where)
		}
		l.stand(g)
	}
	l.p.Proof = append(l.p.Proof, ob)
	for i := range g.members {
		m := &g.members[i]
		if f, depth := inTheWay(&d.Room, &after.Speakers[m.k]); depth > 0 {
			part := "box"
			if after.Speakers[m.k].Spec.Flush {
				part = "frame"
			}
			l.p.Proof = append(l.p.Proof, Obstacle{Constraint: d.Room.Features[f].Words(), Where: m.start.Name(), Short: depth,
				Text: fmt.Sprintf("The %s of %s stands %s in the %s.", part, m.start.Name(), show(depth), d.Room.Features[f].Words())})
		}
		for seat := range after.Seats {
			if v := after.Pair(seat, m.k).Verdict; v == sight.Tight || v == sight.Blocked {
				l.p.Proof = append(l.p.Proof, pairObstacle(d, after, seat, m.k))
			}
		}
		l.proveRange(m)
	}
}

// proveRange names the worst pair of m for somebody of the range.
func (l *lifter) proveRange(m *member) {
	if l.all == nil {
		return
	}
	r := l.all.Result()
	n, worst := 0, 0
	var deep sight.RangePair
	for seat := range r.Seats {
		q := l.all.Worst(seat, m.k)
		if !q.Judged || q.Holds {
			continue
		}
		*r.Pair(seat, m.k) = q
		if n++; n == 1 || q.Certified && (!deep.Certified || q.Upper < deep.Upper) {
			deep, worst = q, seat
		}
	}
	if n == 0 {
		return
	}
	s := r.Seats[worst]
	ob := Obstacle{Constraint: "not certified", Where: fmt.Sprintf("row %d seat %d to %s", s.Row, s.Number, m.start.Name()),
		Text: r.Sentence(worst, m.k, l.p.Design.Units)}
	if deep.Certified {
		ob.Constraint, ob.Short = r.Case(worst, deep.Worst), -deep.Upper
	}
	if n > 1 {
		ob.Text = andMore(ob.Text, n-1, "seat")
	}
	l.p.Proof = append(l.p.Proof, ob)
}
