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

// fromMid is where a group's sphere and inner ball are, seen from between the
// ears.
type fromMid struct {
	bound, inner   geometry.Vec
	bound2, inner2 float64 // squared lengths
}

// sit prepares for the pairs of seat i.
func (a *auditor) sit(i int) {
	b := &a.r.Bodies[i]
	a.mid = b.Ear()
	for gi := range a.groups {
		a.from[gi] = a.groups[gi].seen(a.mid)
	}
}

// seen returns where g is, seen from mid.
func (g *group) seen(mid geometry.Vec) fromMid {
	bound, inner := g.bound.Center.Sub(mid), g.inner.Center.Sub(mid)
	return fromMid{bound, inner, bound.Len2(), inner.Len2()}
}

// distance2 returns the squared distance from a segment, along the unit vector u
// and of length l, to the point w from its start; w2 is the squared length of w.
func distance2(u geometry.Vec, l float64, w geometry.Vec, w2 float64) float64 {
	along := u.X*w.X + u.Y*w.Y + u.Z*w.Z
	t := min(max(along, 0), l)
	return w2 - t*(2*along-t)
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
	// Upper bound of the clearance of any path: to the ball that fits inside
	// the first part (a head) of the nearest group.
	most := float64(Far)
	for gi := range a.groups {
		if g := &a.groups[gi]; g.near && g.seat != i {
			r := most + g.inner.Radius
			if d2 := distance2(u, l, a.from[gi].inner, a.from[gi].inner2); d2 < r*r {
				most = math.Sqrt(max(d2, 0)) - g.inner.Radius
			}
		}
	}
	most += slack
	a.most = most
	counted := max(most, disc) + slack // a part beyond this cannot matter
	shading := disc + slack            // nor can one beyond this that counts only when crossed
	a.cand = a.cand[:0]
	nearest := math.Inf(1)
	for gi := range a.groups {
		g := &a.groups[gi]
		if r := g.bound.Radius + counted; distance2(u, l, a.from[gi].bound, a.from[gi].bound2) > r*r {
			continue
		}
		for n := g.from; n < g.to; n++ {
			b := &a.balls[n]
			d2 := line.dist2(b.Center)
			if r := b.Radius + counted; d2 > r*r {
				continue
			}
			// The listener's own body is handled separately: Parts has the other
			// sitter in that seat.
			if b.person && g.seat == i {
				continue
			}
			crossing := a.toEar(n, i, k) == crossed
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
}

func newLine(a, b geometry.Vec) line {
	l := line{a: a, b: b, d: b.Sub(a)}
	if l2 := l.d.Len2(); l2 > 0 {
		l.inv = 1 / l2
	}
	return l
}

// dist2 returns the squared distance of p from the segment.
func (l *line) dist2(p geometry.Vec) float64 {
	x, y, z := p.X-l.a.X, p.Y-l.a.Y, p.Z-l.a.Z
	t := min(max((x*l.d.X+y*l.d.Y+z*l.d.Z)*l.inv, 0), 1)
	x -= t * l.d.X
	y -= t * l.d.Y
	z -= t * l.d.Z
	return x*x + y*y + z*z
}

// apart reports whether the solid s, bounded by bound, is certainly farther than
// reach from the segment. It checks the sphere, then the plane square to the line
// from its centre to the nearest point of the segment; the whole segment lies
// beyond that plane.
func (l *line) apart(s *geometry.Solid, bound *ball, reach float64) bool {
	x, y, z := bound.Center.X-l.a.X, bound.Center.Y-l.a.Y, bound.Center.Z-l.a.Z
	t := min(max((x*l.d.X+y*l.d.Y+z*l.d.Z)*l.inv, 0), 1)
	w := geometry.Vec{X: t*l.d.X - x, Y: t*l.d.Y - y, Z: t*l.d.Z - z}
	d2 := w.Len2()
	if r := bound.Radius + reach; d2 > r*r {
		return true
	}
	d := math.Sqrt(d2)
	return d2 > 0 && d2-s.Reach(w) > reach*d
}
