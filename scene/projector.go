// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// projector draws the cabinet of the projector, its lens, and the pole or the shelf that
// carries it. One behind a port is in another room.
func (s *painter) projector() {
	box, ok := place.Cabinet(s.d)
	if !ok || !box.Center.Finite() || !(box.Half.X > 0 && box.Half.Y > 0 && box.Half.Z > 0) {
		return
	}
	m := &Mesh{Name: "projector", OneSided: true}
	fittings := &Mesh{Name: "lens and mount", OneSided: true}
	if s.d.Projector.Mount == project.CeilingMount {
		m, fittings = s.hanging(m), s.hanging(fittings)
	}
	m.pen().of(Lacquer).to(box.Center, box.Basis).bevel(box.Half, min(0.012, box.Half.X/5, box.Half.Y/5, box.Half.Z/5), skin{face: lacquer, puff: 0.10})
	s.add(m)

	p := fittings.pen().of(Metal)
	lens := s.d.Projector.At.Vec()
	// As one looks into the lens from the screen.
	front := p.to(geometry.Vec{X: box.Center.X - box.Half.X, Y: lens.Y, Z: lens.Z},
		geometry.Basis{U: geometry.Vec{Y: -1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: -1}})
	r := min(0.055, 0.7*box.Half.Y, 0.7*box.Half.Z)
	proud := max(box.Center.X-box.Half.X-lens.X, 0.006)
	front.lathe([]turning{{r: r, z: 0, c: lacquer.times(1.5)}, {r: r, z: proud, c: lacquer.times(1.5)}, {r: 0.8 * r, z: proud, c: champagne}}, 28, 1)
	front.of(Lacquer).by(0, 0, proud).lathe([]turning{{r: 0.8 * r, z: 0, c: glassDark}, {r: 0.4 * r, z: 0.003, c: glassDark.times(2), soft: true}, {r: 0, z: 0.004, c: glassDark.times(3), soft: true}}, 28, 1)
	switch s.d.Projector.Mount {
	case project.CeilingMount:
		s.pole(p, box)
	case project.ShelfMount:
		const board, over = 0.018, 0.03 // m, thick; beyond the cabinet
		p.to(above(box.Center, -box.Half.Z-board/2), box.Basis).bevel(geometry.Vec{X: box.Half.X + over, Y: box.Half.Y + over, Z: board / 2}, 0.003, plainSkin(champagne.times(0.6)))
	}
	s.add(fittings)
}

// glassDark is the glass of a lens.
var glassDark = RGB{0.05, 0.07, 0.10}

// pole draws what a cabinet hangs from, up to what is over it.
func (s *painter) pole(p pen, box geometry.Box) {
	top := above(box.Center, box.Half.Z)
	to := top
	to.Z, _ = s.over(project.Feature{At: project.PointOf(top)})
	const least = 0.01 // m
	if len(s.plan.corners) < 3 || to.Z-top.Z < least {
		return
	}
	p.limb([]joint{{top, 0.018, lacquer}, {to, 0.018, lacquer}}, geometry.Vec{X: 1}, 10)
	p.limb([]joint{{to, 0.06, lacquer}, {above(to, -min(0.012, to.Z-top.Z)), 0.055, lacquer}}, geometry.Vec{X: 1}, 14)
}

// projector draws where a projector is moved to.
func (p *proposed) projector(s *painter, to *project.Design) {
	was, had := place.Cabinet(s.d)
	is, has := place.Cabinet(to)
	switch {
	case had && !has:
		p.cross(was)
	case has && (!had || was.Center.Dist(is.Center) > nudge || was.Half != is.Half):
		if had {
			p.move(s.d.Projector.At.Vec(), to.Projector.At.Vec())
		}
		p.box(p.body, is)
		edges(p.top, is, p.ink.Proposed)
	}
}
