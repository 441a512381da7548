// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// How RangeFor finds somebody who is blocked: it seats single people and computes
// their exact clearance.

// stand is one person in one seat, with the solids that Audit would use.
type stand struct {
	percentile, recline float64
	ears                [2]geometry.Vec // left, right
	eye                 geometry.Vec    // between the eyes
	solids              [place.HeadrestPart + 1]geometry.Solid
	longHead            geometry.Solid // the longest head of the range, on the same trunk
	long                bool           // whether there is one
	headrest            geometry.Box   // raised
	lower               geometry.Vec   // from raised to lowered
}

// lowered returns the headrest, lowered by this share of its travel.
func (st *stand) lowered(share float64) geometry.Solid {
	b := st.headrest
	b.Center = b.Center.Add(st.lower.Mul(share))
	return b.Solid()
}

// sit makes st the person p of c, of the given percentile, in seat s reclined by
// angle, radians, with the parts of these kinds.
func (st *stand) sit(c *place.Crowd, p place.Person, percentile float64, s place.Seat, angle float64, kinds ...place.PartKind) {
	s.Recline = angle
	st.percentile, st.recline = percentile, angle
	body := p.Pose(&s)
	st.ears[Left], st.ears[Right] = body.Ears()
	st.eye = body.Eye()
	for _, kind := range kinds {
		switch kind {
		case place.HeadPart:
			st.solids[kind] = body.Head().Solid()
			var above float64
			if above, st.long = c.LongHead(p); st.long {
				long := body.WithCrown(above)
				st.longHead = long.Head().Solid()
			}
		case place.NeckPart:
			st.solids[kind] = body.Neck().Solid()
		case place.ShoulderPart:
			st.solids[kind] = body.Shoulders().Solid()
		case place.BackPart:
			st.solids[kind] = s.BackBox().Solid()
		case place.HeadrestPart:
			if b, ok := s.HeadrestBox(); ok {
				st.solids[kind] = b.Solid()
				st.headrest, st.lower = b, s.Up().Mul(-float64(s.Chair.Headrest))
			}
		}
	}
}

// movingKinds are the kinds of parts that move with a sitter or a chair.
var movingKinds = [...]place.PartKind{place.HeadPart, place.NeckPart, place.ShoulderPart, place.BackPart, place.HeadrestPart}

// kinds returns the kind of o, if it is one that moves with its seat.
func (g *ranger) kinds(o *obstacle) []place.PartKind {
	if o.part < 0 || !moves(g.r.Parts[o.part].Kind) {
		return nil
	}
	kind := g.r.Parts[o.part].Kind
	return movingKinds[kind : kind+1]
}

// asSet tries the design's own sitters.
func (g *ranger) asSet(t *task, o *obstacle) {
	st := &g.places[t.seat].set[0]
	ot := st
	if o.part >= 0 && g.seatOf[o.part] >= 0 && g.seatOf[o.part] != t.seat {
		ot = &g.places[g.seatOf[o.part]].set[1]
	}
	g.exact(t, o, st, Left, ot, t.best.Upper)
	if t.speaker >= 0 {
		g.exact(t, o, st, Right, ot, t.best.Upper)
	}
}

// extremes looks for the worst case among the smallest and the largest sitter at
// a few reclines. It changes one thing at a time as long as that makes it worse.
func (g *ranger) extremes(t *task, o *obstacle) {
	pl := &g.places[t.seat]
	other := pl
	if o.part >= 0 && g.seatOf[o.part] >= 0 {
		other = &g.places[g.seatOf[o.part]]
	}
	// Size, recline and ear of the listener; size and recline of the other. The
	// likely worst is a small reclined listener behind a large upright other.
	at := [5]int{0, leans - 1, 0, 1, 0}
	many := [5]int{2, leans, 2, 2, leans}
	if t.speaker < 0 {
		many[2] = 1
	}
	if other == pl {
		many[3], many[4], at[3] = 1, 1, 0
	}
	best := math.Inf(1)
	var seen [4]uint64 // the cases tried: none is tried twice
	try := func(next [5]int) bool {
		n := ((((next[0]*leans)+next[1])*2+next[2])*2+next[3])*leans + next[4]
		if seen[n/64]>>(n%64)&1 != 0 {
			return false
		}
		seen[n/64] |= 1 << (n % 64)
		st := &pl.stands[next[0]][next[1]]
		ot := st
		if other != pl {
			ot = &other.stands[next[3]][next[4]]
		}
		v := g.exact(t, o, st, Side(next[2]), ot, best)
		if v < best {
			best, at = v, next
			return true
		}
		return false
	}
	try(at)
	for again := true; again; {
		again = false
		for n, m := range many {
			for _, by := range [4]int{1, -1, m - 1, 1 - m} { // near, then far
				next := at
				next[n] += by
				if next[n] >= 0 && next[n] < m && next[n] != at[n] {
					again = try(next) || again
				}
			}
		}
	}
	o.at, o.least = at, best
}

// searchCase is one listener and one other sitter: their indexes in
// ranger.people, their reclines in radians, and the listener's ear.
type searchCase struct {
	who, other      int
	lean, otherLean float64
	side            Side
}

// searchAll starts further searches, from other cases than the first.
func (g *ranger) searchAll(t *task, o *obstacle) {
	lean := g.places[t.seat].lean
	other, last := lean, len(g.people)-1
	if o.part >= 0 && g.seatOf[o.part] >= 0 {
		other = g.places[g.seatOf[o.part]].lean
	}
	for _, who := range [2]int{0, last} {
		for _, otherIndex := range [2]int{last, 0} {
			for _, turn := range [3]float64{other.From, other.Mid(), other.To} {
				if t.best.Upper >= -touch {
					g.search(t, o, &searchCase{who: who, other: otherIndex, lean: lean.To, otherLean: turn, side: Left})
				}
			}
		}
	}
}

// search starts from the case that extremes found, or from from if that is not
// nil, and looks for a worse one. It changes one thing at a time, by smaller and
// smaller steps (Hooke and Jeeves 1961, "Direct search solution of numerical and
// statistical problems", without its pattern moves), and stops as soon as
// somebody is blocked.
func (g *ranger) search(t *task, o *obstacle, from *searchCase) {
	const finest = 0.002 // rad
	kinds := g.kinds(o)
	seats := [2]int{t.seat, t.seat}
	both := false
	if len(kinds) > 0 {
		seats[1] = g.seatOf[o.part]
		both = seats[1] != t.seat
	}
	lean, otherLean := g.places[seats[0]].lean, g.places[seats[1]].lean
	ends := [2]int{0, len(g.people) - 1}
	best := o.least
	at := searchCase{who: ends[o.at[0]], other: ends[o.at[3]], side: Side(o.at[2]),
		lean: g.places[seats[0]].stands[0][o.at[1]].recline, otherLean: g.places[seats[1]].stands[0][o.at[4]].recline}
	if from != nil {
		best, at = math.Inf(1), *from
	}
	sit := func(st *stand, n int, who int, lean float64) {
		kinds := kinds
		if both && n == 0 {
			kinds = nil // of the listener only ears and eyes are asked for
		}
		st.sit(g.all, g.people[who].Person, g.people[who].percentile, g.r.Seats[seats[n]], lean, kinds...)
	}
	// The current case, and the one that is tried.
	st, stNew := &g.searchStands[0], &g.searchStands[1]
	other, otherNew := &g.searchStands[2], &g.searchStands[3]
	sit(st, 0, at.who, at.lean)
	if both {
		sit(other, 1, at.other, at.otherLean)
	}
	try := func(next searchCase) bool {
		if next.who < 0 || next.who > ends[1] || next.other < 0 || next.other > ends[1] ||
			next.lean < lean.From || next.lean > lean.To || next.otherLean < otherLean.From || next.otherLean > otherLean.To {
			return false
		}
		a, b := st, other
		if next.who != at.who || next.lean != at.lean {
			a = stNew
			sit(a, 0, next.who, next.lean)
		}
		switch {
		case !both:
			b = a
		case next.other != at.other || next.otherLean != at.otherLean:
			b = otherNew
			sit(b, 1, next.other, next.otherLean)
		}
		v := g.exact(t, o, a, next.side, b, best)
		if v >= best {
			return false
		}
		best, at = v, next
		if a == stNew {
			st, stNew = stNew, st
		}
		if b == otherNew {
			other, otherNew = otherNew, other
		}
		return true
	}
	step, people := (lean.To-lean.From)/(leans-1), ends[1]/4
	for (step > finest || people > 0) && t.best.Upper >= -touch {
		better := false
		for _, by := range [2]float64{1, -1} {
			next := at
			next.lean += by * step
			better = step > 0 && try(next) || better
			if both {
				next = at
				next.otherLean += by * step
				better = step > 0 && try(next) || better
			}
			if people > 0 {
				next = at
				next.who += int(by) * people
				better = try(next) || better
				if both {
					next = at
					next.other += int(by) * people
					better = try(next) || better
				}
			}
		}
		if people > 0 && t.speaker >= 0 {
			next := at
			next.side = Left + Right - next.side
			better = try(next) || better
		}
		if !better {
			step, people = step/2, people/2
		}
	}
}

// exact returns the clearance that Audit would report for this listener and this
// other sitter, and records it if it is the worst so far. best is the least that
// the caller has found for o: a clearance that is not less it may take for any
// other.
func (g *ranger) exact(t *task, o *obstacle, st *stand, side Side, ot *stand, best float64) float64 {
	if o.part == ShellPart {
		return g.exactShell(t, st, side)
	}
	kind, seat := g.r.Parts[o.part].Kind, g.seatOf[o.part]
	solid, lowered := &g.solids[o.part], 0.0
	if seat >= 0 && moves(kind) {
		solid = &ot.solids[kind]
	}
	v, long := g.clearance(t, o, st, side, solid, best), false
	if kind == place.HeadPart && ot.long && v >= -touch { // else blocked without a long head
		if w := g.clearance(t, o, st, side, &ot.longHead, min(v, best)); w < v {
			v, long, solid = w, true, &ot.longHead
		}
	}
	held := seat == t.seat && g.r.Seats[seat].HoldsHeadrest(place.Lean{From: st.recline, To: st.recline})
	if kind == place.HeadrestPart && g.out.Options.AnyRecline && !held {
		down := &g.down[0]
		*down = ot.lowered(1)
		w := g.clearance(t, o, st, side, down, min(v, best))
		// In between it comes nearer by no more than it moves.
		up, low, way := v, w, ot.lower.Len()
		if w < v {
			g.down[1] = *down
			v, lowered, solid = w, 1, &g.down[1]
		}
		for _, share := range [3]float64{0.25, 0.5, 0.75} {
			if v < -touch || max(up-share*way, low-(1-share)*way) >= -touch {
				continue
			}
			*down = ot.lowered(share)
			if w := g.clearance(t, o, st, side, down, min(v, best)); w < v {
				g.down[1] = *down
				v, lowered, solid = w, share, &g.down[1]
			}
		}
	}
	if (!o.crossing || v < -touch) && v < t.best.Upper {
		c := RangeCase{Ear: side, Listener: st.percentile, Recline: st.recline, Blocker: o.part, LongHead: long, Lowered: lowered}
		if seat >= 0 && seat != t.seat && moves(kind) {
			c.OtherRecline = ot.recline
			if g.r.Parts[o.part].Person() {
				c.Other = ot.percentile
			}
		}
		t.best.Upper, t.best.Worst = v, c
		if g.brief {
			g.found = counterexample{t.speaker >= 0, st.ears[side], *solid, c}
		}
	}
	return v
}

// clearance returns the exact clearance of one listener from one solid, or a lower
// bound of it that is not less than least.
func (g *ranger) clearance(t *task, o *obstacle, st *stand, side Side, solid *geometry.Solid, least float64) float64 {
	if t.speaker >= 0 {
		seg := geometry.Segment{A: st.ears[side], B: t.targets[0]}
		ln := newLine(seg.A, seg.B)
		away := ln.towards(solid.Bound().Center)
		dist := away.Len()
		if gap := dist - solid.Bound().Radius; gap > max(t.best.Upper, 0.1) { // m, too far to matter
			return gap
		}
		// All of the path lies beyond the plane square to the shortest way to it.
		if dist > 0 {
			if gap := dist - solid.Reach(away)/dist; gap >= least {
				return gap
			}
		}
		c, _ := solid.Clearance(seg)
		sp := &g.r.Speakers[t.speaker]
		if c < 0 && o.crossing && g.setIn(o.part, &sp.Drivers[sp.Spec.Deciding()], seg.A) {
			return 0
		}
		return c
	}
	eye := st.eye
	c := float64(Far)
	if !o.crossing {
		low := newSheet(eye, t.targets[0], t.targets[1])
		// Hiding some of the picture, without depth, counts as twice touch.
		if over := low.over(solid); over >= least && least <= -2*touch {
			return over
		}
		c, _, _ = low.clearance(solid, Far)
	}
	if c >= -touch {
		one := [1]geometry.Solid{*solid}
		if g.scratch.Visible(eye, g.target, one[:], nil) < whole {
			c = min(c, -2*touch)
		}
	}
	return c
}

// over returns how far s lies below the plane of sh (negative: it reaches so far
// over it): no clearance from sh is less.
func (sh *sheet) over(s *geometry.Solid) float64 {
	return sh.n.Dot(sh.eye.Sub(s.Bound().Center)) - s.Reach(sh.n)
}

// try computes the exact clearance of one listener and one other from the middle
// of c.
func (g *ranger) try(t *task, o *obstacle, c *cell, both bool) {
	st, ot := &g.midListener, &g.midOther
	kinds := g.kinds(o)
	sit := func(s *stand, seat int, who *place.Crowd, lean place.Lean, kinds ...place.PartKind) {
		p, at := who.Small(), who.Low()
		if at != g.all.Low() { // prefer the ends of the range where the cell has them
			p, at = who.Large(), who.High()
		}
		s.sit(g.all, p, at, g.r.Seats[seat], lean.Mid(), kinds...)
	}
	if both {
		sit(st, t.seat, c.who, c.lean)
		sit(ot, g.seatOf[o.part], c.other, c.otherLean, kinds...)
	} else {
		sit(st, t.seat, c.who, c.lean, kinds...)
		ot = st
	}
	if c.side <= 0 {
		g.exact(t, o, st, Left, ot, t.best.Upper)
	}
	if c.side >= 0 && t.speaker >= 0 {
		g.exact(t, o, st, Right, ot, t.best.Upper)
	}
}
