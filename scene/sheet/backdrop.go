// SPDX-License-Identifier: MIT

package sheet

import (
	"earline/geometry"
	"earline/project"
	"earline/scene/drawing"
)

// drawBackdrops draws the plan lines of other programs and the edges of their meshes,
// as far as they lie within the view.
func (s *set) drawBackdrops(d *drawn) {
	for i := range s.design.Backdrops {
		b := &s.design.Backdrops[i]
		if b.Hidden {
			continue
		}
		m := b.Placed()
		for _, l := range m.Lines {
			d.backdropLine(m.Points[l[0]], m.Points[l[1]])
		}
		for _, e := range creases(&m) {
			d.backdropLine(m.Points[e[0]], m.Points[e[1]])
		}
	}
}

// drawBackdrops draws where the plane of the section cuts meshes of other programs.
func (c *section) drawBackdrops(d *drawn) {
	for i := range c.set.design.Backdrops {
		b := &c.set.design.Backdrops[i]
		if b.Hidden {
			continue
		}
		m := b.Placed()
		for k := range m.Triangles {
			if a, b, ok := cutBy(m.Triangle(k), c.into, c.at); ok {
				d.backdropLine(a, b)
			}
		}
	}
}

// backdropLine draws a line of a backdrop as far as it lies within the view.
func (d *drawn) backdropLine(a, b geometry.Vec) {
	in, ok := geometry.Segment2{A: d.view.flat(a), B: d.view.flat(b)}.Clip(d.view.lo, d.view.hi)
	if ok && in.A != in.B {
		d.lines(backdropLayer, pale, finest, []drawing.Point{d.on(in.A), d.on(in.B)})
	}
}

// creases returns the edges of a mesh that are seen as lines: those of one triangle
// alone, of more than two, and where two meet at an angle.
func creases(m *project.Mesh) [][2]int {
	const flat = 0.94 // cosine of 20 degrees: less is a facet of something round
	type side struct {
		normal geometry.Vec
		n      int
		crease bool
	}
	sides := map[[2]int]side{}
	var order [][2]int
	for i, t := range m.Triangles {
		n, ok := m.Triangle(i).Normal()
		if !ok {
			continue
		}
		for k := range t {
			e := [2]int{min(t[k], t[(k+1)%3]), max(t[k], t[(k+1)%3])}
			s, known := sides[e]
			if !known {
				order = append(order, e)
				s.normal = n
			}
			along := s.normal.Dot(n)
			s.n++
			s.crease = s.crease || max(along, -along) < flat
			sides[e] = s
		}
	}
	var out [][2]int
	for _, e := range order {
		if s := sides[e]; s.crease || s.n != 2 {
			out = append(out, e)
		}
	}
	return out
}

// cutBy returns where the plane in which n.p is at cuts a triangle.
func cutBy(t geometry.Triangle, n geometry.Vec, at float64) (a, b geometry.Vec, ok bool) {
	var ends []geometry.Vec
	for i := range t {
		p, q := t[i], t[(i+1)%3]
		from, to := n.Dot(p)-at, n.Dot(q)-at
		if from < 0 != (to < 0) {
			ends = append(ends, p.Lerp(q, from/(from-to)))
		}
	}
	if len(ends) != 2 {
		return a, b, false
	}
	return ends[0], ends[1], true
}
