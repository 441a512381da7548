// SPDX-License-Identifier: MIT

package follow

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
)

// speakers takes loudspeakers along: with the walls and the ceiling that carry them,
// with the screen they stand behind, and with the middle those that are centred in
// the room, alone or as a pair.
func (s *shell) speakers() {
	placed := s.placed()
	main := place.MainPoint(s.d)
	for i, l := range placed {
		to := &s.d.Speakers[i].At
		was := *to
		if f := s.builtInto(l); f >= 0 {
			s.withFeature(to, f)
			if was != *to {
				s.moved.Speakers++
			}
			continue
		}
		side := false // a side wall carries it
		for _, edge := range s.carriers(l) {
			half := float64(l.Spec.Width) / 2
			by := s.wallShift(edge, geometry.Vec2{X: float64(was.X), Y: float64(was.Y)}, half)
			to.X, to.Y = shifted(to.X, by.X), shifted(to.Y, by.Y)
			side = side || math.Abs(s.p.InwardNormal(edge).Y) > 0.5
		}
		if l.Mount == project.BehindScreen {
			to.X = shifted(to.X, float64(s.d.Screen.Distance-s.old.Screen.Distance))
		}
		if !side {
			to.Y = shifted(to.Y, s.speakerAcross(i))
		}
		if l.Mount == project.OnCeiling {
			if before, after := s.ceilings(was, *to); before-float64(was.Z) <= drop {
				to.Z = shifted(was.Z, after-before)
			}
		}
		if !l.Spec.Flush {
			s.keepGap(i, l, main)
			s.keepInside(i, l, main)
			s.keepUnder(i, l, main)
		}
		if was != *to {
			s.moved.Speakers++
		}
	}
}

// builtInto returns the feature in whose face a flush loudspeaker is, -1 for none.
func (s *shell) builtInto(l place.Speaker) int {
	if !l.Spec.Flush {
		return -1
	}
	const frame = 0.02 // m, as fit.Findings allows it
	for i, f := range s.old.Room.Features {
		if f.Holds(l.At.Vec(), frame) {
			return i
		}
	}
	return -1
}

// withFeature keeps what is built into feature i where it is in it.
func (s *shell) withFeature(at *project.Point, i int) {
	was, now := s.old.Room.Features[i].Box(), s.d.Room.Features[i].Box()
	v := was.Basis.Local(at.Vec().Sub(was.Center))
	v.X, v.Y, v.Z = v.X*now.Half.X/was.Half.X, v.Y*now.Half.Y/was.Half.Y, v.Z*now.Half.Z/was.Half.Z
	to := now.Center.Add(now.Basis.World(v))
	at.X = shifted(at.X, to.X-float64(at.X))
	at.Y = shifted(at.Y, to.Y-float64(at.Y))
	at.Z = shifted(at.Z, to.Z-float64(at.Z))
}

// carriers returns the walls that a loudspeaker hangs on or stands against.
func (s *shell) carriers(l place.Speaker) []int {
	switch {
	case l.Mount == project.OnCeiling || l.Mount == project.BehindScreen:
		return nil
	case l.Spec.Flush:
		if l.Mount != project.OnWall {
			return nil
		}
		const frame = 0.05 // m
		if edge, foot := s.p.Nearest(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)}); foot.Dist(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)}) <= frame {
			return []int{edge}
		}
		return nil
	case l.Mount == project.OnWall:
		return s.near(floorCorners(l.Box), bracket)
	}
	return s.near(floorCorners(l.Box), against)
}

// speakerAcross returns how far loudspeaker i moves across to stay centred, or to
// stay as far from the middle as its partner.
func (s *shell) speakerAcross(i int) float64 {
	l := s.old.Speakers[i]
	x, y := float64(l.At.X), float64(l.At.Y)
	if by := s.across(x, y); by != 0 {
		return by
	}
	p, ok := pair.Of(s.old, place.Item{Kind: place.SpeakerItem, Index: i})
	if !ok {
		return 0
	}
	return s.across(x, float64(l.At.Y+s.old.Speakers[p.Other].At.Y)/2)
}

// keepGap brings a box that aims at the main position, and so turns as it moves, as
// near to its wall as it was, or to touch it if it stood in it.
func (s *shell) keepGap(i int, was place.Speaker, main geometry.Vec) {
	to := &s.d.Speakers[i].At
	for _, edge := range s.carriers(was) {
		before := gap(s.p, edge, was.Box)
		const rounds = 4 // each leaves a small share of the last
		for range rounds {
			now := place.OneSpeaker(s.d, s.d.Speakers[i], main)
			by := s.q.InwardNormal(edge).Mul(before - gap(s.q, edge, now.Box))
			if by.Len() > bracket {
				return
			}
			to.X, to.Y = shifted(to.X, by.X), shifted(to.Y, by.Y)
		}
	}
}

// keepInside keeps a box that turns as it moves from reaching into a wall farther than
// it did.
func (s *shell) keepInside(i int, was place.Speaker, main geometry.Vec) {
	to := &s.d.Speakers[i].At
	before, _ := outside(s.p, was.Box)
	const rounds, near = 8, 1e-6 // m
	for range rounds {
		now, in := outside(s.q, place.OneSpeaker(s.d, s.d.Speakers[i], main).Box)
		if now <= before+near || now > inWall {
			return
		}
		by := in.Mul(now - before)
		to.X, to.Y = shifted(to.X, by.X), shifted(to.Y, by.Y)
	}
}

// outside returns how far a box is outside an outline at most, 0 inside, and the way
// back in there.
func outside(p geometry.Polygon, b geometry.Box) (out float64, in geometry.Vec2) {
	for _, c := range floorCorners(b) {
		if p.Contains(c) {
			continue
		}
		edge, foot := p.Nearest(c)
		if d := c.Dist(foot); d > out {
			out, in = d, p.InwardNormal(edge)
		}
	}
	return out, in
}

// keepUnder keeps a box that turns as it moves from reaching over the ceiling or
// below the floor farther than it did.
func (s *shell) keepUnder(i int, was place.Speaker, main geometry.Vec) {
	to := &s.d.Speakers[i].At
	over, under := reaches(&s.old.Room, was.Box)
	const rounds = 4
	for range rounds {
		o, u := reaches(&s.d.Room, place.OneSpeaker(s.d, s.d.Speakers[i], main).Box)
		by := max(u-max(under, 0), 0) - max(o-max(over, 0), 0)
		to.Z = shifted(to.Z, by)
	}
}

// reaches returns how far a box reaches over the ceiling and below the floor,
// negative where it does not.
func reaches(r *project.Room, b geometry.Box) (over, under float64) {
	over, under = math.Inf(-1), math.Inf(-1)
	for _, c := range b.Corners() {
		over = max(over, c.Z-r.CeilingAt(c.X, c.Y))
		under = max(under, -c.Z)
	}
	return over, under
}

// gap returns how far the nearest corner of b is before a wall; negative behind it.
func gap(p geometry.Polygon, edge int, b geometry.Box) float64 {
	a, _ := p.Edge(edge)
	n, least := p.InwardNormal(edge), math.Inf(1)
	for _, c := range floorCorners(b) {
		least = min(least, c.Sub(a).Dot(n))
	}
	return least
}
