// SPDX-License-Identifier: MIT

package solve

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// move puts g at u.
func (l *lifter) move(g *group, u float64) {
	for i := range g.members {
		m := &g.members[i]
		l.put(m.k, m.at(m.height(u)))
	}
}

// put replaces loudspeaker k by placed.
func (l *lifter) put(k int, placed place.Speaker) {
	l.exact.Move(k, placed)
	if l.roomy != l.exact {
		l.roomy.Move(k, placed)
	}
	if l.all != nil {
		l.all.Move(k, placed)
	}
}

// restore puts g back where it was, and reports whether it is clear there.
func (l *lifter) restore(g *group) bool {
	for i := range g.members {
		m := &g.members[i]
		l.put(m.k, place.OneSpeaker(m.d, m.given, l.main))
	}
	room := l.exact.Room()
	for i := range g.members {
		m := &g.members[i]
		for seat := range room.Seats {
			if q := l.exact.Path(seat, m.k); q.Verdict == sight.Tight || q.Verdict == sight.Blocked {
				return false
			}
			if l.all != nil {
				if q, _ := l.all.Shortfall(seat, m.k); q.Judged && !q.Holds {
					return false
				}
			}
		}
	}
	return true
}

// shortfall moves g to u and returns a lower bound of how much more it must rise,
// and whether any pair of g fails there.
func (l *lifter) shortfall(g *group, u float64) (step float64, fails bool) {
	l.move(g, u)
	room := l.probe.Room()
	seats := len(room.Seats)
	if len(g.free) != len(g.members)*seats {
		g.free = make([]float64, len(g.members)*seats)
	}
	far := resolution * 10 // a step large enough to take at once
	ask := func(i, seat int) {
		m := &g.members[i]
		q, s := l.probe.Shortfall(seat, m.k)
		if q.Verdict != sight.Tight && q.Verdict != sight.Blocked {
			sp := &room.Speakers[m.k]
			if q.Verdict == sight.Clear {
				s = min(q.Clearance-max(float64(m.d.Criteria.Margin)+l.allowance, sp.Drivers[sp.Spec.Deciding()].Radius), lookAgain)
			}
			g.free[i*seats+seat] = u + max(s, 0)/m.speed/m.rate
			return
		}
		if q.Blocker == sight.ShellPart {
			s = max(s, m.outOfShell(q.To))
		}
		if !math.IsInf(s, 0) { // an infinite speed must not make it NaN
			s = s / m.speed / m.rate
		}
		if s > step || !fails {
			step = max(step, s)
			g.lastMember, g.lastSeat = i, seat
		}
		fails, g.openAt = true, math.Inf(1)
	}
	if l.all != nil && seats > 0 { // the pair that broke last comes first
		m := &g.members[g.lastPair/seats]
		if _, s := l.all.Known(g.lastPair%seats, m.k); s/m.speed/m.rate > far {
			g.openAt = math.Inf(1)
			return s / m.speed / m.rate, true
		}
	}
	if g.lastMember < len(g.members) && g.lastSeat < len(room.Seats) {
		if ask(g.lastMember, g.lastSeat); step > far {
			return step, fails
		}
	}
	for i := range g.members {
		m := &g.members[i]
		if f, depth := inTheWay(&m.d.Room, &room.Speakers[m.k]); depth > 0 && !(l.higher && room.Speakers[m.k].Spec.Flush && m.d.Room.Features[f].Kind.Overhead()) {
			step, fails = max(step, depth/m.speed/m.rate), true
		}
	}
	// Pairs that were clear by more than the move since then come last. They
	// cannot be left out: clearance does not bound what counts only where it is
	// crossed.
	l.later = l.later[:0]
	for n, free := range g.free {
		if u < free {
			l.later = append(l.later, n)
		} else if ask(n/seats, n%seats); step > far {
			return step, fails
		}
	}
	if fails {
		return step, fails
	}
	if l.all != nil {
		if step, fails = l.rangeShortfall(g, u); fails {
			return step, fails
		}
	}
	for _, n := range l.later {
		if ask(n/seats, n%seats); fails {
			break
		}
	}
	return step, fails
}

// rangeShortfall is shortfall for everyone of the range, with g at u already.
func (l *lifter) rangeShortfall(g *group, u float64) (step float64, fails bool) {
	seats := len(l.probe.Room().Seats)
	all := len(g.members) * seats
	for n := range all {
		n = (g.lastPair + n) % all // the pair that broke last is likely to break again
		m := &g.members[n/seats]
		q, s := l.all.Shortfall(n%seats, m.k)
		if !q.Judged || q.Holds {
			continue
		}
		switch {
		case q.Certified && q.Worst.Blocker == sight.ShellPart:
			sp := &l.probe.Room().Speakers[m.k]
			s = m.outOfShell(sp.Drivers[sp.Spec.Deciding()].Center)
		case !q.Certified:
			s = l.look
			g.openAt = min(g.openAt, u)
		}
		if q.Certified {
			g.openAt = math.Inf(1)
		}
		g.lastPair = n
		if !math.IsInf(s, 0) {
			s = s / m.speed / m.rate
		}
		return s, true
	}
	return 0, false
}

// fastest returns how much the fastest loudspeaker of g rises per unit of u.
func (g *group) fastest() float64 {
	most := 0.0
	for _, m := range g.members {
		most = max(most, m.rate)
	}
	return most
}

// least returns the least step of u for g: none of its loudspeakers moves by more
// than the resolution, or a millimetre where a speed has no bound.
func (g *group) least() float64 {
	fine := resolution
	for _, m := range g.members {
		if math.IsInf(m.speed, 0) {
			fine = millimetre
		}
	}
	return fine / g.fastest()
}

// solve places every group. A box may stand in another's path, so it goes through
// the groups again until none moves.
func (l *lifter) solve() error {
	const rounds = 4
	for round := range rounds {
		moved := false
		for n, g := range l.groups {
			l.o.tell(float64(round*len(l.groups)+n)/float64(rounds*len(l.groups)), "lifting "+l.p.Design.Speakers[g.members[0].k].Name())
			if g.rear && l.plane != nil {
				l.bound(g)
			}
			before, was := g.u, round > 0
			if err := l.place(g); err != nil {
				return err
			}
			moved = moved || !was || math.Abs(g.u-before) > resolution
		}
		if !moved {
			break
		}
	}
	l.o.tell(1, "lifted")
	return nil
}

// place places g while all others stand still: as given if that is clear, else with the
// build allowance, else without.
func (l *lifter) place(g *group) error {
	if l.mayStay(g) && l.restore(g) {
		g.ok, g.failed, g.kept = true, false, true
		return nil
	}
	g.kept = false
	for _, roomy := range [2]bool{true, false} {
		if l.probe = l.exact; roomy {
			l.probe = l.roomy
		}
		done, err := l.clear(g)
		g.roomy = done && roomy
		if l.probe = l.exact; done || err != nil {
			return err
		}
		if l.allowance == 0 {
			break
		}
	}
	l.shift(g, 0)
	if g.failed { // the compromise of an earlier round stays
		g.kept = g.stays
		l.stand(g)
		return nil
	}
	g.ok, g.failed = false, true
	return l.compromise(g)
}

// mayStay reports whether g may stand as given, and was not found to fail there.
func (l *lifter) mayStay(g *group) bool { return l.free(g) && !g.failed }

// free reports whether no wish of the options takes g from where it was given.
func (l *lifter) free(g *group) bool {
	return !l.o.Settle && g != l.plane && (!g.rear || l.plane == nil)
}

// built reports whether all of g, as given, are under the ceiling and their frames under
// what hangs over them.
func (g *group) built() bool {
	for i := range g.members {
		m := &g.members[i]
		p := place.OneSpeaker(m.d, m.given, m.main)
		if what, _ := overFrame(&m.d.Room, p); what != "" || overCeiling(&m.d.Room, &p) > buildTol {
			return false
		}
	}
	return true
}

// clear puts g at the least clear height at the nearest place that has one.
func (l *lifter) clear(g *group) (bool, error) {
	for _, s := range shifts(float64(l.o.Shift)) {
		u, ok, err := l.climb(g, s)
		if err != nil {
			return false, err
		}
		if !ok {
			continue
		}
		if s != 0 {
			if u, err = l.back(g, s, u); err != nil {
				return false, err
			}
		}
		return true, l.settle(g, u)
	}
	return false, nil
}

// climb searches upwards for the least clear height of g, shifted by s along its
// walls.
func (l *lifter) climb(g *group, s float64) (u float64, ok bool, err error) {
	if !l.shift(g, s) {
		return 0, false, nil
	}
	g.openAt = math.Inf(1)
	return climb(l.ctx, g.lo, g.hi, g.least(), func(u float64) (float64, bool) { return l.shortfall(g, u) })
}

// back bisects the last step of the shift s, with which g is clear at u. It leaves
// g shifted by the least that it finds clear, and returns the height there.
func (l *lifter) back(g *group, s, u float64) (float64, error) {
	const fine = 0.002 // m
	openAt := g.openAt
	for near := s - math.Copysign(shiftStep, s); math.Abs(s-near) > fine; {
		mid := (near + s) / 2
		v, ok, err := l.climb(g, mid)
		if err != nil {
			return u, err
		}
		if ok {
			s, u, openAt = mid, v, g.openAt
		} else {
			near = mid
		}
	}
	l.shift(g, s)
	g.openAt = openAt
	return u, nil
}

// settle puts g at u, where it is clear, or lower where that is clear too, and
// rounds up.
func (l *lifter) settle(g *group, u float64) error {
	if l.all != nil {
		l.all.Look(0, 0)
		defer l.all.Look(0, cellsWhileClimbing)
	}
	u, err := l.nearer(g, u)
	if err != nil {
		return err
	}
	up := upTo(u, millimetre)
	if l.mayStay(g) && up < g.lo+millimetre { // less is no raise
		up = g.lo + millimetre
	}
	if l.plane != g && up <= g.hi {
		if _, fails := l.shortfall(g, up); !fails {
			u = up
		}
	}
	g.u, g.ok, g.failed = u, true, false
	l.move(g, u)
	return nil
}

// nearer bisects the stretch below u in which the small budget left a pair open,
// and returns the least height that it finds clear. g is clear at u.
func (l *lifter) nearer(g *group, u float64) (float64, error) {
	if l.all == nil {
		return u, nil
	}
	for lo := g.openAt; u-lo > millimetre/2/g.fastest(); {
		if err := l.ctx.Err(); err != nil {
			return u, err
		}
		mid := (lo + u) / 2
		if _, fails := l.shortfall(g, mid); fails {
			lo = mid
		} else {
			u = mid
		}
	}
	return u, nil
}

// shifts returns the places to try along a wall, the nearest first.
func shifts(most float64) []float64 {
	out := []float64{0}
	for n := 1; float64(n)*shiftStep <= most+resolution; n++ {
		out = append(out, float64(n)*shiftStep, -float64(n)*shiftStep)
	}
	return out
}

// compromise puts g at the height, of those tried, where the fewest pairs are
// blocked, then tight, then, with Everyone, broken for somebody of the range; of
// equal heights, where the tightest path has the greatest clearance.
func (l *lifter) compromise(g *group) error {
	if g.hi < g.lo { // at least it can be built
		if l.free(g) && g.built() {
			l.restore(g)
			g.u, g.kept, g.stays = g.lo, true, true
			return nil
		}
		g.u = g.hi
		l.move(g, g.u)
		return nil
	}
	if l.all != nil {
		l.all.Look(lookAgain, cellsForEstimate)
		defer l.all.Look(0, cellsWhileClimbing)
	}
	most := shortfall{math.MaxInt}
	asGiven := false
	if l.free(g) {
		l.restore(g)
		most, asGiven = l.failures(g), true
	}
	t := newTally(l, g)
	var equal []float64
	step := compromiseStep / g.fastest()
	for n := 0; ; n++ {
		// From the top, where a good one makes the others short work.
		u := g.hi - float64(n)*step
		if n > 0 && u < g.lo {
			break
		}
		if err := l.ctx.Err(); err != nil {
			return err
		}
		switch bad := t.at(u, most); slices.Compare(bad[:], most[:]) {
		case -1:
			most, equal, asGiven = bad, append(equal[:0], u), false
		case 0:
			equal = append(equal, u)
		}
	}
	if asGiven { // nothing is better
		l.restore(g)
		g.u, g.kept, g.stays = g.lo, true, true
		return l.ctx.Err()
	}
	g.u = l.mostClearance(g, equal)
	if l.all == nil { // with Everyone that takes too long
		g.u = l.polish(g, g.u, most)
	}
	l.move(g, g.u)
	return l.ctx.Err()
}

// shift moves the loudspeakers of g by s along their walls: side loudspeakers
// towards the back, those on front and back walls away from the middle. It
// reports whether they stay on their walls.
func (l *lifter) shift(g *group, s float64) bool {
	if s == g.shifted {
		return true
	}
	starts := make([]project.Loudspeaker, len(g.members))
	for i := range g.members {
		m := &g.members[i]
		l0 := l.p.Design.Speakers[m.k]
		at := geometry.Vec2{X: float64(l0.At.X), Y: float64(l0.At.Y)}
		edge, _ := m.poly.Nearest(at)
		off := m.poly.Distance(at)
		n := m.poly.InwardNormal(edge)
		along := geometry.Vec2{X: -n.Y, Y: n.X}
		if math.Abs(along.X) >= math.Abs(along.Y) {
			along = along.Mul(math.Copysign(1, along.X))
		} else {
			along = along.Mul(math.Copysign(1, along.Y*(at.Y-l.main.Y)))
		}
		to := at.Add(along.Mul(s))
		e, _ := m.poly.Nearest(to)
		const same = 1e-6 // m
		if s != 0 && (e != edge || math.Abs(m.poly.Distance(to)-off) > same) {
			return false
		}
		l0.At.X, l0.At.Y = unit.Length(to.X), unit.Length(to.Y)
		starts[i] = l0
	}
	for i, s := range starts {
		g.members[i].start = s
	}
	g.shifted = s
	l.under(g)
	return true
}
