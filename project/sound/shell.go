// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// SurfaceKind is what a Surface belongs to.
type SurfaceKind uint8

// The kinds of surface.
const (
	FloorSurface SurfaceKind = iota
	CeilingSurface
	WallSurface
	PlatformSurface // the top of a row's platform
	StepSurface     // the upright face of a platform
	FeatureSurface  // a face of something built in, or of an opaque screen
)

// Surface is a flat piece of the room that throws sound back.
type Surface struct {
	Kind SurfaceKind
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
	finish               finish
	covers               []cover // the later ones lie over the earlier
	stretch              float64 // true area over that of Outline: a sloping ceiling
}

// finish is what a surface is made of.
type finish struct {
	alpha    [project.OctaveCount]float64
	scatters bool
	name     string
}

// cover is a rectangle of another finish on a surface, in U and V.
type cover struct {
	lo, hi geometry.Vec2
	finish finish
	hidden bool // something built in stands against it: no surface here
	name   string
}

// Flat returns the flat coordinates of p.
func (s *Surface) Flat(p geometry.Vec) geometry.Vec2 {
	d := p.Sub(s.Origin)
	return geometry.Vec2{X: d.Dot(s.U), Y: d.Dot(s.V)}
}

// height returns how far p lies before s, negative behind it.
func (s *Surface) height(p geometry.Vec) float64 { return p.Sub(s.Origin).Dot(s.Normal) }

// at returns the finish at q.
func (s *Surface) at(q geometry.Vec2) *finish {
	for i := len(s.covers) - 1; i >= 0; i-- {
		if c := &s.covers[i]; !c.hidden && c.holds(q) {
			return &c.finish
		}
	}
	return &s.finish
}

func (c *cover) holds(q geometry.Vec2) bool {
	return q.X >= c.lo.X && q.X <= c.hi.X && q.Y >= c.lo.Y && q.Y <= c.hi.Y
}

// piece is an area of one finish.
type piece struct {
	name   string
	area   float64
	finish finish
}

// pieces splits s into its areas of one finish: itself, then its covers.
func (s *Surface) pieces() []piece {
	out := make([]piece, 1+len(s.covers))
	out[0] = piece{s.Words, math.Abs(s.Outline.Area()) * s.stretch, s.finish}
	if len(s.covers) == 0 {
		return out
	}
	// Cells between all edges of covers: each belongs to the last that holds it.
	var us, vs []float64
	for i := range s.covers {
		c := &s.covers[i]
		out[i+1] = piece{name: c.name, finish: c.finish}
		us, vs = append(us, c.lo.X, c.hi.X), append(vs, c.lo.Y, c.hi.Y)
	}
	slices.Sort(us)
	slices.Sort(vs)
	us, vs = slices.Compact(us), slices.Compact(vs)
	for i := 1; i < len(us); i++ {
		for j := 1; j < len(vs); j++ {
			mid := geometry.Vec2{X: (us[i-1] + us[i]) / 2, Y: (vs[j-1] + vs[j]) / 2}
			for k := len(s.covers) - 1; k >= 0; k-- {
				if c := &s.covers[k]; c.holds(mid) {
					a := math.Abs(clipped(s.Outline, geometry.Vec2{X: us[i-1], Y: vs[j-1]}, geometry.Vec2{X: us[i], Y: vs[j]}).Area()) * s.stretch
					out[0].area -= a
					if !c.hidden {
						out[k+1].area += a
					}
					break
				}
			}
		}
	}
	out[0].area = max(out[0].area, 0)
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

// shell is the room as sound meets it.
type shell struct {
	d        *project.Design
	poly     geometry.Polygon
	convex   bool
	stairs   stairs
	floor    place.Floor
	finishes map[string]finish
	surfaces []Surface
	remarks  []string
}

// Surfaces returns the surfaces of a valid design that throw sound back: floor,
// platforms and their steps, walls, ceiling, then faces of what is built in.
func Surfaces(d *project.Design) []Surface { return shellOf(d).surfaces }

func shellOf(d *project.Design) *shell {
	s := &shell{d: d, poly: d.Room.Polygon(), stairs: stairsOf(d), floor: place.FloorOf(d), finishes: map[string]finish{}}
	s.convex = s.poly.Convex()
	for _, m := range d.Room.Materials {
		f := finish{scatters: m.Scatters, name: m.Name}
		copy(f.alpha[:], m.Absorption)
		s.finishes[m.ID] = f
	}
	s.floors()
	s.walls()
	s.ceiling()
	built := len(s.surfaces)
	s.features(built)
	s.treatments()
	return s
}

// remark notes what is assumed or left out, once.
func (s *shell) remark(format string, args ...any) {
	if text := fmt.Sprintf(format, args...); !slices.Contains(s.remarks, text) {
		s.remarks = append(s.remarks, text)
	}
}

// made returns the finish of that ID, or what is assumed for a thing whose
// material is not given.
func (s *shell) made(id, what string, assumed finish) finish {
	if f, ok := s.finishes[id]; ok {
		return f
	}
	s.remark("%s: material not given, taken as %s", what, assumed.name)
	return assumed
}

// What is assumed where no material is given, from the tables that the list of
// materials names; 63 Hz as 125 Hz and 8 kHz as 4 kHz.
var (
	// Audio engineering handbook, table 29.3 (AC-175).
	assumedWall = finish{name: "plasterboard, one layer on timber studs",
		alpha: [project.OctaveCount]float64{0.10, 0.10, 0.08, 0.05, 0.03, 0.03, 0.03, 0.03}}
	// Audio engineering handbook, table 29.3 (AC-171).
	assumedFloor = finish{name: "a wood floor",
		alpha: [project.OctaveCount]float64{0.15, 0.15, 0.11, 0.10, 0.07, 0.06, 0.07, 0.07}}
	// Vorlaender, Auralization (2008), Annex (AC-157).
	assumedChair = finish{name: "cloth chairs, empty",
		alpha: [project.OctaveCount]float64{0.44, 0.44, 0.60, 0.77, 0.89, 0.82, 0.70, 0.70}}
	// Vorlaender, Auralization (2008), Annex (AC-159): people in upholstered
	// chairs, of the floor they take.
	seated = finish{name: "people in upholstered chairs",
		alpha: [project.OctaveCount]float64{0.72, 0.72, 0.82, 0.91, 0.93, 0.94, 0.87, 0.87}}
)

func (s *shell) floorFinish() finish {
	return s.made(s.d.Room.Surfaces.Floor, "floor", assumedFloor)
}

// platformFinish returns that of the platforms, which are as the floor unless
// they say otherwise.
func (s *shell) platformFinish() finish {
	if id := s.d.Room.Surfaces.Platforms; id != "" {
		return s.made(id, "platforms", assumedFloor)
	}
	return s.floorFinish()
}

func (s *shell) wallFinish(wall int) finish {
	for _, w := range s.d.Room.Surfaces.Wall {
		if w.Wall == wall {
			return s.made(w.Material, fmt.Sprintf("wall %d", wall), assumedWall)
		}
	}
	return s.made(s.d.Room.Surfaces.Walls, "walls", assumedWall)
}

// floors adds the stretches of the room's floor, the tops of the platforms, and
// the steps between them.
func (s *shell) floors() {
	lo, hi := s.poly.Bounds()
	flat := func(kind SurfaceKind, index int, words string, f finish, from, to, height float64) {
		outline := clipped(s.poly, geometry.Vec2{X: from, Y: lo.Y}, geometry.Vec2{X: to, Y: hi.Y})
		if math.Abs(outline.Area()) < 1e-6 {
			return
		}
		s.surfaces = append(s.surfaces, Surface{Kind: kind, Index: index, Words: words,
			Origin: geometry.Vec{Z: height}, Normal: geometry.Vec{Z: 1}, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
			Outline: outline, finish: f, stretch: 1})
	}
	x := lo.X
	for _, t := range s.stairs {
		if t.from > x {
			flat(FloorSurface, 0, "floor", s.floorFinish(), x, t.from, 0)
		}
		flat(PlatformSurface, t.row+1, fmt.Sprintf("platform of row %d", t.row+1), s.platformFinish(), t.from, t.to, t.height)
		x = t.to
	}
	if hi.X > x {
		flat(FloorSurface, 0, "floor", s.floorFinish(), x, hi.X, 0)
	}
	s.steps(lo, hi)
}

// steps adds the upright faces where the floor changes its height.
func (s *shell) steps(lo, hi geometry.Vec2) {
	for i, t := range s.stairs {
		before, after := 0.0, 0.0
		if i > 0 && s.stairs[i-1].to == t.from {
			before = s.stairs[i-1].height
		}
		if i+1 < len(s.stairs) && s.stairs[i+1].from == t.to {
			after = s.stairs[i+1].height
		}
		face := func(x, low float64, normal float64, where string) {
			if low >= t.height {
				return
			}
			// A concave room may meet the step in several stretches.
			for _, run := range crossings(s.poly, x) {
				s.surfaces = append(s.surfaces, Surface{Kind: StepSurface, Index: t.row + 1,
					Words:  fmt.Sprintf("%s of the platform of row %d", where, t.row+1),
					Origin: geometry.Vec{X: x}, Normal: geometry.Vec{X: normal}, U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1},
					Outline: rectangle(geometry.Vec2{X: run[0], Y: low}, geometry.Vec2{X: run[1], Y: t.height}),
					finish:  s.platformFinish(), stretch: 1})
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
func (s *shell) walls() {
	for i := range s.poly {
		a, b := s.poly.Edge(i)
		n, l := s.poly.InwardNormal(i), a.Dist(b)
		if !(l > 0) {
			continue
		}
		u := b.Sub(a).Mul(1 / l)
		// Where platforms begin and end along the wall.
		cuts := []float64{0, l}
		if u.X != 0 {
			for _, t := range s.stairs {
				for _, x := range [2]float64{t.from, t.to} {
					if at := (x - a.X) / u.X; at > 0 && at < l {
						cuts = append(cuts, at)
					}
				}
			}
			slices.Sort(cuts)
			cuts = slices.Compact(cuts)
		}
		ca, cb := s.d.Room.CeilingAt(a.X, a.Y), s.d.Room.CeilingAt(b.X, b.Y)
		var outline geometry.Polygon
		for k := 1; k < len(cuts); k++ {
			const inside = 1e-6 // m: a wall across the room takes the floor before it
			mid := a.Add(u.Mul((cuts[k-1] + cuts[k]) / 2)).Add(n.Mul(inside))
			h := min(s.floor.At(mid.X, mid.Y), ca, cb)
			outline = append(outline, geometry.Vec2{X: cuts[k-1], Y: h}, geometry.Vec2{X: cuts[k], Y: h})
		}
		outline = append(outline, geometry.Vec2{X: l, Y: cb}, geometry.Vec2{X: 0, Y: ca})
		s.surfaces = append(s.surfaces, Surface{Kind: WallSurface, Index: i + 1, Words: wallWords(s.d.Room, i+1),
			Begins: fmt.Sprintf("wall %d", (i+len(s.poly)-1)%len(s.poly)+1),
			Origin: geometry.Vec{X: a.X, Y: a.Y}, Normal: geometry.Vec{X: n.X, Y: n.Y},
			U: geometry.Vec{X: u.X, Y: u.Y}, V: geometry.Vec{Z: 1},
			Outline: outline, finish: s.wallFinish(i + 1), stretch: 1})
	}
}

// wallWords names a wall: "left wall (wall 1)".
func wallWords(r project.Room, number int) string {
	if side := r.WallSide(number); side != "" {
		return fmt.Sprintf("%s wall (wall %d)", side, number)
	}
	return fmt.Sprintf("wall %d", number)
}

func (s *shell) ceiling() {
	h := s.d.Room.CeilingAt(0, 0)
	n, _ := geometry.Vec{X: s.d.Room.CeilingAt(1, 0) - h, Y: s.d.Room.CeilingAt(0, 1) - h, Z: -1}.Unit()
	s.surfaces = append(s.surfaces, Surface{Kind: CeilingSurface, Words: "ceiling",
		Origin: geometry.Vec{Z: h}, Normal: n, U: geometry.Vec{X: 1}, V: geometry.Vec{Y: 1},
		Outline: s.poly, finish: s.made(s.d.Room.Surfaces.Ceiling, "ceiling", assumedWall), stretch: 1 / -n.Z})
}

// thin reports whether a feature lies in a wall or ceiling as part of it.
func thin(k project.FeatureKind) bool {
	return k == project.Door || k == project.Window || k == project.Vent || k == project.Light
}

// features lays doors, windows, lights and vents over the surface they are in,
// and adds the faces of everything else; built is how many surfaces the shell has.
func (s *shell) features(built int) {
	for i, f := range s.d.Room.Features {
		made := s.wallFinish(0)
		if f.Material != "" {
			made = s.made(f.Material, f.Words(), assumedWall)
		}
		box := f.Box()
		if thin(f.Kind) {
			if on := s.nearest(box.Center, built); on != nil {
				lo, hi := extent(on, boxCorners(box))
				on.covers = append(on.covers, cover{lo: lo, hi: hi, finish: made, name: f.Words()})
			}
			continue
		}
		s.faces(i, f.Words(), box, made, built)
	}
	if !s.d.Screen.Transparent {
		s.remark("screen: no sound passes it; its face is taken as %s", assumedWall.name)
		s.faces(-1, "screen", s.d.Screen.Sheet(), assumedWall, built)
	}
}

// nearest returns the surface of the shell in which a thing about c lies, or nil
// when it is in none.
func (s *shell) nearest(c geometry.Vec, built int) *Surface {
	const reveal = 0.45 // m: an opening in its wall, a light or a vent under the ceiling
	best, out := reveal, (*Surface)(nil)
	for i := range s.surfaces[:built] {
		on := &s.surfaces[i]
		if h := math.Abs(on.height(c)); h < best && on.Outline.Contains(on.Flat(c)) {
			best, out = h, on
		}
	}
	return out
}

// faces adds the faces of a box that stand free, and hides what the others cover.
func (s *shell) faces(index int, words string, b geometry.Box, made finish, built int) {
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
			f := Surface{Kind: FeatureSurface, Index: index, Words: way + " of the " + words,
				Origin: b.Center.Add(n.Mul(hw)), Normal: n, U: u, V: v,
				Outline: rectangle(geometry.Vec2{X: -hu, Y: -hv}, geometry.Vec2{X: hu, Y: hv}), finish: made, stretch: 1}
			if on := s.against(&f, built); on != nil {
				corners := [4]geometry.Vec{}
				for k, q := range f.Outline {
					corners[k] = f.Origin.Add(u.Mul(q.X)).Add(v.Mul(q.Y))
				}
				lo, hi := extent(on, corners[:])
				on.covers = append(on.covers, cover{lo: lo, hi: hi, hidden: true, name: words})
				continue
			}
			q := f.Origin.Add(n.Mul(1e-6))
			if !s.poly.Contains(geometry.Vec2{X: q.X, Y: q.Y}) {
				continue
			}
			s.surfaces = append(s.surfaces, f)
		}
	}
}

// against returns the surface of the shell that the face f touches, or nil.
func (s *shell) against(f *Surface, built int) *Surface {
	const (
		touch  = 0.03 // m
		facing = -0.99
	)
	for i := range s.surfaces[:built] {
		on := &s.surfaces[i]
		if f.Normal.Dot(on.Normal) < facing && on.height(f.Origin) < touch && on.height(f.Origin) > -1 &&
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
func (s *shell) treatments() {
	for i, t := range s.d.Room.Treatments {
		made := s.made(t.Material, "treatment", assumedWall)
		name := t.Name
		if name == "" {
			name = fmt.Sprintf("treatment %d", i+1)
		}
		for k := range s.surfaces {
			on := &s.surfaces[k]
			if on.Kind == WallSurface && on.Index == t.Wall || on.Kind == CeilingSurface && t.Wall == 0 {
				on.covers = append(on.covers, cover{finish: made, name: name,
					lo: geometry.Vec2{X: float64(t.From), Y: float64(t.Low)}, hi: geometry.Vec2{X: float64(t.To), Y: float64(t.High)}})
			}
		}
	}
}
