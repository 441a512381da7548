// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Probe answers single pairs of a design, again and again, while loudspeakers are
// moved and everything else stands still, as a search needs. Its answers are
// those of Audit. For one goroutine at a time.
type Probe struct {
	a     *auditor
	group []int // by loudspeaker: index of the group of its box, or -1
	paths [2]Path
	seats []seated // see auditor.sit
}

// seated is what auditor.sit computes for a seat.
type seated struct {
	mid  geometry.Vec
	from []fromMid
}

// NewProbe returns a probe of d. It works on a copy of d.
func NewProbe(d *project.Design) *Probe { return probeOf(roomAuditor(d.Clone())) }

// ProbeOf is NewProbe where r, the audit of d, is at hand: nothing is placed again. d
// must not change while the probe is in use; r stays as it is.
func ProbeOf(d *project.Design, r *Result) *Probe { return probeOf(auditorOf(d, r.movable(d))) }

func probeOf(a *auditor) *Probe {
	p := &Probe{a: a, group: a.boxes(), seats: make([]seated, len(a.r.Seats))}
	for i := range p.seats {
		a.from = make([]fromMid, len(a.groups))
		a.sit(i)
		p.seats[i] = seated{a.mid, a.from}
	}
	return p
}

// Room returns the probe's seats, sitters, parts and loudspeakers as they now
// stand. Its Pairs and Views are empty. Read only; it changes with Move.
func (p *Probe) Room() *Result { return p.a.r }

// Move replaces loudspeaker k by placed.
func (p *Probe) Move(k int, placed place.Speaker) {
	p.a.move(k, placed, p.group[k])
	if gi := p.group[k]; gi >= 0 {
		for i := range p.seats {
			s := &p.seats[i]
			s.from[gi] = p.a.groups[gi].seen(s.mid)
		}
	}
}

// Path returns the deciding path of seat i and loudspeaker k, as Pair.Deciding
// does; its Verdict is NotJudged for a pair that is not judged.
func (p *Probe) Path(i, k int) Path {
	q, _ := p.answer(i, k, false)
	return q
}

// Shortfall returns Path and a distance in metres: the pair does not become clear
// as long as no point of the box and drivers of loudspeaker k, or of others moved
// with it, moves by more than that. It is 0 for a pair that is clear or not
// judged, and may be 0 for one that only just fails, or fails because of the
// room's shell.
func (p *Probe) Shortfall(i, k int) (Path, float64) { return p.answer(i, k, true) }

func (p *Probe) answer(i, k int, bound bool) (Path, float64) {
	a := p.a
	sp := &a.r.Speakers[k]
	di := sp.Spec.Deciding()
	if di < 0 || sp.Spec.Subwoofer() {
		return Path{Blocker: NoPart}, 0
	}
	a.mid, a.from = p.seats[i].mid, p.seats[i].from
	a.gather(i, k)
	short := 0.0
	for n, ear := range [2]Side{Left, Right} {
		q := &p.paths[n]
		a.path(q, i, k, di, ear)
		if bound && (q.Verdict == Tight || q.Verdict == Blocked) {
			short = max(short, a.shortfall(q, i, sp, &sp.Drivers[di]))
		}
	}
	if worse(&p.paths[1], &p.paths[0]) {
		return p.paths[1], short
	}
	return p.paths[0], short
}

// shortfall returns a lower bound of how far the end of path q must move for q to
// become clear, metres. Call gather for its pair before.
func (a *auditor) shortfall(q *Path, i int, sp *place.Speaker, disc *geometry.Disc) float64 {
	seg := geometry.Segment{A: q.From, B: q.To}
	least := 0.0
	for _, c := range a.cand {
		kind := a.r.Parts[c.part].Kind
		s := &a.solids[c.part]
		if a.setIn(c.part, disc, seg.A) {
			continue // it hides nothing
		}
		if kind == place.SpeakerPart {
			// The box may be the loudspeaker's own, or move too: each then moves at
			// least half of the way.
			gap, _ := s.Clearance(seg)
			least = max(least, (-touch-gap)/2)
			continue
		}
		want := a.margin
		switch {
		case c.crossing:
			want = -touch
		case carries(kind):
			// If the move brings the loudspeaker near enough for the feature to
			// carry it, the feature counts only where it is crossed.
			carrier := max(a.carryGap(c.part, sp)-carryTol, 0)
			least = max(least, min(leastMove(s, seg, want), carrier))
			want = -touch
		}
		least = max(least, leastMove(s, seg, want))
		if want < disc.Radius {
			// The whole disc must be visible, also its rim towards the solid.
			rim := geometry.Segment{A: seg.A, B: rimTowards(disc, seg, s.Bound().Center)}
			least = max(least, leastMove(s, rim, -touch))
		}
	}
	return max(least, leastMove(&a.solids[a.shoulders(i)], seg, -touch))
}

// rimTowards returns the point of the disc's rim on the side where the line seg
// passes the point c.
func rimTowards(disc *geometry.Disc, seg geometry.Segment, c geometry.Vec) geometry.Vec {
	u, _ := seg.B.Sub(seg.A).Unit()
	off := c.Sub(seg.A)
	off = off.Sub(u.Mul(u.Dot(off)))
	off = off.Sub(disc.Normal.Mul(disc.Normal.Dot(off)))
	dir, _ := off.Unit()
	return disc.Center.Add(dir.Mul(disc.Radius))
}

// leastMove returns a lower bound of the distance by which seg.B must move for
// seg to have the clearance want from s; 0 if it has it already.
//
// Clearance is the distance from the sum of solid and reversed segment, so it
// changes by no more than the segment's points move: they must move by at least
// want - clearance. Only the first stretch of seg matters, whose length rho is how
// far s, with want around it, reaches from A. That stretch moves less than B does:
// the directions of two vectors differ by at most 2|x-y|/(|x|+|y|) (Dunkl and
// Williams 1964, "A simple norm inequality", for inner-product spaces). With l the
// length of seg and n the clearance that the stretch lacks, a move m needs
// rho 2m/(2l-m) >= n, unless B itself comes within rho of A.
func leastMove(s *geometry.Solid, seg geometry.Segment, want float64) float64 {
	b := s.Bound()
	l, rho := seg.Len(), seg.A.Dist(b.Center)+b.Radius+max(want, 0)
	if b.Gap(seg) >= want {
		return 0
	}
	gap, _ := s.Clearance(seg)
	if gap >= want {
		return 0
	}
	least := want - gap
	if rho < l {
		head, _ := s.Clearance(geometry.Segment{A: seg.A, B: seg.At(rho / l)})
		if n := want - head; n > 0 {
			least = max(least, math.Min(2*n*l/(2*rho+n), l-rho))
		}
	}
	return least
}
