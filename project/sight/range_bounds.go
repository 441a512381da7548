// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// look bounds every part for the whole range and keeps those that this leaves
// open.
func (g *ranger) look(t *task) {
	margin := g.enough(t)
	pl := &g.places[t.seat]
	g.open = g.open[:0]
	from := &pl.bound
	aim := t.targets[0]
	wide := 0.0 // half the size of the target
	if t.speaker < 0 {
		from = &pl.sight
		aim = t.targets[0].Lerp(t.targets[2], 0.5)
		wide = t.targets[0].Dist(aim)
	}
	g.lookShell(t)
	ln := newLine(from.center, aim)
	if t.speaker < 0 {
		// Under the lower edge, and level beside the picture.
		to := from.center.Sub(t.targets[0])
		g.along[0].set(t, from, t.targets[1].Sub(t.targets[0]).Cross(to))
		g.along[1].set(t, from, t.targets[2].Sub(t.targets[1]).Cross(to))
	} else {
		side := ln.d.Cross(geometry.Vec{Z: 1})
		g.along[0].set(t, from, side)
		g.along[1].set(t, from, ln.d.Cross(side))
	}
	wide += from.half.Len() + margin
	for gi := range g.groups {
		ball := &g.around[gi]
		if r := wide + ball.Radius; ln.dist2(ball.Center) > r*r {
			continue
		}
		for n := g.groups[gi].from; n < g.groups[gi].to; n++ {
			g.lookAt(t, n, from, &ln, margin)
		}
	}
}

// lookAt bounds part n. The paths of t start in from and run about ln.
func (g *ranger) lookAt(t *task, n int, from *extent, ln *line, margin float64) {
	if t.best.Upper <= -max(g.deepest[n], 2*touch) {
		return // somebody is blocked, and nobody deeper by this part
	}
	p := &g.r.Parts[n]
	seat := g.seatOf[n]
	// Whether a feature carries the loudspeaker is checked last: it takes longest.
	counted := g.counts(t, n, false)
	if counted == never {
		return
	}
	crossing := counted == crossed
	enough := margin
	if crossing || t.best.Upper < -touch { // a pair that breaks needs no more
		enough = 0
	}
	known := &g.memory.parts[n]
	if t.speaker >= 0 && known.parts(t.targets[0], enough) {
		return
	}
	b := &g.bounds[n]
	// A plane square to the line between the middles, or one along the paths,
	// separates most parts; it costs less than the distance of the sets.
	apart, ok := ln.towards(b.center).Unit()
	best := math.Inf(-1)
	if ok {
		if best = g.gap(t, from, b, apart); best >= enough {
			return
		}
	}
	for i := range g.along {
		p := &g.along[i]
		at, r := p.normal.Dot(b.center), b.reach(p.normal)
		over, under := p.least-at-r, at-r-p.most
		if over >= enough || under >= enough {
			return
		}
		if over > best {
			best, apart = over, p.normal
		}
		if under > best {
			best, apart = under, p.normal.Neg()
		}
	}
	if w := known.normal; w != (geometry.Vec{}) {
		switch gap := g.gap(t, from, b, w); {
		case gap >= enough:
			return
		case gap > best:
			apart = w
		}
	}
	if carries(p.Kind) && g.counts(t, n, true) == crossed {
		if t.speaker >= 0 && g.setInForAll(t, n, from) {
			return
		}
		crossing, enough = true, 0
	}
	root := cell{who: g.all, lean: g.places[t.seat].lean, other: g.all, normal: apart}
	if seat >= 0 {
		root.otherLean = g.places[seat].lean
	}
	if p.Kind == place.SpeakerPart && t.speaker >= 0 && p.Index == t.speaker {
		root.normal = g.r.Speakers[t.speaker].Front.W
	}
	o := obstacle{part: n, crossing: crossing, least: Far}
	if t.speaker >= 0 && g.lasts(n) {
		if lower, ok := g.stillProven(t, &o); ok {
			if !crossing {
				t.best.Lower = min(t.best.Lower, lower)
			}
			return
		}
	}
	if seat == t.seat && moves(p.Kind) {
		o.bracket = g.boundOwn(t, &o, &root, enough)
	} else {
		o.bracket = g.bound(t, &o, &root, enough)
	}
	known.normal = o.bracket.Normal
	if o.bracket.Lower >= enough && t.speaker >= 0 && seat != t.seat && g.lasts(n) {
		known.keep(g.planeOf(t, &o, &o.bracket))
	}
	if o.bracket.Lower < t.proof() {
		g.keep(t, &o)
	} else if !crossing {
		t.best.Lower = min(t.best.Lower, o.bracket.Lower)
	}
}

// gap returns a lower bound of the distance between the paths of t, which start
// in from, and b, measured along the unit vector n.
func (g *ranger) gap(t *task, from, b *extent, n geometry.Vec) float64 {
	least := from.least(n)
	for _, target := range t.targets {
		least = min(least, n.Dot(target))
	}
	return least - b.most(n)
}

// keep leaves o open and tries the likely worst sitters: one who is blocked
// settles the pair.
func (g *ranger) keep(t *task, o *obstacle) {
	if o.bracket.Lower < t.best.Upper {
		g.asSet(t, o)
		g.extremes(t, o)
	}
	g.open = append(g.open, *o)
}

// setInForAll is auditor.setIn for all paths that start in from.
func (g *ranger) setInForAll(t *task, n int, from *extent) bool {
	p, s := &g.r.Parts[n], &g.solids[n]
	if p.Kind != place.FeaturePart && p.Triangle == nil {
		return false
	}
	sp := &g.r.Speakers[t.speaker]
	disc := &sp.Drivers[sp.Spec.Deciding()]
	faces, count := p.Faces(disc)
	for _, u := range faces[:count] {
		face := u.Dot(s.Bound().Center) + s.Reach(u)
		if from.least(u) > face && math.Abs(u.Dot(disc.Center)-face)+spread(disc, u) <= faceTol {
			return true
		}
	}
	return false
}

// counts returns how part n counts for t. With carrying it also checks whether a
// feature carries the loudspeaker.
func (g *ranger) counts(t *task, n int, carrying bool) how {
	if t.speaker < 0 {
		return g.toEye(n, t.seat)
	}
	if carries(g.r.Parts[n].Kind) && !carrying {
		return near
	}
	return g.toEar(n, t.seat, t.speaker)
}

// towards returns the shortest vector from p to the segment.
func (l *line) towards(p geometry.Vec) geometry.Vec {
	w := p.Sub(l.a)
	t := min(max(w.Dot(l.d)*l.inv, 0), 1)
	return l.d.Mul(t).Sub(w)
}

// extent is a box along the room's axes.
type extent struct{ center, half geometry.Vec }

func extentOf(s *geometry.Sweep) extent {
	lo, hi := s.Extent()
	return extent{lo.Lerp(hi, 0.5), hi.Sub(lo).Mul(0.5)}
}

func extentOfSolid(s *geometry.Solid) extent {
	return extent{s.Bound().Center, geometry.Vec{X: s.Reach(geometry.Vec{X: 1}), Y: s.Reach(geometry.Vec{Y: 1}), Z: s.Reach(geometry.Vec{Z: 1})}}
}

// least and most return the least and the greatest n.x over the points x of e.
func (e *extent) least(n geometry.Vec) float64 { return n.Dot(e.center) - e.reach(n) }

func (e *extent) most(n geometry.Vec) float64 { return n.Dot(e.center) + e.reach(n) }

func (e *extent) reach(n geometry.Vec) float64 {
	return math.Abs(n.X)*e.half.X + math.Abs(n.Y)*e.half.Y + math.Abs(n.Z)*e.half.Z
}

// slab is the space between two planes: n.x from least to most, n a unit vector.
type slab struct {
	normal      geometry.Vec
	least, most float64
}

// set makes s the thinnest slab of this normal around the paths of t, which start
// in from.
func (s *slab) set(t *task, from *extent, normal geometry.Vec) {
	n, ok := normal.Unit()
	if !ok {
		*s = slab{least: math.Inf(-1), most: math.Inf(1)}
		return
	}
	s.normal, s.least, s.most = n, from.least(n), from.most(n)
	for _, target := range t.targets {
		at := n.Dot(target)
		s.least, s.most = min(s.least, at), max(s.most, at)
	}
}
