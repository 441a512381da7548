// SPDX-License-Identifier: MIT

package solve

import (
	"math"
	"slices"

	"earline/project/sight"
)

// shortfall counts what falls short at one height, the worst kind first: what
// cannot be built, pairs blocked for the set sitters, pairs that break for
// somebody of the range, pairs that are tight.
type shortfall [4]int

// The kinds.
const (
	unbuilt = iota
	blocked
	breaking
	tight
)

// tally counts what falls short with a group at one height after another,
// downwards. Clearance changes by no more than the driver moves, so a pair is
// looked at again only where its answer may have changed; what counts only where
// it is crossed gives no such bound, and is looked for every 50 mm.
type tally struct {
	l   *lifter
	g   *group
	set []known // by member and seat
	all []known // the same of the range
}

// known is an answer that stands down to some u.
type known struct {
	kind  int // blocked, breaking or tight; 0 is none
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

// at moves the group to u and counts. It stops where the count is over most.
func (t *tally) at(u float64, most shortfall) (bad shortfall) {
	l, g := t.l, t.g
	l.move(g, u)
	room := l.probe.Room()
	for i := range g.members {
		m := &g.members[i]
		if _, depth := inTheWay(&m.d.Room, &room.Speakers[m.k]); depth > 0 {
			bad[unbuilt]++
		}
	}
	over := func() bool { return slices.Compare(bad[:breaking+1], most[:breaking+1]) > 0 }
	if t.count(t.set, u, &bad, over, setKnown) {
		return bad
	}
	t.count(t.all, u, &bad, over, rangeKnown)
	return bad
}

// count adds the pairs of list at u, what is known first, and reports whether
// that is over the most.
func (t *tally) count(list []known, u float64, bad *shortfall, over func() bool, ask func(*lifter, *member, int, float64) known) bool {
	for n := range list {
		if k := &list[n]; u >= k.until && k.kind > 0 {
			bad[k.kind]++
		}
	}
	seats := len(t.l.probe.Room().Seats)
	for _, was := range [2]bool{true, false} { // what was bad is likely to be
		for n := range list {
			k := &list[n]
			if u >= k.until || k.kind > 0 != was {
				continue
			}
			if over() {
				return true
			}
			if *k = ask(t.l, &t.g.members[n/seats], n%seats, u); k.kind > 0 {
				bad[k.kind]++
			}
		}
	}
	return over()
}

// setKnown answers one pair of the set sitters with m at u.
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
		// What is farther than the disc is wide cannot shade it.
		disc := sp.Drivers[sp.Spec.Deciding()].Radius
		same = min(q.Clearance-max(margin, disc), lookAgain)
	}
	k.until = u - max(same, 0)/m.speed/m.rate
	return k
}

// rangeKnown answers one pair of the range with m at u.
func rangeKnown(l *lifter, m *member, seat int, u float64) known {
	q, same := l.all.Short(seat, m.k)
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

// roomiest returns the height of several at which the tightest path of the set
// sitters has most room; of many only some are looked at.
func (l *lifter) roomiest(g *group, heights []float64) float64 {
	const looks = 32
	best, widest := g.hi, math.Inf(-1)
	for n := range min(looks, len(heights)) {
		u := heights[n*len(heights)/min(looks, len(heights))]
		l.move(g, u)
		least := math.Inf(1)
		for i := range g.members {
			for seat := range l.probe.Room().Seats {
				if least <= widest {
					break
				}
				if q := l.probe.Path(seat, g.members[i].k); q.Verdict != sight.NotJudged {
					least = min(least, q.Clearance)
				}
			}
		}
		if least > widest {
			best, widest = u, least
		}
	}
	return best
}
