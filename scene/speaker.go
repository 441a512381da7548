// SPDX-License-Identifier: MIT

package scene

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// speakers draws every loudspeaker that has a model.
func (s *painter) speakers() {
	m := &Mesh{Name: "loudspeakers", OneSided: true}
	flush := &Mesh{Name: "grilles", OneSided: true}
	m.grow(len(s.boxes)*700, len(s.boxes)*700)
	ghosts := &Lines{Name: "behind the screen", OnTop: true}
	models := make(map[string]*Mesh)
	for i, b := range s.boxes {
		if len(b.Drivers) == 0 || !b.Box.Center.Finite() {
			continue
		}
		t := models[b.Model]
		if t == nil {
			t = s.cabinet(b.Spec)
			models[b.Model] = t
		}
		tint := 0.0
		if i == s.o.Speaker {
			tint = 0.35
		}
		if b.Spec.Flush {
			flush.stamp(t, b.Box.Center, b.Box.Basis, s.ink.Selected, tint)
		} else {
			m.stamp(t, b.Box.Center, b.Box.Basis, s.ink.Selected, tint)
		}
		s.bracket(m.pen().of(Metal), b)
		s.stand(m.pen(), b)
		if b.Mount == project.BehindScreen && !s.o.Client {
			ghost(ghosts, b, s.ink.Coverage.times(0.8))
		}
	}
	s.add(m)
	s.add(flush)
	s.addLines(ghosts)
}

// cabinet draws a model in the frame of its box: U down, V to the right of
// someone who looks at the front, W out of the front.
func (s *painter) cabinet(spec project.Model) *Mesh {
	m := &Mesh{}
	h := geometry.Vec{X: float64(spec.Height) / 2, Y: float64(spec.Width) / 2, Z: float64(spec.Depth) / 2}
	if !(h.X > 0 && h.Y > 0 && h.Z > 0) {
		return m
	}
	front := m.pen().of(Metal).by(0, 0, h.Z)
	deciding := spec.Deciding()
	if spec.Subwoofer() {
		deciding = -1 // not judged
	}
	if spec.Flush {
		// The bezel stands before the surface, and the grille within it, in a client's view
		// so far back that it is seen to be.
		proud, back := 0.005, 0.0
		if s.o.Client {
			proud, back = 0.009, 0.008
		}
		if !s.o.Client {
			m.pen().by(0, 0, -0.002).bevel(geometry.Vec{X: h.X, Y: h.Y, Z: h.Z}, 0.004, plainSkin(s.coats.cabinet.RGB))
		}
		lip := min(0.010, h.X/6, h.Y/6)
		bezel(front, h, lip, proud, back)
		mesh(front.of(Cloth), geometry.Vec{X: h.X - lip, Y: h.Y - lip, Z: proud - back}, s.o.Bare)
		if deciding >= 0 && !s.o.Client {
			d := spec.Drivers[deciding]
			r := float64(d.Diameter) / 2
			front.by(-float64(d.Up), float64(d.Right), proud+0.001).lathe([]turning{
				{r: r + 0.004, c: champagne}, {r: r, c: champagne}}, 20, 1)
		}
		return m
	}
	cut := min(0.014, h.X/5, h.Y/5, h.Z/5)
	m.pen().of(s.coats.cabinet.made()).bevel(h, cut, skin{face: s.coats.cabinet.RGB, puff: 0.10})
	x, y := h.X-cut-0.004, h.Y-cut-0.004
	front.of(Paint).rect(-x, x, -y, y, 0.0008, s.front())
	drivers := make([]int, len(spec.Drivers))
	for i := range drivers {
		drivers[i] = i
	}
	// Large ones first, so that a small one in the middle of a large one shows.
	slices.SortStableFunc(drivers, func(a, b int) int {
		return cmp.Compare(spec.Drivers[b].Diameter, spec.Drivers[a].Diameter)
	})
	for rank, i := range drivers {
		d := spec.Drivers[i]
		driver(front.of(NoMaterial).by(-float64(d.Up), float64(d.Right), 0.0012*float64(rank+1)),
			d.Band, float64(d.Diameter)/2, i == deciding)
	}
	return m
}

// front is the colour of a box's front: in the light of lamps as bright as cabinets are,
// some 4 % (no source), so that a front is not a hole.
func (s *painter) front() RGB {
	if s.o.Bare {
		return baffle.times(1.6)
	}
	return baffle
}

// bezel draws the flat frame of a flush model in front of its surface, and its edge down to
// a grille that lies so far back. It has no outer edges and no back, so that it vanishes
// with its wall when seen from outside.
func bezel(p pen, h geometry.Vec, lip, proud, back float64) {
	at := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: proud} }
	x, y, c := h.X-lip, h.Y-lip, grille.times(1.5)
	p.plain(at(h.X, -h.Y), at(h.X, h.Y), at(x, y), at(x, -y), c.times(0.8))
	p.plain(at(-h.X, h.Y), at(-h.X, -h.Y), at(-x, -y), at(-x, y), c.times(1.2))
	p.plain(at(h.X, h.Y), at(-h.X, h.Y), at(-x, y), at(x, y), c)
	p.plain(at(-h.X, -h.Y), at(h.X, -h.Y), at(x, -y), at(-x, -y), c)
}

// mesh draws a grille of cloth over -half..half, lighter in the middle where light is
// painted.
func mesh(p pen, half geometry.Vec, bare bool) {
	v := func(x, y float64) geometry.Vec { return geometry.Vec{X: x * half.X, Y: y * half.Y, Z: half.Z} }
	if bare {
		p.plain(v(-1, -1), v(1, -1), v(1, 1), v(-1, 1), grille)
		return
	}
	rim, core := grille.times(0.72), grille.times(1.05)
	for _, q := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		a, b, c, d := v(0, 0), v(q[0], 0), v(q[0], q[1]), v(0, q[1])
		if q[0]*q[1] > 0 {
			p.quad(a, b, c, d, core, rim, rim.times(0.9), rim)
		} else {
			p.quad(a, d, c, b, core, rim, rim.times(0.9), rim)
		}
	}
}

// driver draws one driver of radius r on the front. The one that decides sight
// has a bright ring.
func driver(p pen, band project.Band, r float64, deciding bool) {
	const squash = 0.06
	trim := rubber.times(1.6)
	if deciding {
		trim = champagne
	}
	if band == project.High || r < 0.022 {
		p.lathe([]turning{
			{r: 1.75 * r, z: 0, c: trim}, {r: 1.68 * r, z: 0.15 * r, c: trim}, {r: 1.45 * r, z: 0.15 * r, c: baffle.times(1.5)},
			{r: 1.08 * r, z: 0.02 * r, c: rubber}, {r: r, z: 0.02 * r, c: champagne.times(0.75), soft: true},
			{r: 0.8 * r, z: 0.45 * r, c: champagne.times(0.8), soft: true}, {r: 0.4 * r, z: 0.75 * r, c: champagne.times(0.9), soft: true},
			{r: 0, z: 0.85 * r, c: champagne}}, 16, 0.25)
		return
	}
	points := 20
	if band == project.Sub || r > 0.12 {
		points = 28
	}
	deep := 0.42 * r
	p.by(0, 0, deep*squash).lathe([]turning{
		{r: 1.12 * r, z: 0, c: trim}, {r: 1.10 * r, z: 0.05 * r, c: trim}, {r: 1.02 * r, z: 0.05 * r, c: trim.times(0.8)},
		{r: r, z: 0.02 * r, c: rubber}, {r: 0.93 * r, z: 0.10 * r, c: rubber.times(2.0), soft: true}, {r: 0.86 * r, z: 0, c: rubber},
		{r: 0.34 * r, z: -deep, c: cone.times(0.75)},
		{r: 0.30 * r, z: -0.85 * deep, c: cone.times(1.3), soft: true}, {r: 0.16 * r, z: -0.62 * deep, c: cone.times(1.45), soft: true},
		{r: 0, z: -0.52 * deep, c: cone.times(1.5)}}, points, squash)
}

// bracket draws the arm that carries a box on a wall or the ceiling, if one is near.
func (s *painter) bracket(p pen, b place.Speaker) {
	const reach = 0.6 // m
	if b.Spec.Flush || len(s.plan.corners) < 3 {
		return
	}
	from := b.Box.Center.Sub(b.Front.W.Mul(b.Box.Half.Z * 0.9))
	to := from
	switch b.Mount {
	case project.OnWall:
		_, foot := s.plan.corners.Nearest(geometry.Vec2{X: from.X, Y: from.Y})
		to.X, to.Y = foot.X, foot.Y
	case project.OnCeiling:
		to.Z = s.plan.ceiling(from.X, from.Y)
	default:
		return
	}
	if gap := from.Dist(to); gap < 0.02 || gap > reach {
		return
	}
	away, _ := from.Sub(to).Unit()
	p.limb([]joint{{from, 0.014, lacquer}, {to, 0.014, lacquer}}, across(away), 8)
	p.limb([]joint{{to, 0.045, lacquer}, {to.Add(away.Mul(0.012)), 0.04, lacquer}}, across(away), 12)
}

// across returns some unit vector at right angles to w.
func across(w geometry.Vec) geometry.Vec {
	other := geometry.Vec{Z: 1}
	if math.Abs(w.Z) > 0.9 {
		other = geometry.Vec{X: 1}
	}
	u, _ := other.Cross(w).Unit()
	return u
}

// ghost draws, through the screen, the front of a box behind it.
func ghost(l *Lines, b place.Speaker, c RGB) {
	corner := func(x, y float64) geometry.Vec {
		return b.Box.Center.Add(b.Box.Basis.World(geometry.Vec{X: x * b.Box.Half.X, Y: y * b.Box.Half.Y, Z: b.Box.Half.Z}))
	}
	l.loop(c, corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1))
	for _, d := range b.Drivers {
		circle(l, d.Center, b.Front.U.Mul(d.Radius), b.Front.V.Mul(d.Radius), 20, c)
	}
}

// circle draws the ellipse with half-axes u and v.
func circle(l *Lines, at, u, v geometry.Vec, n int, c RGB) {
	l.loop(c, ring(make([]geometry.Vec, 0, n), at, u, v, n)...)
}
