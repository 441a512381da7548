// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// Kind is what a Surface belongs to.
type Kind uint8

// The kinds of surface.
const (
	Floor Kind = iota
	Ceiling
	Wall
	Platform // the top of a row's platform
	Step     // the upright face of a platform
	Feature  // a face of something built in, or of an opaque screen
)

// Surface is a flat piece of the room that throws sound back.
type Surface struct {
	Kind Kind
	// Index is the number of the wall or row, from 1, or of the feature, from 0.
	Index int
	Words string // "left wall (wall 1)"
	// Begins names the wall at whose corner a wall's U is 0: "wall 6".
	Begins string
	// Origin is a point of its plane, Normal the unit vector into the room. U and
	// V give its flat coordinates: those of p are (p-Origin).U and (p-Origin).V.
	// On a wall U runs from its first corner, V up; on a floor or ceiling they are
	// the room's x and y.
	Origin, Normal, U, V geometry.Vec
	Outline              geometry.Polygon // in U and V
	Finish               Finish
	Covers               []Cover // the later ones lie over the earlier
	stretch              float64 // true area over that of Outline: a sloping ceiling
}

// Finish is what a surface is made of.
type Finish struct {
	Absorption [project.OctaveCount]float64
	Scatters   bool
	Name       string
}

// Cover is a rectangle of another finish on a surface, in U and V.
type Cover struct {
	lo, hi geometry.Vec2
	Finish Finish
	hidden bool // something built in stands against it: no surface here
	name   string
}

// Flat returns the flat coordinates of p.
func (s *Surface) Flat(p geometry.Vec) geometry.Vec2 {
	d := p.Sub(s.Origin)
	return geometry.Vec2{X: d.Dot(s.U), Y: d.Dot(s.V)}
}

// Height returns how far p lies before s, negative behind it.
func (s *Surface) Height(p geometry.Vec) float64 { return p.Sub(s.Origin).Dot(s.Normal) }

// FinishAt returns the finish at q.
func (s *Surface) FinishAt(q geometry.Vec2) *Finish {
	for i := len(s.Covers) - 1; i >= 0; i-- {
		if c := &s.Covers[i]; !c.hidden && c.holds(q) {
			return &c.Finish
		}
	}
	return &s.Finish
}

func (c *Cover) holds(q geometry.Vec2) bool {
	return q.X >= c.lo.X && q.X <= c.hi.X && q.Y >= c.lo.Y && q.Y <= c.hi.Y
}

// Piece is an area of one finish.
type Piece struct {
	Name   string
	Area   float64
	Finish Finish
}

// Pieces splits s into its areas of one finish: itself, then its covers.
func (s *Surface) Pieces() []Piece {
	out := make([]Piece, 1+len(s.Covers))
	out[0] = Piece{s.Words, math.Abs(s.Outline.Area()) * s.stretch, s.Finish}
	if len(s.Covers) == 0 {
		return out
	}
	// Cells between all edges of covers: each belongs to the last that holds it.
	var us, vs []float64
	for i := range s.Covers {
		c := &s.Covers[i]
		out[i+1] = Piece{Name: c.name, Finish: c.Finish}
		us, vs = append(us, c.lo.X, c.hi.X), append(vs, c.lo.Y, c.hi.Y)
	}
	slices.Sort(us)
	slices.Sort(vs)
	us, vs = slices.Compact(us), slices.Compact(vs)
	for i := 1; i < len(us); i++ {
		for j := 1; j < len(vs); j++ {
			mid := geometry.Vec2{X: (us[i-1] + us[i]) / 2, Y: (vs[j-1] + vs[j]) / 2}
			for k := len(s.Covers) - 1; k >= 0; k-- {
				if c := &s.Covers[k]; c.holds(mid) {
					a := math.Abs(clipped(s.Outline, geometry.Vec2{X: us[i-1], Y: vs[j-1]}, geometry.Vec2{X: us[i], Y: vs[j]}).Area()) * s.stretch
					out[0].Area -= a
					if !c.hidden {
						out[k+1].Area += a
					}
					break
				}
			}
		}
	}
	out[0].Area = max(out[0].Area, 0)
	return out
}

// clipped returns the part of p within the rectangle (Sutherland and Hodgman
// 1974). Parts of a concave outline may hang together by edges of no width.
func clipped(p geometry.Polygon, lo, hi geometry.Vec2) geometry.Polygon {
	cut := func(p geometry.Polygon, in func(geometry.Vec2) float64) geometry.Polygon {
		var out geometry.Polygon
		for i := range p {
			a, b := p.Edge(i)
			da, db := in(a), in(b)
			if da >= 0 {
				out = append(out, a)
			}
			if da >= 0 != (db >= 0) {
				out = append(out, a.Add(b.Sub(a).Mul(da/(da-db))))
			}
		}
		return out
	}
	p = cut(p, func(q geometry.Vec2) float64 { return q.X - lo.X })
	p = cut(p, func(q geometry.Vec2) float64 { return hi.X - q.X })
	p = cut(p, func(q geometry.Vec2) float64 { return q.Y - lo.Y })
	return cut(p, func(q geometry.Vec2) float64 { return hi.Y - q.Y })
}

// Shell is the room as sound and light meet it. It does not change once made and
// may be read from any goroutine.
type Shell struct {
	Outline geometry.Polygon // of the floor
	Treads  Treads
	// Surfaces are floor, platforms and their steps, walls, ceiling, then faces of
	// what is built in.
	Surfaces []Surface
	// Assumed says what is assumed or left out, a line each.
	Assumed []string

	room     project.Room
	finishes map[string]Finish
}

// Of returns the shell of a valid design.
func Of(d *project.Design) *Shell {
	s := &Shell{Outline: d.Room.Polygon(), Treads: TreadsOf(d), room: d.Room, finishes: map[string]Finish{}}
	for _, m := range d.Room.Materials {
		f := Finish{Scatters: m.Scatters, Name: m.Name}
		copy(f.Absorption[:], m.Absorption)
		s.finishes[m.ID] = f
	}
	s.floors()
	s.walls()
	s.ceiling()
	built := len(s.Surfaces)
	s.features(d, built)
	s.treatments()
	return s
}

// remark notes what is assumed or left out, once.
func (s *Shell) remark(format string, args ...any) {
	if text := fmt.Sprintf(format, args...); !slices.Contains(s.Assumed, text) {
		s.Assumed = append(s.Assumed, text)
	}
}

// finishOf returns the finish of that ID, or what is assumed for a thing whose
// material is not given.
func (s *Shell) finishOf(id, what string, assumed Finish) Finish {
	if f, ok := s.finishes[id]; ok {
		return f
	}
	s.remark("%s: material not given, taken as %s", what, assumed.Name)
	return assumed
}

// What is assumed where no material is given, from the tables that the list of
// materials names; 63 Hz as 125 Hz and 8 kHz as 4 kHz.
var (
	// Audio engineering handbook, table 29.3 (AC-175).
	assumedWall = Finish{Name: "plasterboard, one layer on timber studs",
		Absorption: [project.OctaveCount]float64{0.10, 0.10, 0.08, 0.05, 0.03, 0.03, 0.03, 0.03}}
	// Audio engineering handbook, table 29.3 (AC-171).
	assumedFloor = Finish{Name: "a wood floor",
		Absorption: [project.OctaveCount]float64{0.15, 0.15, 0.11, 0.10, 0.07, 0.06, 0.07, 0.07}}
	// Vorlaender, Auralization (2008), Annex (AC-157).
	assumedChair = Finish{Name: "cloth chairs, empty",
		Absorption: [project.OctaveCount]float64{0.44, 0.44, 0.60, 0.77, 0.89, 0.82, 0.70, 0.70}}
)

// Upholstery returns the finish of empty chairs of that material, of the floor
// they take; given is false where it is none of the design's and they are taken
// as cloth chairs.
func (s *Shell) Upholstery(id string) (f Finish, given bool) {
	if f, ok := s.finishes[id]; ok {
		return f, true
	}
	return assumedChair, false
}

func (s *Shell) floorFinish() Finish {
	return s.finishOf(s.room.Surfaces.Floor, "floor", assumedFloor)
}

// platformFinish returns that of the platforms, which are as the floor unless
// they say otherwise.
func (s *Shell) platformFinish() Finish {
	if id := s.room.Surfaces.Platforms; id != "" {
		return s.finishOf(id, "platforms", assumedFloor)
	}
	return s.floorFinish()
}

func (s *Shell) wallFinish(wall int) Finish {
	for _, w := range s.room.Surfaces.Wall {
		if w.Wall == wall {
			return s.finishOf(w.Material, fmt.Sprintf("wall %d", wall), assumedWall)
		}
	}
	return s.finishOf(s.room.Surfaces.Walls, "walls", assumedWall)
}

// floors adds the stretches of the room's floor, the tops of the platforms, and
// the steps between them.
func (s *Shell) floors() {
	lo, hi := s.Outline.Bounds()
	flat := func(kind Kind, index int, words string, f Finish, from, to, height float64) {
		outline := clipped(s.Outline, geometry.Vec2{X: from, Y: lo.Y}, geometry.Vec2{X: to, Y: hi.Y})
		if math.Abs(outline.Area()) < 1e-6 {
			return
		}
		s.Surfaces = append(s.Surfaces, Surface{Kind: kind, Index: index, Words: words,
			Origin: geometry.Vec{Z: height}, Normal: geometry.Vec{Z: 1}, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
			Outline: outline, Finish: f, stretch: 1})
	}
	x := lo.X
	for _, t := range s.Treads {
		if t.from > x {
			flat(Floor, 0, "floor", s.floorFinish(), x, t.from, 0)
		}
		flat(Platform, t.row+1, fmt.Sprintf("platform of row %d", t.row+1), s.platformFinish(), t.from, t.to, t.height)
		x = t.to
	}
	if hi.X > x {
		flat(Floor, 0, "floor", s.floorFinish(), x, hi.X, 0)
	}
	s.steps(lo, hi)
}

// steps adds the upright faces where the floor changes its height.
func (s *Shell) steps(lo, hi geometry.Vec2) {
	for i, t := range s.Treads {
		before, after := 0.0, 0.0
		if i > 0 && s.Treads[i-1].to == t.from {
			before = s.Treads[i-1].height
		}
		if i+1 < len(s.Treads) && s.Treads[i+1].from == t.to {
			after = s.Treads[i+1].height
		}
		face := func(x, low float64, normal float64, where string) {
			if low >= t.height {
				return
			}
			// A concave room may meet the step in several stretches.
			for _, run := range crossings(s.Outline, x) {
				s.Surfaces = append(s.Surfaces, Surface{Kind: Step, Index: t.row + 1,
					Words:  fmt.Sprintf("%s of the platform of row %d", where, t.row+1),
					Origin: geometry.Vec{X: x}, Normal: geometry.Vec{X: normal}, U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1},
					Outline: rectangle(geometry.Vec2{X: run[0], Y: low}, geometry.Vec2{X: run[1], Y: t.height}),
					Finish:  s.platformFinish(), stretch: 1})
			}
		}
		const touch = 1e-6 // m: a platform that reaches a wall has no face there
		if t.from > lo.X+touch {
			face(t.from, before, -1, "front")
		}
		if t.to < hi.X-touch {
			face(t.to, after, 1, "back")
		}
	}
}

// crossings returns the stretches of y that lie inside the outline at x.
func crossings(p geometry.Polygon, x float64) [][2]float64 {
	var ys []float64
	for i := range p {
		a, b := p.Edge(i)
		if (a.X > x) != (b.X > x) {
			ys = append(ys, a.Y+(b.Y-a.Y)*(x-a.X)/(b.X-a.X))
		}
	}
	slices.Sort(ys)
	var out [][2]float64
	for i := 0; i+1 < len(ys); i += 2 {
		out = append(out, [2]float64{ys[i], ys[i+1]})
	}
	return out
}

func rectangle(lo, hi geometry.Vec2) geometry.Polygon {
	return geometry.Polygon{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}}
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
		// Where platforms begin and end along the wall.
		cuts := []float64{0, l}
		if u.X != 0 {
			for _, t := range s.Treads {
				for _, x := range [2]float64{t.from, t.to} {
					if at := (x - a.X) / u.X; at > 0 && at < l {
						cuts = append(cuts, at)
					}
				}
			}
			slices.Sort(cuts)
			cuts = slices.Compact(cuts)
		}
		ca, cb := s.room.CeilingAt(a.X, a.Y), s.room.CeilingAt(b.X, b.Y)
		var outline geometry.Polygon
		for k := 1; k < len(cuts); k++ {
			const inside = 1e-6 // m: a wall across the room takes the floor before it
			mid := a.Add(u.Mul((cuts[k-1] + cuts[k]) / 2)).Add(n.Mul(inside))
			h := min(s.Treads.At(mid.X), ca, cb)
			outline = append(outline, geometry.Vec2{X: cuts[k-1], Y: h}, geometry.Vec2{X: cuts[k], Y: h})
		}
		outline = append(outline, geometry.Vec2{X: l, Y: cb}, geometry.Vec2{X: 0, Y: ca})
		s.Surfaces = append(s.Surfaces, Surface{Kind: Wall, Index: i + 1, Words: wallWords(s.room, i+1),
			Begins: fmt.Sprintf("wall %d", (i+len(s.Outline)-1)%len(s.Outline)+1),
			Origin: geometry.Vec{X: a.X, Y: a.Y}, Normal: geometry.Vec{X: n.X, Y: n.Y},
			U: geometry.Vec{X: u.X, Y: u.Y}, V: geometry.Vec{Z: 1},
			Outline: outline, Finish: s.wallFinish(i + 1), stretch: 1})
	}
}

// wallWords names a wall: "left wall (wall 1)".
func wallWords(r project.Room, number int) string {
	if side := r.WallSide(number); side != "" {
		return fmt.Sprintf("%s wall (wall %d)", side, number)
	}
	return fmt.Sprintf("wall %d", number)
}

func (s *Shell) ceiling() {
	h := s.room.CeilingAt(0, 0)
	n, _ := geometry.Vec{X: s.room.CeilingAt(1, 0) - h, Y: s.room.CeilingAt(0, 1) - h, Z: -1}.Unit()
	s.Surfaces = append(s.Surfaces, Surface{Kind: Ceiling, Words: "ceiling",
		Origin: geometry.Vec{Z: h}, Normal: n, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
		Outline: s.Outline, Finish: s.finishOf(s.room.Surfaces.Ceiling, "ceiling", assumedWall), stretch: 1 / -n.Z})
}

// InSurface reports whether a feature lies in a wall or ceiling as part of it.
func InSurface(k project.FeatureKind) bool {
	return k == project.Door || k == project.Window || k == project.Vent || k == project.Light
}

// features lays doors, windows, lights and vents over the surface they are in,
// and adds the faces of everything else; built is how many surfaces the shell has.
func (s *Shell) features(d *project.Design, built int) {
	for i, f := range s.room.Features {
		made := s.wallFinish(0)
		if f.Material != "" {
			made = s.finishOf(f.Material, f.Words(), assumedWall)
		}
		box := f.Box()
		if InSurface(f.Kind) {
			if on := s.nearest(box.Center, built); on != nil {
				lo, hi := extent(on, boxCorners(box))
				on.Covers = append(on.Covers, Cover{lo: lo, hi: hi, Finish: made, name: f.Words()})
			}
			continue
		}
		s.faces(i, f.Words(), box, made, built)
	}
	if !d.Screen.Transparent {
		s.remark("screen: no sound passes it; its face is taken as %s", assumedWall.Name)
		s.faces(-1, "screen", d.Screen.Sheet(), assumedWall, built)
	}
}

// nearest returns the surface of the shell in which a thing about c lies, or nil
// when it is in none.
func (s *Shell) nearest(c geometry.Vec, built int) *Surface {
	const reveal = 0.45 // m: an opening in its wall, a light or a vent under the ceiling
	best, out := reveal, (*Surface)(nil)
	for i := range s.Surfaces[:built] {
		on := &s.Surfaces[i]
		if h := math.Abs(on.Height(c)); h < best && on.Outline.Contains(on.Flat(c)) {
			best, out = h, on
		}
	}
	return out
}

// faces adds the faces of a box that stand free, and hides what the others cover.
func (s *Shell) faces(index int, words string, b geometry.Box, made Finish, built int) {
	for axis := range 3 {
		for _, side := range [2]float64{-1, 1} {
			w, u, v := b.Basis.W, b.Basis.U, b.Basis.V
			hw, hu, hv := b.Half.Z, b.Half.X, b.Half.Y
			way := "top"
			switch axis {
			case 0:
				w, u, v, hw, hu, hv, way = b.Basis.U, b.Basis.V, b.Basis.W, b.Half.X, b.Half.Y, b.Half.Z, "face"
			case 1:
				w, u, v, hw, hu, hv, way = b.Basis.V, b.Basis.U, b.Basis.W, b.Half.Y, b.Half.X, b.Half.Z, "face"
			}
			if axis == 2 && side < 0 {
				way = "underside"
			}
			n := w.Mul(side)
			f := Surface{Kind: Feature, Index: index, Words: way + " of the " + words,
				Origin: b.Center.Add(n.Mul(hw)), Normal: n, U: u, V: v,
				Outline: rectangle(geometry.Vec2{X: -hu, Y: -hv}, geometry.Vec2{X: hu, Y: hv}), Finish: made, stretch: 1}
			if on := s.against(&f, built); on != nil {
				corners := [4]geometry.Vec{}
				for k, q := range f.Outline {
					corners[k] = f.Origin.Add(u.Mul(q.X)).Add(v.Mul(q.Y))
				}
				lo, hi := extent(on, corners[:])
				on.Covers = append(on.Covers, Cover{lo: lo, hi: hi, hidden: true, name: words})
				continue
			}
			q := f.Origin.Add(n.Mul(1e-6))
			if !s.Outline.Contains(geometry.Vec2{X: q.X, Y: q.Y}) {
				continue
			}
			s.Surfaces = append(s.Surfaces, f)
		}
	}
}

// against returns the surface of the shell that the face f touches, or nil.
func (s *Shell) against(f *Surface, built int) *Surface {
	const (
		touch  = 0.03 // m
		facing = -0.99
	)
	for i := range s.Surfaces[:built] {
		on := &s.Surfaces[i]
		if f.Normal.Dot(on.Normal) < facing && on.Height(f.Origin) < touch && on.Height(f.Origin) > -1 &&
			on.Outline.Contains(on.Flat(f.Origin)) {
			return on
		}
	}
	return nil
}

// extent returns the rectangle on s that holds ps.
func extent(s *Surface, ps []geometry.Vec) (lo, hi geometry.Vec2) {
	for i, p := range ps {
		q := s.Flat(p)
		if i == 0 {
			lo, hi = q, q
		}
		lo = geometry.Vec2{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
		hi = geometry.Vec2{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	return lo, hi
}

func boxCorners(b geometry.Box) []geometry.Vec {
	out := make([]geometry.Vec, 0, 8)
	for _, x := range [2]float64{-1, 1} {
		for _, y := range [2]float64{-1, 1} {
			for _, z := range [2]float64{-1, 1} {
				out = append(out, b.Center.Add(b.Basis.World(geometry.Vec{X: x * b.Half.X, Y: y * b.Half.Y, Z: z * b.Half.Z})))
			}
		}
	}
	return out
}

// treatments lays the panels over the walls and the ceiling.
func (s *Shell) treatments() {
	for i, t := range s.room.Treatments {
		made := s.finishOf(t.Material, "treatment", assumedWall)
		name := t.Name
		if name == "" {
			name = fmt.Sprintf("treatment %d", i+1)
		}
		for k := range s.Surfaces {
			on := &s.Surfaces[k]
			if on.Kind == Wall && on.Index == t.Wall || on.Kind == Ceiling && t.Wall == 0 {
				on.Covers = append(on.Covers, Cover{Finish: made, name: name,
					lo: geometry.Vec2{X: float64(t.From), Y: float64(t.Low)}, hi: geometry.Vec2{X: float64(t.To), Y: float64(t.High)}})
			}
		}
	}
}
