// SPDX-License-Identifier: MIT

// Package walk is how one walks about a room: where one can stand, what stops a step,
// and how one comes to a seat and away from it again. It is pure.
//
// A walker is an upright body on a point of the floor. Walls, chairs, loudspeakers and
// what is built in stop it, and it slides along them; platforms, steps and stages are
// climbed as far as one steps up; under what hangs low it stoops.
package walk

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// The walker. EyeLevel lies within what the survey of place/anthropometry.go gives for
// people in shoes; the others are common practice, without a source.
const (
	// EyeLevel is the height of the eyes over the feet, metres, upright.
	EyeLevel = 1.6
	crown    = 0.11 // m, of the head over the eyes
	stooped  = 1.4  // m, how high who stoops still is
	body     = 0.15 // m, half the depth of a body: between rows one walks sideways
	// climb is the highest edge, metres, that one steps up or down without a step
	// between: far more than a stair may have, but people do.
	climb = 0.4
	reach = 1.2 // m, from the feet to a seat in which one can sit down
)

// Ground is a room to walk in.
type Ground struct {
	room   *place.Room
	walls  geometry.Polygon
	stages []project.Feature
	solids []geometry.Solid // what stops a body
	people []geometry.Solid // who sits, whom one walks past where one can
}

// In returns the room r to walk in.
func In(r *place.Room) *Ground {
	g := &Ground{room: r, walls: r.Design.Room.Polygon()}
	for _, f := range r.Design.Room.Features {
		if f.Kind == project.Stage {
			g.stages = append(g.stages, f)
		}
	}
	for i := range r.Parts {
		switch p := &r.Parts[i]; {
		case p.Person():
			g.people = append(g.people, p.Solid())
		case stops(r.Design, p):
			g.solids = append(g.solids, p.Solid())
		}
	}
	if r.Design.Screen.Transparent { // sound passes it, people do not
		g.solids = append(g.solids, r.Design.Screen.Sheet().Solid())
	}
	return g
}

// stops reports whether p, no person, stops who walks. Platforms and stages are stood on. Doors are
// in the wall, and the seats are free for who comes in.
func stops(d *project.Design, p *place.Part) bool {
	switch {
	case p.Kind == place.RiserPart:
		return false
	case p.Kind == place.FeaturePart:
		k := d.Room.Features[p.Index].Kind
		return k != project.Stage && k != project.Door
	}
	return true
}

// floor returns how high one stands at (x, y), metres.
func (g *Ground) floor(x, y float64) float64 {
	z := g.room.Floor.At(x, y)
	for _, f := range g.stages {
		top := float64(f.At.Z + f.Height)
		if top > z && f.Holds(geometry.Vec{X: x, Y: y, Z: top}, 0) {
			z = top
		}
	}
	return z
}

// foot returns the point of the floor at (x, y).
func (g *Ground) foot(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: g.floor(x, y)} }

// OnFloor returns the point of the floor under p, or over it.
func (g *Ground) OnFloor(p geometry.Vec) geometry.Vec { return g.foot(p.X, p.Y) }

// Free reports whether one can stand, if need be stooped, with the feet on foot.
func (g *Ground) Free(foot geometry.Vec) bool { return g.fits(foot, stooped, body) }

// fits reports whether a body so high fits on foot with so much room about its middle.
func (g *Ground) fits(foot geometry.Vec, high, room float64) bool {
	at := geometry.Vec2{X: foot.X, Y: foot.Y}
	if !g.walls.Contains(at) || g.walls.Distance(at) < room || g.room.Design.Room.CeilingAt(at.X, at.Y) < foot.Z+high {
		return false
	}
	return apart(g.solids, foot, high, room)
}

// apart reports whether a body so high on foot keeps off all of the solids: it is what
// lies within its half depth of its axis.
func apart(solids []geometry.Solid, foot geometry.Vec, high, room float64) bool {
	axis := geometry.Segment{A: foot.Add(geometry.Vec{Z: body}), B: foot.Add(geometry.Vec{Z: high - body})}
	for i := range solids {
		ball := solids[i].Bound()
		if far := ball.Radius + room; math.Abs(ball.Center.X-foot.X) > far || math.Abs(ball.Center.Y-foot.Y) > far {
			continue
		}
		if d, _ := solids[i].Clearance(axis); d < room {
			return false
		}
	}
	return true
}

// Eyes returns where the eyes of who stands on foot are: lower than EyeLevel over it
// under what hangs low.
func (g *Ground) Eyes(foot geometry.Vec) geometry.Vec {
	const bend = 0.05 // m
	high := EyeLevel + crown
	for high-bend > stooped && !g.fits(foot, high, body) {
		high -= bend
	}
	return foot.Add(geometry.Vec{Z: high - crown})
}

// Go returns where the feet are of who goes from foot by so many metres along x and y,
// sliding along what is in the way: on the floor, and Free. Who is not Free, because the
// room was changed about them, first goes to the nearest place where one is.
func (g *Ground) Go(foot geometry.Vec, by geometry.Vec2) geometry.Vec {
	if !g.Free(foot) {
		near, ok := g.near(foot, 0, math.Inf(1))
		if !ok {
			return foot
		}
		foot = near
	}
	const stride = 0.04 // m: less than whatever one could step through
	way := by.Len()
	if !(way > 0) || math.IsInf(way, 0) {
		return foot
	}
	n := int(math.Ceil(way / stride))
	for range n {
		next, ok := g.step(foot, by.Mul(1/float64(n)))
		if !ok {
			break
		}
		foot = next
	}
	return foot
}

// step takes one step: by, or what of it leads past what is in the way. Every step gains
// ground towards by, so that nobody trembles in a corner.
func (g *Ground) step(foot geometry.Vec, by geometry.Vec2) (next geometry.Vec, ok bool) {
	for _, turn := range [...]float64{0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9, 1.2, -1.2, 1.45, -1.45} { // radians
		s, c := math.Sincos(turn)
		to := geometry.Vec2{X: (by.X*c - by.Y*s) * c, Y: (by.X*s + by.Y*c) * c}
		next = g.foot(foot.X+to.X, foot.Y+to.Y)
		if math.Abs(next.Z-foot.Z) <= climb && g.Free(next) {
			return next, true
		}
	}
	return foot, false
}

// near returns the place where one can stand that is nearest to at, no more than so high
// or low beside level; ok is false where there is none within some metres.
func (g *Ground) near(at geometry.Vec, level, most float64) (foot geometry.Vec, ok bool) {
	const ring, farthest, around = 0.1, 4.0, 24 // m, m, places a ring
	for r := 0.0; r < farthest; r += ring {
		for k := range around {
			s, c := math.Sincos(2 * math.Pi * float64(k) / around)
			foot = g.foot(at.X+r*c, at.Y+r*s)
			if math.Abs(foot.Z-level) <= most && g.Free(foot) {
				return foot, true
			}
		}
	}
	return at, false
}

// Entrance returns where who comes in stands, and where they look: inside the first door,
// at the middle of the room, or where no door is drawn at the back, at the picture. ok is
// false for a room in which nobody can stand.
func (g *Ground) Entrance() (foot, at geometry.Vec, ok bool) {
	const inside = 0.5 // m
	d := g.room.Design
	lo, hi := g.walls.Bounds()
	at, _, _ = d.Screen.Picture()
	from := geometry.Vec{X: hi.X - inside, Y: (lo.Y + hi.Y) / 2}
	for _, f := range d.Room.Features {
		if f.Kind == project.Door {
			edge, wall := g.walls.Nearest(geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)})
			in := wall.Add(g.walls.InwardNormal(edge).Mul(inside))
			from = geometry.Vec{X: in.X, Y: in.Y}
			middle := g.walls.Centroid()
			at = geometry.Vec{X: middle.X, Y: middle.Y, Z: at.Z}
			break
		}
	}
	foot, ok = g.near(from, 0, math.Inf(1))
	return foot, at, ok
}

// Rise returns where who gets up from seat i, counted from 0, stands: before the chair,
// or where else there is room beside it. ok is false where there is none.
func (g *Ground) Rise(i int) (foot geometry.Vec, ok bool) {
	if i < 0 || i >= len(g.room.Seats) {
		return geometry.Vec{}, false
	}
	s := g.room.Seats[i]
	before := s.Local(-float64(s.Chair.PanDepth)-body, 0, 0)
	return g.near(before, s.Ref.Z, climb)
}

// Seat returns the nearest seat, counted from 0, in which who stands on foot can sit
// down; ok is false when none is in reach.
func (g *Ground) Seat(foot geometry.Vec) (i int, ok bool) {
	best := math.Inf(1)
	for k, s := range g.room.Seats {
		middle := s.Local(-float64(s.Chair.PanDepth)/2, 0, 0)
		d := math.Hypot(middle.X-foot.X, middle.Y-foot.Y)
		if math.Abs(s.Ref.Z-foot.Z) <= climb && d <= reach && d < best {
			best, i, ok = d, k, true
		}
	}
	return i, ok
}
