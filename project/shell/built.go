// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
)

// InSurface reports whether a feature of kind k lies in a wall or ceiling as part
// of it. Every other stands in the room, with faces of its own.
func InSurface(k project.FeatureKind) bool {
	return k == project.Door || k == project.Window || k == project.Vent || k == project.Light
}

// cover lays doors, windows, lights and vents over the surface that they are in,
// then the treatments over walls and ceiling.
func (s *Shell) cover() {
	for i, f := range s.room.Features {
		if !InSurface(f.Kind) {
			continue
		}
		box := f.Box()
		on := s.nearest(box.Center)
		if on == nil {
			continue
		}
		outline := box.Outline()
		if on.Kind == Wall {
			outline = shadow(on, box)
		}
		on.Covers = append(on.Covers, Cover{Name: f.Words(), Outline: outline, Finish: s.Features[i], Door: f.Kind == project.Door})
	}
	for i, t := range s.hung {
		c := Cover{Name: t.Name, Treatment: true, Finish: s.finishOf(t.Material, "treatment", assumedWall),
			Outline: rectangle(geometry.Vec2{X: float64(t.From), Y: float64(t.Low)}, geometry.Vec2{X: float64(t.To), Y: float64(t.High)})}
		if c.Name == "" {
			c.Name = fmt.Sprintf("treatment %d", i+1)
		}
		for k := range s.Surfaces {
			if on := &s.Surfaces[k]; on.Kind == Wall && on.Index == t.Wall || on.Kind == Ceiling && t.Wall == 0 {
				on.Covers = append(on.Covers, c)
			}
		}
	}
}

// nearest returns the surface in which a thing about c lies, or nil when it is in
// none.
func (s *Shell) nearest(c geometry.Vec) *Surface {
	const reveal = 0.45 // m: an opening in its wall, a light or a vent under the ceiling
	best, out := reveal, (*Surface)(nil)
	for i := range s.Surfaces {
		on := &s.Surfaces[i]
		if h := math.Abs(on.Height(c)); h < best && on.Outline.Contains(on.Flat(c)) {
			best, out = h, on
		}
	}
	return out
}

// shadow returns the rectangle on the wall s that the box stands before.
func shadow(s *Surface, b geometry.Box) geometry.Polygon {
	c := s.Flat(b.Center)
	u := math.Abs(s.U.Dot(b.Basis.U))*b.Half.X + math.Abs(s.U.Dot(b.Basis.V))*b.Half.Y
	return rectangle(geometry.Vec2{X: c.X - u, Y: c.Y - b.Half.Z}, geometry.Vec2{X: c.X + u, Y: c.Y + b.Half.Z})
}

// build adds the faces of everything that stands in the room, and hides what it
// stands against.
func (s *Shell) build(screen project.Screen) {
	bare := len(s.Surfaces)
	for i, f := range s.room.Features {
		if !InSurface(f.Kind) {
			s.faces(bare, i, f.Words(), facesOf(f), s.Features[i])
			s.stand(bare, f.Words(), f.Box(), f.Outline())
		}
	}
	if !screen.Transparent {
		s.faces(bare, Screen, "screen", boxFaces(screen.Sheet()), assumedWall)
		s.stand(bare, "screen", screen.Sheet(), screen.Sheet().Outline())
	}
}

// face is one face of what stands in the room: flat, about its middle.
type face struct {
	words                string
	origin, normal, u, v geometry.Vec
	half                 geometry.Vec2    // of the rectangle about it
	outline              geometry.Polygon // in u and v
	stretch              float64          // its true area over that of outline
}

// facesOf returns the faces of a feature. Of a round column they are those of a prism
// of 32 sides about it, see geometry.Cylinder.Outline, whose areas count as the
// cylinder's: tan(pi/32) = pi/32 times 1.0032 for its side as for its top.
func facesOf(f project.Feature) []face {
	c, ok := f.Cylinder()
	if !ok {
		return boxFaces(f.Box())
	}
	around := c.Outline()
	turn := math.Pi / float64(len(around))
	stretch := turn / math.Tan(turn)
	var out []face
	for i := range around {
		a, b := around.Edge(i)
		along := b.Sub(a)
		half := geometry.Vec2{X: along.Len() / 2, Y: c.Half}
		u := geometry.Vec{X: along.X, Y: along.Y}.Mul(1 / along.Len())
		mid := a.Add(b).Mul(0.5)
		out = append(out, face{"side", geometry.Vec{X: mid.X, Y: mid.Y, Z: c.Center.Z}, geometry.Vec{X: u.Y, Y: -u.X},
			u, c.Basis.W, half, rectangle(half.Mul(-1), half), stretch})
	}
	round := make(geometry.Polygon, len(around))
	for i, p := range around {
		round[i] = p.Sub(geometry.Vec2{X: c.Center.X, Y: c.Center.Y})
	}
	w, half := c.Basis.W, geometry.Vec2{X: c.Radius, Y: c.Radius}
	return append(out,
		face{"underside", c.Center.Sub(w.Mul(c.Half)), w.Neg(), c.Basis.U, c.Basis.V, half, round, stretch},
		face{"top", c.Center.Add(w.Mul(c.Half)), w, c.Basis.U, c.Basis.V, half, round, stretch})
}

// boxFaces returns the faces of a box.
func boxFaces(b geometry.Box) []face {
	u, v, w := b.Basis.U, b.Basis.V, b.Basis.W
	hu, hv, hw := b.Half.X, b.Half.Y, b.Half.Z
	one := func(words string, normal, u, v geometry.Vec, depth, halfU, halfV float64) face {
		half := geometry.Vec2{X: halfU, Y: halfV}
		return face{words, b.Center.Add(normal.Mul(depth)), normal, u, v, half, rectangle(half.Mul(-1), half), 1}
	}
	return []face{
		one("face", u.Neg(), v, w, hu, hv, hw), one("face", u, v, w, hu, hv, hw),
		one("face", v.Neg(), u, w, hv, hu, hw), one("face", v, u, w, hv, hu, hw),
		one("underside", w.Neg(), u, v, hw, hu, hv), one("top", w, u, v, hw, hu, hv),
	}
}

// faces adds the faces of what stands upright in the room that stand free, and hides
// what the others cover of the surfaces of the bare room, the first so many.
func (s *Shell) faces(bare int, index int, words string, faces []face, f Finish) {
	for _, face := range faces {
		on := Surface{Kind: Feature, Index: index, Words: face.words + " of the " + words,
			Origin: face.origin, Normal: face.normal, U: face.u, V: face.v,
			Outline: face.outline, Finish: f, stretch: face.stretch}
		if behind := against(s.Surfaces[:bare], &on); behind != nil {
			c := Cover{Name: words, Hidden: true}
			for _, q := range on.Outline {
				c.Outline = append(c.Outline, behind.Flat(on.Origin.Add(on.U.Mul(q.X)).Add(on.V.Mul(q.Y))))
			}
			behind.Covers = append(behind.Covers, c)
			continue
		}
		const before = 1e-6 // m
		if q := on.Origin.Add(face.normal.Mul(before)); !s.Outline.Contains(geometry.Vec2{X: q.X, Y: q.Y}) {
			continue
		}
		if face.normal.Z == 0 {
			s.raise(&on, face.half)
		}
		if on.Outline.Area() != 0 {
			s.Surfaces = append(s.Surfaces, on)
		}
	}
}

// raise takes off an upright face what stands in platforms.
func (s *Shell) raise(on *Surface, half geometry.Vec2) {
	flat := func(v geometry.Vec) geometry.Vec2 { return geometry.Vec2{X: v.X, Y: v.Y} }
	var outline geometry.Polygon
	for _, t := range s.foot(flat(on.Origin.Sub(on.U.Mul(half.X))), flat(on.U), flat(on.Normal), 2*half.X) {
		low := min(max(t.height-on.Origin.Z, -half.Y), half.Y)
		outline = append(outline, geometry.Vec2{X: t.from - half.X, Y: low}, geometry.Vec2{X: t.to - half.X, Y: low})
	}
	on.Outline = append(outline, half, geometry.Vec2{X: -half.X, Y: half.Y})
}

// stand hides what stands upright in a box with that outline and reaches the floor takes of floor,
// platforms and their steps, of which it may stand on or in several.
func (s *Shell) stand(bare int, words string, b geometry.Box, outline geometry.Polygon) {
	bottom, top := b.Center.Z-b.Half.Z, b.Center.Z+b.Half.Z
	for i := range s.Surfaces[:bare] {
		on := &s.Surfaces[i]
		switch {
		case (on.Kind == Floor || on.Kind == Platform) && bottom < on.Origin.Z+touch && top > on.Origin.Z:
			on.Covers = append(on.Covers, Cover{Name: words, Hidden: true, Outline: outline})
		case on.Kind == Step:
			if on.Normal.X == 0 {
				continue // a flank: what stands against it is thin beside its length
			}
			for _, run := range outline.Spans(on.Origin.X) {
				on.Covers = append(on.Covers, Cover{Name: words, Hidden: true,
					Outline: rectangle(geometry.Vec2{X: run[0], Y: bottom}, geometry.Vec2{X: run[1], Y: top})})
			}
		}
	}
}

// touch is how far off something still stands against a surface: as far as a
// flush front may, metres.
const touch = 0.03

// against returns the surface that the face touches, or nil.
func against(surfaces []Surface, face *Surface) *Surface {
	const (
		sunk   = 1.0 // m: how far it may reach into the wall
		facing = -0.99
	)
	for i := range surfaces {
		on := &surfaces[i]
		if h := on.Height(face.Origin); face.Normal.Dot(on.Normal) < facing && h < touch && h > -sunk &&
			on.Outline.Contains(on.Flat(face.Origin)) {
			return on
		}
	}
	return nil
}

func rectangle(lo, hi geometry.Vec2) geometry.Polygon {
	return geometry.Polygon{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}}
}
