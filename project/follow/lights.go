// SPDX-License-Identifier: MIT

package follow

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// lights takes lamps and the corners of strips along, each as a loudspeaker: with what it
// is let into, with its wall, with the ceiling, with the middle if it is centred, alone or
// with another of its group.
func (s *shell) lights() {
	for i := range s.d.LightGroups {
		g, was := &s.d.LightGroups[i], &s.old.LightGroups[i]
		moved := s.lamps(g.At, was.At)
		moved = s.lamps(g.Path, was.Path) || moved
		moved = s.starCorners(g.Area) || moved
		if moved {
			s.moved.Lights++
		}
	}
}

func (s *shell) lamps(now, was []project.Point) (moved bool) {
	for k := range now {
		to, from := &now[k], was[k]
		if i := s.holds(from); i >= 0 {
			s.withFeature(to, i)
		} else {
			s.lamp(to, from, was)
		}
		moved = moved || *to != from
	}
	return moved
}

// holds returns the feature that a lamp is let into, -1 for none. What hangs from the
// ceiling goes with that, where its soffit is whole.
func (s *shell) holds(p project.Point) int {
	const frame = 0.02 // m
	for i, f := range s.old.Room.Features {
		if f.Holds(p.Vec(), frame) {
			return i
		}
	}
	return -1
}

func (s *shell) lamp(to *project.Point, from project.Point, group []project.Point) {
	at := geometry.Vec2{X: float64(from.X), Y: float64(from.Y)}
	side := false // a side wall carries it
	for _, edge := range s.near([]geometry.Vec2{at}, bracket) {
		by := s.wallShift(edge, at, 0)
		to.X, to.Y = shifted(to.X, by.X), shifted(to.Y, by.Y)
		side = side || math.Abs(s.p.InwardNormal(edge).Y) > 0.5
	}
	if !side {
		to.Y = shifted(to.Y, s.lampAcross(from, group))
	}
	if before, after := s.ceilings(from, *to); before-float64(from.Z) <= drop {
		to.Z = shifted(from.Z, after-before)
	}
}

// lampAcross returns how far a lamp moves across to stay centred, or to stay as far from
// the middle as the one of its group that mirrors it.
func (s *shell) lampAcross(p project.Point, group []project.Point) float64 {
	if by := s.across(float64(p.X), float64(p.Y)); by != 0 {
		return by
	}
	for _, q := range group {
		if math.Abs(float64(q.X-p.X)) <= centredTol && math.Abs(float64(q.Z-p.Z)) <= centredTol && q.Y != p.Y {
			if by := s.across(float64(p.X), float64(p.Y+q.Y)/2); by != 0 {
				return by
			}
		}
	}
	return 0
}

// starCorners takes along an outline of stars whose corners are near walls, or centred.
func (s *shell) starCorners(area []project.Corner) (moved bool) {
	var group []project.Point
	for _, c := range area {
		group = append(group, project.Point{X: c.X, Y: c.Y, Z: unit.Length(s.old.Room.CeilingAt(float64(c.X), float64(c.Y)))})
	}
	for k := range area {
		to := group[k]
		s.lamp(&to, group[k], group)
		moved = moved || to.X != area[k].X || to.Y != area[k].Y
		area[k].X, area[k].Y = to.X, to.Y
	}
	return moved
}
