// SPDX-License-Identifier: MIT

package follow

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// treatments keeps panels where they are on their walls: as far from the corner that
// stays, over the whole wall if they covered it, in its middle if they were there,
// and never beyond its end or over the ceiling.
func (s *shell) treatments() {
	for i := range s.d.Room.Treatments {
		t := &s.d.Room.Treatments[i]
		was := *t
		var moved bool
		switch {
		case t.Wall == 0:
			moved = s.overhead(t)
		case t.Wall >= 1 && t.Wall <= len(s.p):
			moved = s.panel(t)
		}
		if moved || was.High != t.High || was.Low != t.Low {
			s.moved.Treatments++
		}
	}
}

// panel moves a treatment on a wall, and reports whether it is elsewhere in the room.
func (s *shell) panel(t *project.Treatment) bool {
	a, b := s.p.Edge(t.Wall - 1)
	c, d := s.q.Edge(t.Wall - 1)
	was, now := b.Sub(a), d.Sub(c)
	long, longer := was.Len(), now.Len()
	if !(long > 0) || !(longer > 0) {
		return false
	}
	u, v := was.Mul(1/long), now.Mul(1/longer)
	at := func(o, dir geometry.Vec2, along float64) geometry.Vec2 { return o.Add(dir.Mul(along)) }
	from, to := float64(t.From), float64(t.To)
	before := [2]geometry.Vec2{at(a, u, from), at(a, u, to)}
	size := to - from
	switch {
	case from <= touchTol && to >= long-touchTol: // the whole wall
		to += longer - long
	case math.Abs(from+to-long) <= 2*centredTol && math.Abs(u.Y) > 0.9:
		from = longer/2 - size/2
		to = from + size
	default:
		from = before[0].Sub(c).Dot(v)
		to = from + size
	}
	if to > longer && size <= longer {
		from, to = longer-size, longer
	}
	from, to = max(from, 0), min(to, longer)
	if from < to {
		t.From, t.To = shifted(t.From, from-float64(t.From)), shifted(t.To, to-float64(t.To))
	}
	s.panelHeight(t, before[0], at(c, v, float64(t.From)))
	const moved = 1e-6 // m
	return at(c, v, float64(t.From)).Dist(before[0]) > moved || at(c, v, float64(t.To)).Dist(before[1]) > moved
}

// panelHeight keeps a panel up to the ceiling that reached it, and every panel below
// it.
func (s *shell) panelHeight(t *project.Treatment, from, to geometry.Vec2) {
	before, after := s.old.Room.CeilingAt(from.X, from.Y), s.d.Room.CeilingAt(to.X, to.Y)
	high := float64(t.High)
	switch {
	case math.Abs(high-before) <= touchTol:
		high += after - before
	case high < before && high > after:
		high = after
	}
	if high > float64(t.Low) {
		t.High = shifted(t.High, high-float64(t.High))
	}
}

// overhead moves a treatment under the ceiling: From and To are x, Low and High y.
func (s *shell) overhead(t *project.Treatment) bool {
	was := *t
	lo := geometry.Vec2{X: float64(t.From), Y: float64(t.Low)}
	hi := geometry.Vec2{X: float64(t.To), Y: float64(t.High)}
	along := s.stretch(project.Feature{}, true, lo.X, hi.X, lo.Y, hi.Y)
	over := s.stretch(project.Feature{}, false, lo.Y, hi.Y, lo.X, hi.X)
	if over.free {
		over.by = s.across((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
	}
	t.From, t.To = shifted(t.From, along.by-along.longer/2), shifted(t.To, along.by+along.longer/2)
	t.Low, t.High = shifted(t.Low, over.by-over.longer/2), shifted(t.High, over.by+over.longer/2)
	if t.From < 0 || t.Low < 0 || t.From >= t.To || t.Low >= t.High {
		*t = was
	}
	return was.From != t.From || was.To != t.To
}
