// SPDX-License-Identifier: MIT

package follow

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
)

// features takes along what is built in: each face with the wall or the ceiling it
// touches, so that what reaches from wall to wall, or from floor to ceiling, goes on
// to do so.
func (s *shell) features() {
	for i := range s.d.Room.Features {
		f := &s.d.Room.Features[i]
		was := *f
		if s.onWall(i) {
			continue
		}
		x, y := place.Extent(was)
		along := s.stretch(was, true, float64(was.At.X)-x, float64(was.At.X)+x, float64(was.At.Y)-y, float64(was.At.Y)+y)
		over := s.stretch(was, false, float64(was.At.Y)-y, float64(was.At.Y)+y, float64(was.At.X)-x, float64(was.At.X)+x)
		if over.free {
			over.by = s.featureAcross(i)
		}
		f.At.X, f.At.Y = shifted(f.At.X, along.by), shifted(f.At.Y, over.by)
		if was.Round { // a column's diameter stays
			along.longer, over.longer = 0, 0
		}
		back, wide := &f.Length, &f.Width // sizes along x and y
		if quarter(was.Turn) {
			back, wide = wide, back
		}
		*back, *wide = grow(*back, along.longer), grow(*wide, over.longer)
		s.height(f, was)
		if was.At != f.At || was.Length != f.Length || was.Width != f.Width || was.Height != f.Height {
			s.moved.Features++
		}
	}
}

func grow(size unit.Length, by float64) unit.Length {
	if by == 0 {
		return size
	}
	return max(shifted(size, by), 0.001)
}

// quarter reports whether a box turned so has its length along y.
func quarter(turn unit.Degrees) bool { return math.Abs(math.Sin(turn.Radians())) > 0.99 }

// change is what becomes of a box along one axis.
type change struct {
	by, longer float64 // how far its middle moves, and how much longer it becomes
	free       bool    // no wall carries it along that axis
}

// stretch works out what becomes of a box that reaches from lo to hi along x, or else
// along y, and from side to side2 along the other axis.
func (s *shell) stretch(f project.Feature, x bool, lo, hi, side, side2 float64) change {
	first, low := s.face(x, true, lo, hi, side, side2)
	last, high := s.face(x, false, lo, hi, side, side2)
	switch {
	case low && high && square(f.Turn):
		if hi-lo+last-first > 0 {
			return change{by: (first + last) / 2, longer: last - first}
		}
		return change{by: first}
	case low:
		return change{by: first}
	case high:
		return change{by: last}
	}
	return change{free: true}
}

// face returns how far the wall moves that a box touches with its lower or its upper
// face along an axis; ok is false when there is none.
func (s *shell) face(x, lower bool, lo, hi, side, side2 float64) (by float64, ok bool) {
	at := hi
	if lower {
		at = lo
	}
	best := touchTol
	for i := range s.p {
		n := s.p.InwardNormal(i)
		a, b := s.p.Edge(i)
		c, facing := a.X, n.X
		from, to := a.Y, b.Y
		foot := geometry.Vec2{X: a.X, Y: (side + side2) / 2}
		if !x {
			c, facing = a.Y, n.Y
			from, to = a.X, b.X
			foot = geometry.Vec2{X: (side + side2) / 2, Y: a.Y}
		}
		if !lower {
			facing = -facing
		}
		if facing < 0.99 || min(side2, max(from, to))-max(side, min(from, to)) <= 0 {
			continue
		}
		if off := math.Abs(at - c); off <= best {
			shift := s.wallShift(i, foot, 0)
			best, ok, by = off, true, shift.X
			if !x {
				by = shift.Y
			}
		}
	}
	return by, ok
}

// featureAcross is as speakerAcross.
func (s *shell) featureAcross(i int) float64 {
	f := s.old.Room.Features[i]
	x, y := float64(f.At.X), float64(f.At.Y)
	if by := s.across(x, y); by != 0 {
		return by
	}
	if p, ok := pair.Of(s.old, place.Item{Kind: place.FeatureItem, Index: i}); ok {
		return s.across(x, float64(f.At.Y+s.old.Room.Features[p.Other].At.Y)/2)
	}
	return 0
}

// onWall takes what is in a wall, a door or a window, along with it, and what stands
// along a wall that runs askew, or comes to; false when feature i is neither.
func (s *shell) onWall(i int) bool {
	f := &s.d.Room.Features[i]
	was := *f
	at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	edge, foot := s.p.Nearest(at)
	off := foot.Dist(at)
	if f.Kind == project.Door || f.Kind == project.Window {
		if off > inWall {
			return true // in no wall: it stays
		}
	} else if off > float64(min(f.Length, f.Across()))/2+touchTol || square(f.Turn) && s.turned(edge) == 0 {
		return false
	}
	by := s.wallShift(edge, at, float64(max(f.Length, f.Width))/2)
	f.At.X, f.At.Y = shifted(f.At.X, by.X), shifted(f.At.Y, by.Y)
	if math.Abs(s.p.InwardNormal(edge).Y) < 0.5 { // the screen wall or the back wall
		f.At.Y = shifted(f.At.Y, s.featureAcross(i))
	}
	if turn := s.turned(edge); turn != 0 && !f.Round {
		f.Turn = unit.Degrees(math.Mod(float64(f.Turn+turn), 360))
	}
	if f.Kind != project.Door && f.Kind != project.Window {
		s.height(f, was)
	}
	if was != *f {
		s.moved.Features++
	}
	return true
}

// square reports whether a box turned so stands along the axes.
func square(turn unit.Degrees) bool { return math.Abs(math.Sin(2*turn.Radians())) < 0.02 }

// turned returns by how much a wall turns.
func (s *shell) turned(edge int) unit.Degrees {
	a, b := s.p.Edge(edge)
	c, d := s.q.Edge(edge)
	was, now := b.Sub(a), d.Sub(c)
	const still = 1e-9 // radians
	if by := math.Atan2(was.Cross(now), was.Dot(now)); math.Abs(by) > still {
		return unit.FromRadians(by)
	}
	return 0
}

// height takes f along with the ceiling that it touches or is let into; what stands
// on the floor as well grows or shrinks.
func (s *shell) height(f *project.Feature, was project.Feature) {
	before, after := s.ceilings(was.At, f.At)
	top := float64(was.At.Z + was.Height)
	switch {
	case top < before-touchTol || float64(was.At.Z) > before+touchTol:
		return
	case math.Abs(float64(was.At.Z)) <= touchTol:
		if high := float64(was.Height) + after - before; high > 0 {
			f.Height = shifted(was.Height, after-before)
		}
	default:
		f.At.Z = shifted(was.At.Z, after-before)
	}
}

// zones takes along the zones for subwoofers: each side with the wall it touches.
func (s *shell) zones() {
	for i := range s.d.SubZones {
		z := &s.d.SubZones[i]
		was := *z
		lo := geometry.Vec2{X: float64(min(was.From.X, was.To.X)), Y: float64(min(was.From.Y, was.To.Y))}
		hi := geometry.Vec2{X: float64(max(was.From.X, was.To.X)), Y: float64(max(was.From.Y, was.To.Y))}
		along := s.stretch(project.Feature{}, true, lo.X, hi.X, lo.Y, hi.Y)
		over := s.stretch(project.Feature{}, false, lo.Y, hi.Y, lo.X, hi.X)
		if over.free {
			over.by = s.across((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
		}
		end := func(v *unit.Length, least bool, c change) {
			by := c.by + c.longer/2
			if least {
				by = c.by - c.longer/2
			}
			*v = shifted(*v, by)
		}
		end(&z.From.X, was.From.X <= was.To.X, along)
		end(&z.To.X, was.From.X > was.To.X, along)
		end(&z.From.Y, was.From.Y <= was.To.Y, over)
		end(&z.To.Y, was.From.Y > was.To.Y, over)
		if was.From.X != z.From.X || was.From.Y != z.From.Y || was.To.X != z.To.X || was.To.Y != z.To.Y {
			s.moved.Zones++
		}
	}
}
