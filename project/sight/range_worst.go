// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// How RangeFor finds somebody who is blocked: it seats single people and asks
// the exact kernel.

// stand is one person in one seat: what Audit would make of it.
type stand struct {
	percentile, recline float64
	ears                [2]geometry.Vec // left, right
	eye                 geometry.Vec    // between the eyes
	solids              [place.HeadrestPart + 1]geometry.Solid
	lowered             geometry.Solid // headrest
}

// sit makes st person p, of that percentile, in s reclined by angle, with the
// parts of the kinds from first to last.
func (st *stand) sit(p place.Person, percentile float64, s place.Seat, angle float64, first, last place.PartKind) {
	s.Recline = angle
	st.percentile, st.recline = percentile, angle
	body := p.In(s)
	st.ears, st.eye = [2]geometry.Vec{body.EarLeft, body.EarRight}, body.Eye()
	for kind := first; kind <= last; kind++ {
		switch kind {
		case place.HeadPart:
			st.solids[kind] = body.Head.Solid()
		case place.NeckPart:
			st.solids[kind] = body.NeckSolid.Solid()
		case place.ShoulderPart:
			st.solids[kind] = body.Shoulders.Solid()
		case place.BackPart:
			st.solids[kind] = s.BackBox().Solid()
		case place.HeadrestPart:
			if b, ok := s.HeadrestBox(); ok {
				st.solids[kind] = b.Solid()
				b.Center = b.Center.Sub(s.BackBox().Basis.W.Mul(float64(s.Chair.Headrest)))
				st.lowered = b.Solid()
			}
		}
	}
}

// asSet asks the design's own sitters.
func (g *ranger) asSet(t *task, o *obstacle) {
	st := &g.places[t.seat].set[0]
	ot := st
	if o.part >= 0 && g.seatOf[o.part] >= 0 && g.seatOf[o.part] != t.seat {
		ot = &g.places[g.seatOf[o.part]].set[1]
	}
	g.exact(t, o, st, Left, ot)
	if t.speaker >= 0 {
		g.exact(t, o, st, Right, ot)
	}
}

// extremes looks for the worst of the smallest and the largest at some reclines,
// changing one thing at a time for as long as that is worse.
func (g *ranger) extremes(t *task, o *obstacle) {
	pl := &g.places[t.seat]
	other := pl
	if o.part >= 0 && g.seatOf[o.part] >= 0 {
		other = &g.places[g.seatOf[o.part]]
	}
	// Size, recline, ear; size and recline of the other: small, reclined, behind
	// large, upright, is the likely worst.
	at := [5]int{0, leans - 1, 0, 1, 0}
	many := [5]int{2, leans, 2, 2, leans}
	if t.speaker < 0 {
		many[2] = 1
	}
	if other == pl {
		many[3], many[4], at[3] = 1, 1, 0
	}
	best := math.Inf(1)
	var seen [4]uint64 // which stands were tried: none is looked at twice
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
		v := g.exact(t, o, st, Side(next[2]), ot)
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

// couple is one listener and one other: places in ranger.people, and reclines.
type couple struct {
	who, other      int
	lean, otherLean float64
	side            Side
}

// searchAll starts search from places that the first did not.
func (g *ranger) searchAll(t *task, o *obstacle) {
	lean := g.places[t.seat].lean
	other, last := lean, len(g.people)-1
	if o.part >= 0 && g.seatOf[o.part] >= 0 {
		other = g.places[g.seatOf[o.part]].lean
	}
	for _, who := range [2]int{0, last} {
		for _, him := range [2]int{last, 0} {
			for _, turn := range [3]float64{other.From, other.Mid(), other.To} {
				if t.best.Upper >= -touch {
					g.search(t, o, &couple{who: who, other: him, lean: lean.To, otherLean: turn, side: Left})
				}
			}
		}
	}
}

// search looks from the case that extremes found, or from another, for a worse
// one, changing one thing at a time by ever smaller steps (Hooke and Jeeves 1961,
// "Direct search solution of numerical and statistical problems", without its
// pattern moves). It stops when somebody is blocked.
func (g *ranger) search(t *task, o *obstacle, from *couple) {
	const finest = 0.002 // rad
	kind := place.PartKind(0)
	seats := [2]int{t.seat, t.seat}
	both := false
	if o.part >= 0 && moves(g.r.Parts[o.part].Kind) {
		kind, seats[1] = g.r.Parts[o.part].Kind, g.seatOf[o.part]
		both = seats[1] != t.seat
	}
	lean, otherLean := g.places[seats[0]].lean, g.places[seats[1]].lean
	ends := [2]int{0, len(g.people) - 1}
	best := o.least
	at := couple{who: ends[o.at[0]], other: ends[o.at[3]], side: Side(o.at[2]),
		lean: g.places[seats[0]].stands[0][o.at[1]].recline, otherLean: g.places[seats[1]].stands[0][o.at[4]].recline}
	if from != nil {
		best, at = math.Inf(1), *from
	}
	sit := func(st *stand, n int, who int, lean float64) {
		st.sit(g.people[who].Person, g.people[who].percentile, g.r.Seats[seats[n]], lean, kind, kind)
	}
	// Those who sit now, and who might in their place.
	st, stNew := &g.four[0], &g.four[1]
	other, otherNew := &g.four[2], &g.four[3]
	sit(st, 0, at.who, at.lean)
	if both {
		sit(other, 1, at.other, at.otherLean)
	}
	try := func(next couple) bool {
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
		v := g.exact(t, o, a, next.side, b)
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

// exact returns the clearance of one listener from o with one other, takes it up
// if it is the worst so far, and is what Audit would find.
func (g *ranger) exact(t *task, o *obstacle, st *stand, side Side, ot *stand) float64 {
	if o.part == ShellPart {
		return g.exactShell(t, st, side)
	}
	kind, seat := g.r.Parts[o.part].Kind, g.seatOf[o.part]
	solid, lowered := &g.solids[o.part], false
	if seat >= 0 && moves(kind) {
		solid = &ot.solids[kind]
	}
	v := g.clearance(t, o, st, side, solid)
	if kind == place.HeadrestPart && g.out.Options.AnyRecline {
		if w := g.clearance(t, o, st, side, &ot.lowered); w < v {
			v, lowered, solid = w, true, &ot.lowered
		}
	}
	if (!o.crossing || v < -touch) && v < t.best.Upper {
		c := RangeCase{Ear: side, Listener: st.percentile, Recline: st.recline, Blocker: o.part, Lowered: lowered}
		if seat >= 0 && seat != t.seat && moves(kind) {
			c.OtherRecline = ot.recline
			if g.r.Parts[o.part].Person() {
				c.Other = ot.percentile
			}
		}
		t.best.Upper, t.best.Worst = v, c
		if g.brief {
			g.found = witness{t.speaker >= 0, st.ears[side], *solid, c}
		}
	}
	return v
}

// clearance is the exact clearance of one listener from one solid.
func (g *ranger) clearance(t *task, o *obstacle, st *stand, side Side, solid *geometry.Solid) float64 {
	if t.speaker >= 0 {
		seg := geometry.Segment{A: st.ears[side], B: t.tips[0]}
		if gap := solid.Bound().Gap(seg); gap > max(t.best.Upper, 0.1) { // m, farther than refine looks
			return gap
		}
		c, _ := solid.Clearance(seg)
		sp := &g.r.Speakers[t.speaker]
		if c < 0 && g.setIn(o.part, &sp.Drivers[sp.Spec.Deciding()], seg.A) {
			return 0
		}
		return c
	}
	eye := st.eye
	c := float64(Far)
	if !o.crossing {
		low := newSheet(eye, t.tips[0], t.tips[1])
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

// try looks at one listener and one other in the middle of c.
func (g *ranger) try(t *task, o *obstacle, c *cell, both bool) {
	st, ot := &g.one, &g.two
	kind := place.PartKind(0)
	if o.part >= 0 && moves(g.r.Parts[o.part].Kind) {
		kind = g.r.Parts[o.part].Kind
	}
	sit := func(s *stand, seat int, who *place.Crowd, lean place.Lean) {
		p, at := who.Small(), who.Low()
		if at != g.all.Low() { // keep to the ends where the cell has them
			p, at = who.Large(), who.High()
		}
		s.sit(p, at, g.r.Seats[seat], lean.Mid(), kind, kind)
	}
	sit(st, t.seat, c.who, c.lean)
	if both {
		sit(ot, g.seatOf[o.part], c.other, c.otherLean)
	} else {
		ot = st
	}
	if c.side <= 0 {
		g.exact(t, o, st, Left, ot)
	}
	if c.side >= 0 && t.speaker >= 0 {
		g.exact(t, o, st, Right, ot)
	}
}
