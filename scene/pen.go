// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// pen writes triangles into a mesh from a frame of its own: at and b place that
// frame in the room's.
type pen struct {
	m   *Mesh
	at  geometry.Vec
	b   geometry.Basis
	mat Material // of what is drawn
}

// pen returns a pen in the room frame.
func (m *Mesh) pen() pen { return pen{m: m, b: geometry.WorldBasis()} }

// of returns p drawing in that material.
func (p pen) of(m Material) pen {
	p.mat = m
	return p
}

// on returns p drawing the same into another mesh.
func (p pen) on(m *Mesh) pen {
	p.m = m
	return p
}

// to returns a pen whose frame has its origin at at and its axes along b, both
// as seen in p's frame.
func (p pen) to(at geometry.Vec, b geometry.Basis) pen {
	p.at = p.at.Add(p.b.World(at))
	p.b = geometry.Basis{U: p.b.World(b.U), V: p.b.World(b.V), W: p.b.World(b.W)}
	return p
}

// by returns p moved by (x, y, z) in its own frame.
func (p pen) by(x, y, z float64) pen {
	p.at = p.at.Add(p.b.World(geometry.Vec{X: x, Y: y, Z: z}))
	return p
}

// next is the index that the next vertex will get.
func (m *Mesh) next() uint32 { return uint32(len(m.Pos) / 3) }

// vertex adds a vertex with the unit normal n and returns its index.
func (p pen) vertex(v, n geometry.Vec, c RGB) uint32 {
	i := p.m.next()
	w := World(p.at.Add(p.b.World(v)))
	u := World(p.b.World(n))
	p.m.Pos = append(p.m.Pos, w[0], w[1], w[2])
	p.m.Nor = append(p.m.Nor, u[0], u[1], u[2])
	p.m.Col = append(p.m.Col, c.R, c.G, c.B)
	p.m.Mat = append(p.m.Mat, p.mat)
	return i
}

// tri adds the triangle a, b, c, counter-clockwise seen from outside.
func (p pen) tri(a, b, c uint32) { p.m.Index = append(p.m.Index, a, b, c) }

// facet adds a flat triangle with its own corners and the unit normal n.
func (p pen) facet(a, b, c, n geometry.Vec, col RGB) {
	p.tri(p.vertex(a, n, col), p.vertex(b, n, col), p.vertex(c, n, col))
}

// four adds the quadrilateral a, b, c, d, counter-clockwise seen from outside.
func (p pen) four(a, b, c, d uint32) { p.m.Index = append(p.m.Index, a, b, c, a, c, d) }

// quad adds a flat quadrilateral with its own corners, counter-clockwise seen
// from outside. One without area adds nothing.
func (p pen) quad(a, b, c, d geometry.Vec, ca, cb, cc, cd RGB) {
	n, ok := c.Sub(a).Cross(d.Sub(b)).Unit()
	if !ok {
		return
	}
	p = p.grained(b.Sub(a))
	if d.Dist(a) > b.Dist(a) {
		p = p.grained(d.Sub(a))
	}
	p.four(p.vertex(a, n, ca), p.vertex(b, n, cb), p.vertex(c, n, cc), p.vertex(d, n, cd))
}

// plain is quad in one colour.
func (p pen) plain(a, b, c, d geometry.Vec, col RGB) { p.quad(a, b, c, d, col, col, col, col) }

// sheet is plain in cells no longer than cell: light is kept at their corners, and a large
// face of two triangles shows the edge between them.
func (p pen) sheet(a, b, c, d geometry.Vec, cell float64, col RGB) {
	n, ok := c.Sub(a).Cross(d.Sub(b)).Unit()
	if !ok {
		return
	}
	const most = 60 // cells along one side
	count := func(u, v float64) int { return clampInt(int(math.Ceil(max(u, v)/cell-1e-6)), 1, most) }
	nu, nv := count(a.Dist(b), d.Dist(c)), count(a.Dist(d), b.Dist(c))
	first := p.m.next()
	for i := range nu + 1 {
		u := float64(i) / float64(nu)
		low, high := a.Lerp(b, u), d.Lerp(c, u)
		for j := range nv + 1 {
			p.vertex(low.Lerp(high, float64(j)/float64(nv)), n, col)
		}
	}
	at := func(i, j int) uint32 { return first + uint32(i*(nv+1)+j) }
	for i := range nu {
		for j := range nv {
			p.four(at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1))
		}
	}
}

// rect adds a rectangle in the plane z of p's frame, seen from its W.
func (p pen) rect(x0, x1, y0, y1, z float64, col RGB) {
	p.plain(geometry.Vec{X: x0, Y: y0, Z: z}, geometry.Vec{X: x1, Y: y0, Z: z},
		geometry.Vec{X: x1, Y: y1, Z: z}, geometry.Vec{X: x0, Y: y1, Z: z}, col)
}

// stamp adds a copy of t, which was drawn in a frame of its own, with that
// frame placed at at and turned to b. Colours are mixed with tint by amount.
func (m *Mesh) stamp(t *Mesh, at geometry.Vec, b geometry.Basis, tint RGB, amount float64) {
	first := m.next()
	o, u, v, w := World(at), World(b.U), World(b.V), World(b.W)
	for i := 0; i < len(t.Pos); i += 3 {
		// The template holds its frame's (x, y, z) as (y, z, x).
		x, y, z := t.Pos[i+2], t.Pos[i], t.Pos[i+1]
		m.Pos = append(m.Pos,
			o[0]+u[0]*x+v[0]*y+w[0]*z, o[1]+u[1]*x+v[1]*y+w[1]*z, o[2]+u[2]*x+v[2]*y+w[2]*z)
		x, y, z = t.Nor[i+2], t.Nor[i], t.Nor[i+1]
		m.Nor = append(m.Nor,
			u[0]*x+v[0]*y+w[0]*z, u[1]*x+v[1]*y+w[1]*z, u[2]*x+v[2]*y+w[2]*z)
	}
	if amount > 0 {
		for i := 0; i < len(t.Col); i += 3 {
			c := RGB{t.Col[i], t.Col[i+1], t.Col[i+2]}.mix(tint, amount)
			m.Col = append(m.Col, c.R, c.G, c.B)
		}
	} else {
		m.Col = append(m.Col, t.Col...)
	}
	for _, k := range t.Mat {
		m.Mat = append(m.Mat, k.turned(b))
	}
	for _, i := range t.Index {
		m.Index = append(m.Index, first+i)
	}
}

// grow makes room for v vertices and t triangles more.
func (m *Mesh) grow(v, t int) {
	more := func(s []float32) []float32 {
		return append(make([]float32, 0, len(s)+3*v), s...)
	}
	m.Pos, m.Nor, m.Col = more(m.Pos), more(m.Nor), more(m.Col)
	m.Mat = append(make([]Material, 0, len(m.Mat)+v), m.Mat...)
	m.Index = append(make([]uint32, 0, len(m.Index)+3*t), m.Index...)
}

// recolour passes every vertex's place, in the frame it was drawn in, and colour
// through f.
func (m *Mesh) recolour(f func(v geometry.Vec, c RGB) RGB) {
	for i := 0; i < len(m.Pos); i += 3 {
		v := geometry.Vec{X: float64(m.Pos[i+2]), Y: float64(m.Pos[i]), Z: float64(m.Pos[i+1])}
		c := f(v, RGB{m.Col[i], m.Col[i+1], m.Col[i+2]})
		m.Col[i], m.Col[i+1], m.Col[i+2] = c.R, c.G, c.B
	}
}

// stroke adds a segment to l.
func (l *Lines) stroke(a, b geometry.Vec, c RGB) {
	p, q := World(a), World(b)
	l.Pos = append(l.Pos, p[0], p[1], p[2], q[0], q[1], q[2])
	l.Col = append(l.Col, c.R, c.G, c.B, c.R, c.G, c.B)
	if len(l.Dash) > 0 {
		l.Dash = append(l.Dash, 0, 1, 0, 1)
	}
}

// dashes adds a broken line from a to b: on metres drawn, off metres left out. It is
// one segment, and broken when it is drawn.
func (l *Lines) dashes(a, b geometry.Vec, on, off float64, c RGB) {
	length := a.Dist(b)
	if !(length > 0) || length > Far {
		return
	}
	for len(l.Dash) < len(l.Pos)/3*2 { // what was there is whole
		l.Dash = append(l.Dash, 0, 1)
	}
	first := len(l.Dash)
	l.stroke(a, b, c)
	share, count := float32(on/(on+off)), float32(length/(on+off))
	l.Dash = append(l.Dash[:first], 0, share, count, share)
}

// twoDashes adds a line from a to b whose dashes, and the gaps between them, are in the
// two colours of a path.
func (l *Lines) twoDashes(a, b geometry.Vec, on, off float64, c Look) {
	l.dashes(a, b, on, off, c.Ray)
	if w, ok := b.Sub(a).Unit(); ok && a.Dist(b) > on {
		l.dashes(a.Add(w.Mul(on)), b, off, on, c.Gap)
	}
}

// loop adds a closed line through the points.
func (l *Lines) loop(c RGB, points ...geometry.Vec) {
	for i, p := range points {
		l.stroke(p, points[(i+1)%len(points)], c)
	}
}
