// SPDX-License-Identifier: MIT

package solve

import (
	"math"
	"slices"

	"earline/project/sight"
)

// shortfall counts the failures at one height, the worst kind first: boxes that
// cannot be built, pairs blocked for the set sitters, pairs tight for them, and
// pairs that break for somebody of the range. The last kind comes last so that
// the set sitters never lose by it.
type shortfall [4]int

// The kinds.
const (
	unbuilt = iota
	blocked
	tight
	breaking
)

// tally counts the failures of a group at one height after another, downwards.
// Clearance changes by no more than the driver moves, so a pair is checked again
// only where its answer may have changed. What counts only where it is crossed
// gives no such bound and is checked every 50 mm.
type tally struct {
	l   *lifter
	g   *group
	set []known // by member and seat
	all []known // the same for the range
}

// known is an answer that is valid down to some u.
type known struct {
	kind  int // blocked, tight or breaking; 0 is none
	until float64
}

const lookAgain = 0.05 // m

func newTally(l *lifter, g *group) *tally {
	n := len(g.members) * len(l.probe.Room().Seats)
	t := &tally{l: l, g: g, set: slices.Repeat([]known{{until: math.Inf(1)}}, n)}
	if l.all != nil {
		t.all = slices.Clone(t.set)
	}
	return t
}

// at moves the group to u and counts. It stops as soon as the count exceeds most.
func (t *tally) at(u float64, most shortfall) (bad shortfall) {
	l, g := t.l, t.g
	over := func() bool { return slices.Compare(bad[:], most[:]) > 0 }
	for _, list := range [2][]known{t.set, t.all} {
		for n := range list {
			if k := &list[n]; u >= k.until && k.kind > 0 {
				bad[k.kind]++
			}
		}
	}
	if over() { // the known answers are enough: no need to move
		return bad
	}
	l.move(g, u)
	room := l.probe.Room()
	for i := range g.members {
		m := &g.members[i]
		if _, depth := inTheWay(&m.d.Room, &room.Speakers[m.k]); depth > 0 {
			bad[unbuilt]++
		}
	}
	t.ask(t.set, u, &bad, over, setKnown)
	t.ask(t.all, u, &bad, over, rangeKnown)
	return bad
}

// failures counts those of g as it stands.
func (l *lifter) failures(g *group) (bad shortfall) {
	room := l.probe.Room()
	for i := range g.members {
		m := &g.members[i]
		if _, depth := inTheWay(&m.d.Room, &room.Speakers[m.k]); depth > 0 {
			bad[unbuilt]++
		}
		for seat := range room.Seats {
			if k := setKnown(l, m, seat, 0); k.kind > 0 {
				bad[k.kind]++
			}
			if l.all != nil {
				if k := rangeKnown(l, m, seat, 0); k.kind > 0 {
					bad[k.kind]++
				}
			}
		}
	}
	return bad
}

// ask checks the pairs of list that have no valid answer at u, as long as over is
// false.
func (t *tally) ask(list []known, u float64, bad *shortfall, over func() bool, ask func(*lifter, *member, int, float64) known) {
	seats := len(t.l.probe.Room().Seats)
	for _, was := range [2]bool{true, false} { // what failed before is likely to fail again
		for n := range list {
			k := &list[n]
			if u >= k.until || k.kind > 0 != was {
				continue
			}
			if over() {
				return
			}
			if *k = ask(t.l, &t.g.members[n/seats], n%seats, u); k.kind > 0 {
				bad[k.kind]++
			}
		}
	}
}

// setKnown checks one pair of the set sitters, with m at u.
func setKnown(l *lifter, m *member, seat int, u float64) known {
	q := l.probe.Path(seat, m.k)
	sp := &l.probe.Room().Speakers[m.k]
	k, same := known{}, 0.0 // m: a move that changes nothing
	margin := float64(m.d.Criteria.Margin)
	switch q.Verdict {
	case sight.NotJudged:
		return known{until: math.Inf(-1)}
	case sight.Blocked:
		k.kind = blocked
		if q.Blocker != sight.ShellPart {
			same = -q.Clearance
		}
	case sight.Tight:
		k.kind = tight
		same = min(q.Clearance, margin-q.Clearance, lookAgain)
	default:
		// Nothing farther away than the disc's radius can shade it.
		disc := sp.Drivers[sp.Spec.Deciding()].Radius
		same = min(q.Clearance-max(margin, disc), lookAgain)
	}
	k.until = u - max(same, 0)/m.speed/m.rate
	return k
}

// rangeKnown checks one pair of the range, with m at u.
func rangeKnown(l *lifter, m *member, seat int, u float64) known {
	q, same := l.all.Shortfall(seat, m.k)
	if !q.Judged {
		return known{until: math.Inf(-1)}
	}
	k := known{}
	switch {
	case q.Holds:
		same = min(q.Lower, lookAgain)
	case q.Certified:
		k.kind = breaking
	default:
		k.kind, same = breaking, lookAgain/2
	}
	k.until = u - max(same, 0)/m.speed/m.rate
	return k
}

// mostClearance returns the one of several heights at which the tightest path of
// the set sitters has the greatest clearance; of many heights it tries only some.
func (l *lifter) mostClearance(g *group, heights []float64) float64 {
	const looks = 32
	best, widest := g.hi, math.Inf(-1)
	for n := range min(looks, len(heights)) {
		u := heights[n*len(heights)/min(looks, len(heights))]
		if clearance := l.leastClearance(g, u, widest); clearance > widest {
			best, widest = u, clearance
		}
	}
	return best
}

// leastClearance returns the clearance of the tightest path of the set sitters
// with g at u, or the first that is no greater than enough.
func (l *lifter) leastClearance(g *group, u, enough float64) float64 {
	l.move(g, u)
	least := math.Inf(1)
	for i := range g.members {
		for seat := range l.probe.Room().Seats {
			if q := l.probe.Path(seat, g.members[i].k); q.Verdict != sight.NotJudged {
				if least = min(least, q.Clearance); least <= enough {
					return least
				}
			}
		}
	}
	return least
}

// polish refines u, a height whose failures are most: by smaller and smaller
// steps it looks for a height with fewer failures, or with as many and more
// clearance.
func (l *lifter) polish(g *group, u float64, most shortfall) float64 {
	widest := l.leastClearance(g, u, math.Inf(-1))
	better := func(v float64) bool {
		if v < g.lo || v > g.hi {
			return false
		}
		bad := newTally(l, g).at(v, most)
		order := slices.Compare(bad[:], most[:])
		if order > 0 {
			return false
		}
		if clearance := l.leastClearance(g, v, math.Inf(-1)); order < 0 || clearance > widest {
			u, most, widest = v, bad, clearance
			return true
		}
		return false
	}
	const far = 20 // steps
	for step := compromiseStep / 2 / g.fastest(); step > resolution/g.fastest(); step /= 2 {
		for _, by := range [2]float64{step, -step} {
			for n := 0; n < far && better(u+by); n++ {
			}
		}
	}
	return u
}
