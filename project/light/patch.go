// SPDX-License-Identifier: MIT

package light

import (
	"math"

	"earline/geometry"
	"earline/project/shell"
)

// Patch is a small piece of a surface that throws light back evenly.
type Patch struct {
	At, Normal  geometry.Vec
	Area        float64
	Outline     []geometry.Vec
	Reflectance float64
	// Lux is the light that falls on it, by layer; see Model.Bounce.
	Lux []float64

	lit  geometry.Vec // just before At
	size float64      // its greatest extent
}

// before is how far before a face light is taken to meet it.
const before = 0.001 // m

func newPatch(outline []geometry.Vec, normal geometry.Vec, reflectance float64) Patch {
	p := Patch{Normal: normal, Outline: outline, Area: area(outline), Reflectance: reflectance, At: middle(outline)}
	p.lit = p.At.Add(normal.Mul(before))
	for _, q := range outline {
		p.size = max(p.size, 2*q.Dist(p.At))
	}
	return p
}

// middle returns the centroid of a flat outline.
func middle(outline []geometry.Vec) geometry.Vec {
	var sum, whole geometry.Vec
	for i := 2; i < len(outline); i++ {
		whole = whole.Add(outline[i-1].Sub(outline[0]).Cross(outline[i].Sub(outline[0])))
	}
	n, ok := whole.Unit()
	if !ok {
		return outline[0]
	}
	total := 0.0
	for i := 2; i < len(outline); i++ {
		a := outline[i-1].Sub(outline[0]).Cross(outline[i].Sub(outline[0])).Dot(n)
		sum = sum.Add(outline[0].Add(outline[i-1]).Add(outline[i]).Mul(a / 3))
		total += a
	}
	return sum.Mul(1 / total)
}

// spots calls f for points that stand for the patch, with the share of its area of each:
// one point, or the middles of triangles, finer with each level.
func (p *Patch) spots(level int, f func(at geometry.Vec, share float64)) {
	if level == 0 {
		f(p.lit, 1)
		return
	}
	off := p.Normal.Mul(before)
	for i, a := range p.Outline {
		b := p.Outline[0]
		if i+1 < len(p.Outline) {
			b = p.Outline[i+1]
		}
		share := a.Sub(p.At).Cross(b.Sub(p.At)).Dot(p.Normal) / 2 / p.Area
		triangles(p.At.Add(off), a.Add(off), b.Add(off), share, level-1, f)
	}
}

func triangles(a, b, c geometry.Vec, share float64, level int, f func(geometry.Vec, float64)) {
	if level == 0 {
		f(a.Add(b).Add(c).Mul(1.0/3), share)
		return
	}
	ab, bc, ca := a.Lerp(b, 0.5), b.Lerp(c, 0.5), c.Lerp(a, 0.5)
	triangles(a, ab, ca, share/4, level-1, f)
	triangles(b, bc, ab, share/4, level-1, f)
	triangles(c, ca, bc, share/4, level-1, f)
	triangles(ab, bc, ca, share/4, level-1, f)
}

// patches cuts the surfaces into pieces of about size, fewer than many in all.
func (m *Model) patches(surfaces []shell.Surface, reflect func(*shell.Surface) float64) {
	const (
		size = 0.5 // m
		many = 700
	)
	total := 0.0
	for i := range surfaces {
		total += math.Abs(surfaces[i].Outline.Area())
	}
	cell := max(size, math.Sqrt(total/many))
	for i := range surfaces {
		s := &surfaces[i]
		m.cut(s, cell, reflect(s))
	}
}

// cut adds the pieces of s.
func (m *Model) cut(s *shell.Surface, cell, reflectance float64) {
	const least = 1e-4 // m2, of a piece: smaller ones send nothing that is seen
	lo, hi := s.Outline.Bounds()
	nu, nv := max(1, int(math.Ceil((hi.X-lo.X)/cell-0.01))), max(1, int(math.Ceil((hi.Y-lo.Y)/cell-0.01)))
	du, dv := (hi.X-lo.X)/float64(nu), (hi.Y-lo.Y)/float64(nv)
	for i := range nu {
		for k := range nv {
			from := geometry.Vec2{X: lo.X + du*float64(i), Y: lo.Y + dv*float64(k)}
			flat := s.Outline.Clip(from, geometry.Vec2{X: from.X + du, Y: from.Y + dv})
			if math.Abs(flat.Area()) < least {
				continue
			}
			outline := make([]geometry.Vec, 0, len(flat))
			for n, q := range flat {
				if prev := flat[(n+len(flat)-1)%len(flat)]; q == prev {
					continue
				}
				outline = append(outline, on(s, q))
			}
			if p := newPatch(faced(outline, s.Normal), s.Normal, m.covered(s, flat, reflectance)); p.Area > least {
				m.Patches = append(m.Patches, p)
			}
		}
	}
}

// on returns the point of s at q. The flat coordinates of a ceiling are the room's x and
// y, also where it slopes.
func on(s *shell.Surface, q geometry.Vec2) geometry.Vec {
	p := s.Origin.Add(s.U.Mul(q.X)).Add(s.V.Mul(q.Y))
	if s.Kind == shell.Ceiling {
		p.Z -= s.Height(p) / s.Normal.Z
	}
	return p
}

// faced returns the outline so that it runs counter-clockwise seen from before it.
func faced(outline []geometry.Vec, normal geometry.Vec) []geometry.Vec {
	var whole geometry.Vec
	for i := 2; i < len(outline); i++ {
		whole = whole.Add(outline[i-1].Sub(outline[0]).Cross(outline[i].Sub(outline[0])))
	}
	if whole.Dot(normal) < 0 {
		for i, j := 0, len(outline)-1; i < j; i, j = i+1, j-1 {
			outline[i], outline[j] = outline[j], outline[i]
		}
	}
	return outline
}
