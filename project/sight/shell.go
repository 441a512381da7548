// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// shell is where the room ends: its walls, then the floor, then the slopes of the
// ceiling. The room is before all of these, so that each may go on without end.
type shell struct {
	poly    geometry.Polygon
	walls   []geometry.Wall // one an edge of poly, floor, one a slope of ceiling
	ceiling geometry.Ceiling
}

func shellOf(room project.Room) shell {
	s := shell{poly: room.Polygon(), ceiling: room.Slopes()}
	s.walls = make([]geometry.Wall, 0, len(s.poly)+1+len(s.ceiling))
	for i := range s.poly {
		from, to := s.poly.Edge(i)
		in := s.poly.InwardNormal(i)
		s.walls = append(s.walls, geometry.Wall{At: geometry.Vec{X: from.X, Y: from.Y},
			In: geometry.Vec{X: in.X, Y: in.Y}, From: from, To: to})
	}
	s.walls = append(s.walls, geometry.Wall{In: geometry.Vec{Z: 1}})
	for _, slope := range s.ceiling {
		s.walls = append(s.walls, geometry.Wall{In: slope.Down(), At: geometry.Vec{Z: slope.Height}})
	}
	return s
}

// level returns the walls that are not upright: the floor, then the slopes of the
// ceiling.
func (s *shell) level() []geometry.Wall { return s.walls[len(s.poly):] }

// outside returns how far p lies outside the room, metres; 0 inside.
func (s *shell) outside(p geometry.Vec) float64 {
	far := s.beyond(p)
	if at := (geometry.Vec2{X: p.X, Y: p.Y}); !s.poly.Contains(at) {
		far = max(far, s.poly.Distance(at))
	}
	return far
}

// beyond returns how far p lies above the ceiling or below the floor, metres; 0 in
// between.
func (s *shell) beyond(p geometry.Vec) float64 {
	far := 0.0
	for i := range s.level() {
		far = max(far, s.level()[i].Behind(p))
	}
	return far
}

// setting is how a driver lies relative to the shell.
type setting struct {
	// plan is whether the driver lies farther beyond the walls than a flush front
	// may; beyond is how far it lies above the ceiling or below the floor, metres.
	plan   bool
	beyond float64
	// walls are those that can hide some of the disc from a place in the room. A
	// wall in which the driver is set flush is moved out to the driver's middle.
	walls []geometry.Wall
}

// settings returns the settings of the drivers of sp.
func (s *shell) settings(sp *place.Speaker) []setting {
	out := make([]setting, len(sp.Drivers))
	for n := range sp.Drivers {
		s.set(&out[n], &sp.Drivers[n])
	}
	return out
}

// set makes t the setting of disc; it reuses t.walls.
func (s *shell) set(t *setting, disc *geometry.Disc) {
	at := geometry.Vec2{X: disc.Center.X, Y: disc.Center.Y}
	*t = setting{beyond: s.beyond(disc.Center), walls: t.walls[:0]}
	t.plan = !s.poly.Contains(at) && s.poly.Distance(at) > flushTol
	far := t.plan || t.beyond > flushTol
	for i := range s.walls {
		w := s.walls[i]
		if !far && s.flush(i, disc) {
			w.At = w.At.Sub(w.In.Mul(w.Behind(disc.Center)))
		}
		behind, wide := w.Behind(disc.Center), spread(disc, w.In)
		if behind+wide > touch && math.Abs(behind)+wide > faceTol {
			t.walls = append(t.walls, w)
		}
	}
}

// flush reports whether the middle of disc is set in wall i: outside the room,
// but no farther beyond that wall than flushTol.
func (s *shell) flush(i int, disc *geometry.Disc) bool {
	w := &s.walls[i]
	behind := w.Behind(disc.Center)
	if !(behind > 0 && behind <= flushTol) {
		return false
	}
	if w.Endless() {
		return true
	}
	at := geometry.Vec2{X: disc.Center.X, Y: disc.Center.Y}
	return s.poly.Distance(at) <= flushTol && !s.poly.Contains(at)
}

// behindPicture returns the walls that can hide some of the picture of screen
// from a place in the room.
func (s *shell) behindPicture(screen project.Screen) []geometry.Wall {
	center, right, up := screen.Picture()
	var out []geometry.Wall
	for _, w := range s.walls {
		if reach := math.Abs(w.In.Dot(right)) + math.Abs(w.In.Dot(up)); w.Behind(center)+reach > touch {
			out = append(out, w)
		}
	}
	return out
}

// spread returns how far disc reaches from its middle along the unit vector n.
func spread(disc *geometry.Disc, n geometry.Vec) float64 {
	return disc.Radius * disc.Normal.Cross(n).Len()
}

// depth returns how deep the shell stands in the path seg to a driver with the
// setting t, metres, and the parameter at which the path first leaves the room;
// ok is false when the shell is not in the way. ear is how far the ear lies
// outside the room, metres.
func (s *shell) depth(seg geometry.Segment, t *setting, ear float64) (deep, at float64, ok bool) {
	at = 1
	out := func(far, t float64) { deep, at, ok = max(deep, far), min(at, t), true }
	if ear > touch {
		out(ear, 0)
	}
	if t.beyond > flushTol {
		for i := range s.level() {
			w := &s.level()[i]
			if far := w.Behind(seg.B); far > flushTol {
				out(far, crossingAt(-w.Behind(seg.A), -far))
			}
		}
	}
	crosses := t.plan
	for i := range t.walls {
		w := &t.walls[i]
		if !w.Endless() && w.Behind(seg.A) < 0 && w.Behind(seg.B) > touch && w.Crosses(seg.A, seg.B) {
			crosses = true
		}
	}
	if !crosses {
		return deep, at, ok
	}
	from := geometry.Vec2{X: seg.A.X, Y: seg.A.Y}
	to := geometry.Vec2{X: seg.B.X, Y: seg.B.Y}
	if corner, t, _, leaves := s.poly.ObstructsTo(from, to, flushTol); leaves && corner > touch {
		out(corner, t)
	}
	return deep, at, ok
}

// crossingAt returns the parameter at which a linear quantity from a to b is zero.
func crossingAt(a, b float64) float64 {
	if a == b {
		return 0
	}
	return min(max(a/(a-b), 0), 1)
}
