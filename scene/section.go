// SPDX-License-Identifier: MIT

package scene

import (
	"slices"

	"earline/geometry"
	"earline/project/place"
)

// section fills what a cut goes through of the building: floor, walls, ceiling and
// platforms.
func (s *painter) section() {
	const (
		slab, wall = 0.10, 0.13 // m, thick
		behind     = 0.001      // m, so that the cut itself does not take it away
	)
	cut := s.o.Cut
	along := cut.X == 0 // the long section: the plane runs from the screen wall to the back
	if cut == (geometry.Vec{}) || len(s.plan.corners) < 3 {
		return
	}
	m := &Mesh{Name: "section", Unlit: true}
	p := m.pen()
	at := func(t, z float64) geometry.Vec {
		if along {
			return geometry.Vec{X: t, Y: cut.Y + behind, Z: z}
		}
		return geometry.Vec{X: cut.X - behind, Y: t, Z: z}
	}
	ceiling := func(t float64) float64 { v := at(t, 0); return s.plan.ceiling(v.X, v.Y) }
	fill := func(a, b, foot, topA, topB float64) {
		p.plain(at(a, foot), at(b, foot), at(b, topB), at(a, topA), sectionInk)
		p.plain(at(a, topA), at(b, topB), at(b, foot), at(a, foot), sectionInk) // whichever way one looks
	}
	for _, in := range s.plan.spans(cut, along) {
		a, b := in[0], in[1]
		fill(a-wall, b+wall, -slab, 0, 0)
		fill(a-wall, a, 0, ceiling(a)+slab, ceiling(a)+slab)
		fill(b, b+wall, 0, ceiling(b)+slab, ceiling(b)+slab)
		from, to := at(a, 0), at(b, 0)
		top := s.plan.slopes.Edge(geometry.Vec2{X: from.X, Y: from.Y}, geometry.Vec2{X: to.X, Y: to.Y})
		for k := 1; k < len(top); k++ {
			u, v := top[k-1], top[k]
			u.X, v.X = u.X+a, v.X+a
			p.plain(at(u.X, u.Y), at(v.X, v.Y), at(v.X, v.Y+slab), at(u.X, u.Y+slab), sectionInk)
			p.plain(at(u.X, u.Y+slab), at(v.X, v.Y+slab), at(v.X, v.Y), at(u.X, u.Y), sectionInk)
		}
		for _, box := range place.FloorOf(s.d) {
			lo, hi := box.Center.Sub(box.Half), box.Center.Add(box.Half)
			switch {
			case along && cut.Y > lo.Y && cut.Y < hi.Y:
				fill(max(lo.X, a), min(hi.X, b), 0, hi.Z, hi.Z)
			case !along && cut.X > lo.X && cut.X < hi.X:
				fill(max(lo.Y, a), min(hi.Y, b), 0, hi.Z, hi.Z)
			}
		}
	}
	s.add(m)
}

// spans returns where the plane of a cut is inside the footprint: from and to, along
// the plane.
func (p plan) spans(cut geometry.Vec, along bool) [][2]float64 {
	var met []float64
	for i := range p.corners {
		a, b, _ := p.edge(i)
		if along {
			a, b = geometry.Vec2{X: a.Y, Y: a.X}, geometry.Vec2{X: b.Y, Y: b.X}
		}
		c := cut.X + cut.Y // the other one is 0
		if (a.X > c) != (b.X > c) {
			met = append(met, a.Y+(b.Y-a.Y)*(c-a.X)/(b.X-a.X))
		}
	}
	slices.Sort(met)
	var out [][2]float64
	for i := 0; i+1 < len(met); i += 2 {
		out = append(out, [2]float64{met[i], met[i+1]})
	}
	return out
}
