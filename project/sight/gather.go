// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
)

// candidate is a part that may be what a path of the current pair comes nearest
// to, or may stand in its way.
type candidate struct {
	part     int
	crossing bool // counts only where a path truly crosses it
}

// fromMid is where a group's sphere is, seen from between the ears, and all else
// that rules it out.
type fromMid struct {
	to          geometry.Vec
	l2          float64 // its squared length
	radius, top float64
}

// sit prepares for the pairs of seat i.
func (a *auditor) sit(i int) {
	b := &a.r.Bodies[i]
	a.mid = b.Ear()
	for gi := range a.groups {
		a.from[gi] = a.groups[gi].seen(a.mid)
	}
	a.ears = [2]float64{Far, Far}
}

// seen returns where g is, seen from mid.
func (g *group) seen(mid geometry.Vec) fromMid {
	to := g.bound.Center.Sub(mid)
	return fromMid{to, to.Len2(), g.bound.Radius, g.top}
}

// beyond reports whether the group is farther than reach from the segment of length
// l along the unit vector u.
func (f *fromMid) beyond(u geometry.Vec, l, reach float64) bool {
	r2 := (f.radius + reach) * (f.radius + reach)
	along := u.X*f.to.X + u.Y*f.to.Y + u.Z*f.to.Z
	return f.l2-along*along > r2 || along < 0 && f.l2 > r2 || along > l && f.l2-l*(2*along-l) > r2
}

// nearEars returns how far the ears of seat i are from the nearest of what counts by
// distance on every path, metres, or Far: no path from them has more clearance.
func (a *auditor) nearEars(i int) (gaps [2]float64) {
	body := &a.r.Bodies[i]
	limit := float64(Far)
	for side, ear := range [2]geometry.Vec{body.EarLeft, body.EarRight} {
		least := limit
		for m := range a.groups {
			g := &a.groups[(m+i)%len(a.groups)] // a neighbour, most likely the nearest, first
			if r := g.bound.Radius + least; !g.near || g.seat == i || g.bound.Center.Sub(ear).Len2() >= r*r {
				continue
			}
			for n := g.from; n < g.to; n++ {
				b, s := &a.balls[n], &a.solids[n]
				to := b.Center.Sub(ear)
				d2 := to.Len2()
				if r := b.Radius + least; d2 >= r*r || d2-s.Reach(to) >= least*math.Sqrt(d2) {
					continue
				}
				gap, _ := s.Clearance(geometry.Segment{A: ear, B: ear})
				least = min(least, max(gap, 0))
			}
		}
		gaps[side] = min(least+level, Far)
		// What is so near to the left ear is not much farther from the right.
		limit = min(gaps[side]+ear.Dist(body.EarRight), Far)
	}
	return gaps
}

// gather collects the candidates of a pair. It looks along one line, from
// between the ears to the loudspeaker's front; no path of the pair strays from
// it by more than slack, so a part farther than the nearest by more than twice
// that can be left out.
func (a *auditor) gather(i, k int) {
	body, sp := &a.r.Bodies[i], &a.r.Speakers[k]
	line := newLine(a.mid, sp.At.Vec())
	u, l := line.d.Mul(math.Sqrt(line.inv)), line.d.Len()
	slack, disc := a.mid.Dist(body.EarLeft), 0.0
	for n := range sp.Drivers {
		slack = max(slack, sp.Drivers[n].Center.Dist(line.b))
		disc = max(disc, sp.Drivers[n].Radius)
	}
	// Upper bound of the clearance of any path: at the ears, or to the ball that
	// fits inside the first part (a head) of the nearest group.
	most := max(a.ears[Left], a.ears[Right])
	counted := max(most, disc) + slack // a part beyond this cannot matter
	a.met = a.met[:0]
	for gi := range a.from {
		if f := &a.from[gi]; line.low-f.top > counted || f.beyond(u, l, counted) {
			continue
		}
		a.met = append(a.met, int32(gi))
		if g := &a.groups[gi]; g.near && g.seat != i {
			if d := math.Sqrt(line.dist2(g.inner.Center)) - g.inner.Radius + slack; d < most {
				most = d
				counted = max(most, disc) + slack
			}
		}
	}
	a.most = most
	shading := disc + slack // nor can a part beyond this that counts only when crossed
	a.cand = a.cand[:0]
	nearest := math.Inf(1)
	for _, gi := range a.met {
		g := &a.groups[gi]
		for n := g.from; n < g.to; n++ {
			b := &a.balls[n]
			if line.low-b.top > counted {
				continue
			}
			d2 := line.dist2(b.Center)
			if r := b.Radius + counted; d2 > r*r {
				continue
			}
			// The listener's own body is handled separately: Parts has the other
			// sitter in that seat.
			if b.person && g.seat == i {
				continue
			}
			how := b.others
			if g.seat == i {
				how = b.own
			} else if g.seat < 0 && b.own != b.others {
				how = a.toEar(n, i, k)
			}
			crossing := how == crossed
			if r := b.Radius + shading; crossing && d2 > r*r {
				continue
			}
			a.cand = append(a.cand, candidate{n, crossing})
			// The likely nearest goes first: it rules out most of the others.
			if !crossing && (nearest+b.inner)*(nearest+b.inner) > d2 {
				nearest = math.Sqrt(d2) - b.inner
				last := len(a.cand) - 1
				a.cand[0], a.cand[last] = a.cand[last], a.cand[0]
			}
		}
	}
}

// line is a segment prepared for many distances to it.
type line struct {
	a, b, d geometry.Vec
	inv     float64 // 1 / squared length
	low     float64 // height of its lower end
}

func newLine(a, b geometry.Vec) line {
	l := line{a: a, b: b, d: b.Sub(a), low: min(a.Z, b.Z)}
	if l2 := l.d.Len2(); l2 > 0 {
		l.inv = 1 / l2
	}
	return l
}

// dist2 returns the squared distance of p from the segment.
func (l *line) dist2(p geometry.Vec) float64 {
	x, y, z := p.X-l.a.X, p.Y-l.a.Y, p.Z-l.a.Z
	t := (x*l.d.X + y*l.d.Y + z*l.d.Z) * l.inv
	if t < 0 { // quicker than min and max here
		t = 0
	} else if t > 1 {
		t = 1
	}
	x -= t * l.d.X
	y -= t * l.d.Y
	z -= t * l.d.Z
	return x*x + y*y + z*z
}

// apart reports whether the solid s, bounded by bound, is certainly farther than
// reach from the segment. It checks the level plane on its top, then the sphere,
// then the plane square to the line from its centre to the nearest point of the
// segment; the whole segment lies beyond that plane.
func (l *line) apart(s *geometry.Solid, bound *ball, reach float64) bool {
	if l.low-bound.top > reach {
		return true
	}
	x, y, z := bound.Center.X-l.a.X, bound.Center.Y-l.a.Y, bound.Center.Z-l.a.Z
	t := (x*l.d.X + y*l.d.Y + z*l.d.Z) * l.inv
	if t < 0 { // quicker than min and max here
		t = 0
	} else if t > 1 {
		t = 1
	}
	w := geometry.Vec{X: t*l.d.X - x, Y: t*l.d.Y - y, Z: t*l.d.Z - z}
	d2 := w.Len2()
	if r := bound.Radius + reach; d2 > r*r {
		return true
	}
	d := math.Sqrt(d2)
	return d2 > 0 && d2-s.Reach(w) > reach*d
}
