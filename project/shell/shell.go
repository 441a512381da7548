// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
	"earline/project/place"
)

// Shell is the room as sound and light meet it. It does not change once made and
// may be read from any goroutine.
type Shell struct {
	Outline geometry.Polygon // of the floor
	Treads  Treads
	// Surfaces are floor, platforms and their steps, walls, ceiling, then faces of
	// what is built in.
	Surfaces []Surface
	// Platforms is what the platforms are made of, Features what each of the
	// room's features is.
	Platforms Finish
	Features  []Finish
	Assumed   []Assumption // each once

	room     project.Room
	hung     []project.Treatment
	slopes   geometry.Ceiling
	floor    place.Floor
	finishes map[string]Finish // by the ID of the material
}

// Of returns the shell of a valid design.
func Of(d *project.Design) *Shell {
	s := &Shell{Outline: d.Room.Polygon(), Treads: TreadsOf(d), floor: place.FloorOf(d), room: d.Room, hung: panel.Treatments(d), slopes: d.Room.Slopes(), finishes: map[string]Finish{}}
	for _, m := range d.Room.Materials {
		f := Finish{Scatters: m.Scatters, Name: m.Name}
		copy(f.Absorption[:], m.Absorption)
		f.Bass = project.InBass(f.Absorption, m.Bass)
		s.finishes[m.ID] = f
	}
	s.Platforms = s.platformFinish()
	s.floors()
	s.walls()
	s.ceiling()
	for _, f := range s.room.Features {
		s.Features = append(s.Features, s.featureFinish(f))
	}
	s.cover()
	s.build(d.Screen)
	return s
}

// floors adds the stretches of the room's floor, the tops of the platforms, and
// the steps between them.
func (s *Shell) floors() {
	lo, hi := s.Outline.Bounds()
	flat := func(kind Kind, index int, words string, f Finish, t Tread) {
		outline := s.Outline.Clip(geometry.Vec2{X: t.from, Y: max(lo.Y, t.left)}, geometry.Vec2{X: t.to, Y: min(hi.Y, t.right)})
		const least = 1e-6 // m2, rounding
		if math.Abs(outline.Area()) < least {
			return
		}
		s.Surfaces = append(s.Surfaces, Surface{Kind: kind, Index: index, Words: words,
			Origin: geometry.Vec{Z: t.height}, Normal: geometry.Vec{Z: 1}, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
			Outline: outline, Finish: f, stretch: 1})
	}
	bare := func(from, to float64) {
		flat(Floor, 0, "floor", s.floorFinish(), Tread{from: from, to: to, left: lo.Y, right: hi.Y})
	}
	x := lo.X
	for _, t := range s.Treads {
		if t.from > x {
			bare(x, t.from)
		}
		if t.row < 0 {
			flat(Floor, 0, "floor", s.floorFinish(), t)
		} else {
			flat(Platform, t.row+1, fmt.Sprintf("platform of row %d", t.row+1), s.Platforms, t)
		}
		x = t.to
	}
	if hi.X > x {
		bare(x, hi.X)
	}
	s.steps(lo, hi)
}

// steps adds the upright faces where the floor changes its height.
func (s *Shell) steps(lo, hi geometry.Vec2) {
	const touch = 1e-6 // m: a platform that reaches a wall has no face there
	for i, t := range s.Treads {
		if t.row < 0 {
			continue
		}
		face := func(x, y0, y1, low, normal float64, where string) {
			if low >= t.height {
				return
			}
			for _, run := range s.across(x) {
				from, to := max(run[0], y0), min(run[1], y1)
				if from >= to {
					continue
				}
				s.Surfaces = append(s.Surfaces, Surface{Kind: Step, Index: t.row + 1,
					Words:  fmt.Sprintf("%s of the platform of row %d", where, t.row+1),
					Origin: geometry.Vec{X: x}, Normal: geometry.Vec{X: normal}, U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1},
					Outline: rectangle(geometry.Vec2{X: from, Y: low}, geometry.Vec2{X: to, Y: t.height}),
					Finish:  s.Platforms, stretch: 1})
			}
		}
		if t.from > lo.X+touch {
			for _, n := range s.beside(t, t.from, func(o Tread) float64 { return o.to }) {
				face(t.from, n.left, n.right, n.height, -1, "front")
			}
		}
		if t.to < hi.X-touch {
			for _, n := range s.beside(t, t.to, func(o Tread) float64 { return o.from }) {
				face(t.to, n.left, n.right, n.height, 1, "back")
			}
		}
		// To the left and right, where the stretches of one x lie side by side.
		if i > 0 && s.Treads[i-1].from == t.from {
			s.flank(t, t.left, s.Treads[i-1].height, -1, "left side")
		}
		if i+1 < len(s.Treads) && s.Treads[i+1].from == t.from {
			s.flank(t, t.right, s.Treads[i+1].height, 1, "right side")
		}
	}
}

// beside returns the floor that joins t at x, where the others end, piece by piece
// from left to right: all of it the room's floor where no other stretch is.
func (s *Shell) beside(t Tread, x float64, end func(Tread) float64) Treads {
	var out Treads
	for _, o := range s.Treads {
		if end(o) != x {
			continue
		}
		o.left, o.right = max(o.left, t.left), min(o.right, t.right)
		if o.left < o.right {
			out = append(out, o)
		}
	}
	if len(out) == 0 {
		return Treads{{left: t.left, right: t.right}}
	}
	return out
}

// flank adds the face of t at y, which looks left (normal -1) or right.
func (s *Shell) flank(t Tread, y, low, normal float64, where string) {
	if low >= t.height {
		return
	}
	// A hair in either direction, so that no face stands along a wall.
	const hair = 1e-9 // m
	swapped := make(geometry.Polygon, len(s.Outline))
	for i, p := range s.Outline {
		swapped[i] = geometry.Vec2{X: p.Y, Y: p.X}
	}
	for _, a := range swapped.Spans(y - hair) {
		for _, b := range swapped.Spans(y + hair) {
			from, to := max(a[0], b[0], t.from), min(a[1], b[1], t.to)
			if from >= to {
				continue
			}
			s.Surfaces = append(s.Surfaces, Surface{Kind: Step, Index: t.row + 1,
				Words:  fmt.Sprintf("%s of the platform of row %d", where, t.row+1),
				Origin: geometry.Vec{Y: y}, Normal: geometry.Vec{Y: normal}, U: geometry.Vec{X: 1}, V: geometry.Vec{Z: 1},
				Outline: rectangle(geometry.Vec2{X: from, Y: low}, geometry.Vec2{X: to, Y: t.height}),
				Finish:  s.Platforms, stretch: 1})
		}
	}
}

// across returns the stretches of y that lie in the room both before and behind
// the line across it at x: a concave room may have several, and none along a wall
// that stands there.
func (s *Shell) across(x float64) [][2]float64 {
	var out [][2]float64
	for _, a := range s.Outline.Spans(math.Nextafter(x, math.Inf(-1))) {
		for _, b := range s.Outline.Spans(x) {
			if from, to := max(a[0], b[0]), min(a[1], b[1]); to > from {
				out = append(out, [2]float64{from, to})
			}
		}
	}
	return out
}

// walls adds every wall, above the platforms that reach it.
func (s *Shell) walls() {
	for i := range s.Outline {
		a, b := s.Outline.Edge(i)
		n, l := s.Outline.InwardNormal(i), a.Dist(b)
		if !(l > 0) {
			continue
		}
		u := b.Sub(a).Mul(1 / l)
		top := s.slopes.Edge(a, b)
		ca, cb := top[0].Y, top[len(top)-1].Y
		var outline geometry.Polygon
		for _, t := range s.foot(a, u, n, l) {
			h := min(t.height, ca, cb)
			outline = append(outline, geometry.Vec2{X: t.from, Y: h}, geometry.Vec2{X: t.to, Y: h})
		}
		slices.Reverse(top)
		outline = append(outline, top...)
		s.Surfaces = append(s.Surfaces, Surface{Kind: Wall, Index: i + 1, Words: s.room.WallName(i + 1),
			Begins: s.room.WallName((i+len(s.Outline)-1)%len(s.Outline) + 1),
			Origin: geometry.Vec{X: a.X, Y: a.Y}, Normal: geometry.Vec{X: n.X, Y: n.Y},
			U: geometry.Vec{X: u.X, Y: u.Y}, V: geometry.Vec{Z: 1},
			Outline: outline, Finish: s.wallFinish(i + 1), stretch: 1})
	}
}

// foot returns the floor along the foot of an upright face, from a for length l
// in the direction along, seen from the side to which normal points: from and to
// are along the face.
func (s *Shell) foot(a, along, normal geometry.Vec2, l float64) Treads {
	cuts := []float64{0, l}
	cut := func(at float64) {
		if at > 0 && at < l { // not so where the face does not lead there
			cuts = append(cuts, at)
		}
	}
	for _, t := range s.Treads {
		for _, x := range [2]float64{t.from, t.to} {
			cut((x - a.X) / along.X)
		}
		for _, y := range [2]float64{t.left, t.right} {
			cut((y - a.Y) / along.Y)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out Treads
	for k := 1; k < len(cuts); k++ {
		const before = 1e-6 // m: a face across the room stands on the floor before it
		mid := a.Add(along.Mul((cuts[k-1] + cuts[k]) / 2)).Add(normal.Mul(before))
		out = append(out, Tread{from: cuts[k-1], to: cuts[k], height: s.floor.At(mid.X, mid.Y), row: -1})
	}
	return out
}

// ceiling adds the pieces of the ceiling.
func (s *Shell) ceiling() {
	finish := s.finishOf(s.room.Surfaces.Ceiling, "ceiling", assumedWall)
	for _, p := range s.slopes.Pieces(s.Outline) {
		slope := s.slopes[p.Slope]
		n := slope.Down()
		s.Surfaces = append(s.Surfaces, Surface{Kind: Ceiling, Index: p.Slope, Words: s.room.CeilingName(p.Slope),
			Origin: geometry.Vec{Z: slope.Height}, Normal: n, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
			Outline: p.Outline, Finish: finish, stretch: 1 / -n.Z})
	}
}
