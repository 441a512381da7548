// SPDX-License-Identifier: MIT

package light

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
)

// Emitter is something that shines: a lamp, a piece of a strip, a piece of a star ceiling,
// a cell of the picture.
type Emitter struct {
	Layer int // the light group it belongs to, from 0, or Model.Picture
	Lamp  int // which lamp of the group, or which straight stretch of a strip, from 0
	At    geometry.Vec
	Axis  geometry.Vec // unit vector along which the middle of its light leaves
	Flux  float64      // lumens at full level; of the picture, with white of 1 cd/m²
	// Lobe is the power of the cosine to the axis with which its light falls: 1 for what
	// shines as a matt face does.
	Lobe float64
	// Run is from the middle to an end of a piece of a strip; zero for others.
	Run geometry.Vec
	// Face is the outline of a piece of stars or picture; none for others.
	Face []geometry.Vec

	peak float64 // candelas along the axis
	size float64 // its greatest extent
}

// Lobe returns the power of the cosine with which the light of a beam falls: half of that
// along its axis at half the angle. A beam of 120° is 1, a matt face.
func Lobe(beam unit.Degrees) float64 {
	if beam == 0 {
		return 1
	}
	return math.Log(0.5) / math.Log(math.Cos(beam.Radians()/2))
}

// finished returns e with what follows from the rest. The integral of a cosine to the
// power n over the half space is 2π/(n+1).
func (e Emitter) finished() Emitter {
	e.peak = e.Flux * (e.Lobe + 1) / (2 * math.Pi)
	e.size = 2 * e.Run.Len()
	for _, p := range e.Face {
		e.size = max(e.size, 2*p.Dist(e.At))
	}
	return e
}

// Lux returns the illuminance of a small face at p, with that unit normal, by e at full
// level where nothing is in the way.
func (e *Emitter) Lux(p, normal geometry.Vec) float64 {
	const near = 4 // sizes away: there a point tells from a face by less than 2 %
	far := e.At.Dist(p) > near*e.size
	switch {
	case len(e.Face) > 0 && !far:
		if p.Sub(e.At).Dot(e.Axis) <= 0 {
			return 0
		}
		return e.Flux / area(e.Face) * Factor(p, normal, e.Face)
	case e.size > 0 && len(e.Face) == 0 && !far:
		return e.stretch(p, normal, e.At, e.Run, e.peak)
	}
	return e.point(p, normal, e.At, e.peak)
}

// point is the inverse square and the cosine law.
func (e *Emitter) point(p, normal, at geometry.Vec, peak float64) float64 {
	const lamp = 0.05 // m: how large a lamp is, so that nothing is nearer to it
	d := p.Sub(at)
	r2 := d.Len2()
	out, in := d.Dot(e.Axis), -d.Dot(normal)
	if out <= 0 || in <= 0 {
		return 0
	}
	r2 = max(r2, lamp*lamp)
	r := math.Sqrt(r2)
	fall := out / r
	if e.Lobe != 1 {
		fall = math.Pow(fall, e.Lobe)
	}
	return peak * fall * in / (r2 * r)
}

// stretch halves a piece of a strip until it is small beside its distance.
func (e *Emitter) stretch(p, normal, at, run geometry.Vec, peak float64) float64 {
	const near, fine = 16, 0.0025 // half-lengths squared away; half-length in m that is a lamp
	if l2 := run.Len2(); l2 < fine*fine || at.Sub(p).Len2() > near*l2 {
		gauss := run.Mul(1 / math.Sqrt(3)) // the two points of Gauss and Legendre
		return e.point(p, normal, at.Sub(gauss), peak/2) + e.point(p, normal, at.Add(gauss), peak/2)
	}
	half := run.Mul(0.5)
	return e.stretch(p, normal, at.Sub(half), half, peak/2) + e.stretch(p, normal, at.Add(half), half, peak/2)
}

// area returns the area of a flat outline.
func area(face []geometry.Vec) float64 {
	var sum geometry.Vec
	for i := 2; i < len(face); i++ {
		sum = sum.Add(face[i-1].Sub(face[0]).Cross(face[i].Sub(face[0])))
	}
	return sum.Len() / 2
}

// emit adds those of all groups, then those of the picture.
func (m *Model) emit(d *project.Design) {
	var runs []panel.Run
	for i := range d.LightGroups {
		g := &d.LightGroups[i]
		if g.Panels != "" && runs == nil {
			runs = panel.Of(d)
		}
		switch g.Kind {
		case project.Strip:
			m.strip(i, g, panel.Strips(d, runs, g))
		case project.Stars:
			m.stars(i, g)
		default:
			for k, at := range g.At {
				m.add(Emitter{Layer: i, Lamp: k, At: at.Vec(), Axis: g.Aim(), Flux: g.Flux / float64(len(g.At)), Lobe: Lobe(g.Beam)})
			}
		}
	}
	m.picture(d.Screen)
}

// add adds a lamp or a piece of strip, brought before the face in which it is set.
func (m *Model) add(e Emitter) {
	at, ok := m.before(e.At)
	if !ok {
		return
	}
	e.At = at
	m.Emitters = append(m.Emitters, e.finished())
}

// strip adds strips in pieces. What the panels beside a joint take of the light in it is
// not known here.
func (m *Model) strip(layer int, g *project.LightGroup, strips []panel.Strip) {
	const longest = 0.4 // m
	whole, lamp := panel.StripLength(strips), 0
	for _, s := range strips {
		for i := 1; i < len(s.Path); i++ {
			a, b := s.Path[i-1], s.Path[i]
			l := a.Dist(b)
			n := int(math.Ceil(l / longest))
			for k := range n {
				mid := a.Lerp(b, (float64(k)+0.5)/float64(n))
				m.add(Emitter{Layer: layer, Lamp: lamp, At: mid, Axis: s.Aim, Flux: g.Flux * l / whole / float64(n), Lobe: Lobe(g.Beam),
					Run: b.Sub(a).Mul(0.5 / float64(n))})
			}
			lamp++
		}
	}
}

// stars adds a star ceiling in square pieces where it is free.
func (m *Model) stars(layer int, g *project.LightGroup) {
	const (
		cell  = 0.5 // m
		many  = 150 // pieces
		under = 0.005
	)
	outline := m.outline
	if len(g.Area) > 0 {
		outline = nil
		for _, c := range g.Area {
			outline = append(outline, geometry.Vec2{X: float64(c.X), Y: float64(c.Y)})
		}
	}
	lo, hi := outline.Bounds()
	size := max(cell, math.Sqrt(math.Abs(outline.Area())/many))
	nx, ny := max(1, int(math.Ceil((hi.X-lo.X)/size))), max(1, int(math.Ceil((hi.Y-lo.Y)/size)))
	nx, ny = min(nx, 2*many), min(ny, 2*many)
	dx, dy := (hi.X-lo.X)/float64(nx), (hi.Y-lo.Y)/float64(ny)
	first := len(m.Emitters)
	for i := range nx {
		for k := range ny {
			x, y := lo.X+dx*(float64(i)+0.5), lo.Y+dy*(float64(k)+0.5)
			if q := (geometry.Vec2{X: x, Y: y}); !outline.Contains(q) || !m.outline.Contains(q) {
				continue
			}
			slope := m.slopes[m.slopes.Over(x, y)]
			at := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: slope.At(x, y) - under} }
			middle := at(x, y)
			if m.shade.within(middle) {
				continue
			}
			m.Emitters = append(m.Emitters, Emitter{Layer: layer, At: middle, Axis: slope.Down(), Lobe: 1,
				Face: []geometry.Vec{at(x-dx/2, y-dy/2), at(x+dx/2, y-dy/2), at(x+dx/2, y+dy/2), at(x-dx/2, y+dy/2)}})
		}
	}
	for i := first; i < len(m.Emitters); i++ {
		m.Emitters[i].Flux = g.Flux / float64(len(m.Emitters)-first)
		m.Emitters[i] = m.Emitters[i].finished()
	}
}

// Cells of the picture: so many across and up, as an area light. An even picture needs no
// more; what stands nearer to it than a cell is worked out exactly.
const (
	cellsAcross = 14
	cellsUp     = 6
)

// picture adds the picture as a matt face of 1 cd/m² all over: π lumens a square metre.
func (m *Model) picture(s project.Screen) {
	center, right, up := s.Picture()
	du, dv := right.Mul(1.0/cellsAcross), up.Mul(1.0/cellsUp)
	for i := range cellsAcross {
		for k := range cellsUp {
			at := center.Add(right.Mul((2*float64(i)+1)/cellsAcross - 1)).Add(up.Mul((2*float64(k)+1)/cellsUp - 1))
			face := []geometry.Vec{at.Sub(du).Sub(dv), at.Add(du).Sub(dv), at.Add(du).Add(dv), at.Sub(du).Add(dv)}
			m.Emitters = append(m.Emitters, Emitter{Layer: m.Picture, At: at, Axis: geometry.Vec{X: 1}, Lobe: 1, Face: face, Flux: math.Pi * area(face)}.finished())
		}
	}
}

// before returns a point just before the face, wall or ceiling in which something at p is
// set; ok is false for what lies far outside the room.
func (m *Model) before(p geometry.Vec) (at geometry.Vec, ok bool) {
	const (
		sunk = project.LetIn
		off  = 0.005 // m
	)
	q := geometry.Vec2{X: p.X, Y: p.Y}
	edge, foot := m.outline.Nearest(q)
	if far := q.Dist(foot); !m.outline.Contains(q) || far < off {
		if far > sunk {
			return p, false
		}
		q = foot.Add(m.outline.InwardNormal(edge).Mul(off))
		p.X, p.Y = q.X, q.Y
	}
	if top := m.slopes.At(p.X, p.Y); p.Z > top-off {
		if p.Z > top+sunk {
			return p, false
		}
		p.Z = top - off
	}
	if p.Z < off {
		if p.Z < -sunk {
			return p, false
		}
		p.Z = off
	}
	for i := range m.boxes {
		if out, in := emerge(&m.boxes[i], p, sunk, off); in {
			p = out
		}
	}
	return p, true
}

// emerge returns p brought out of b through the nearest face, and whether it was that near
// to one.
func emerge(b *geometry.Box, p geometry.Vec, sunk, off float64) (geometry.Vec, bool) {
	v := b.Basis.Local(p.Sub(b.Center))
	depth := [3]float64{b.Half.X - math.Abs(v.X), b.Half.Y - math.Abs(v.Y), b.Half.Z - math.Abs(v.Z)}
	axis := [3]geometry.Vec{b.Basis.U, b.Basis.V, b.Basis.W}
	side := [3]float64{v.X, v.Y, v.Z}
	best := 0
	for k := range depth {
		if depth[k] < depth[best] {
			best = k
		}
	}
	if d := depth[best]; d <= -off || d > sunk {
		return p, false
	}
	return p.Add(axis[best].Mul(math.Copysign(depth[best]+off, side[best]))), true
}
