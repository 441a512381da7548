// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// features draws what is built into the room.
func (s *painter) features() {
	m := &Mesh{Name: "features", OneSided: true}
	shell := &Mesh{Name: "soffits and fittings", OneSided: true}
	glass := &Mesh{Name: "window panes", Unlit: true, OneSided: true}
	lamps := &Mesh{Name: "lamps", Unlit: true, OneSided: true}
	over := s.hanging(&Mesh{Name: "soffits and fittings", OneSided: true})
	lines := &Lines{Name: "outlines"}
	for i, f := range s.d.Room.Features {
		box := f.Box()
		if !(box.Half.X > 0 && box.Half.Y > 0 && box.Half.Z > 0) {
			continue
		}
		shell, p := shell, m.pen().of(Paint).to(box.Center, box.Basis)
		if s.o.Client && s.carriedAbove(f) {
			shell, p.m = over, over
		}
		if s.o.Drawing.plan() && (f.Kind == project.Light || f.Kind == project.Vent) {
			outline(lines, box)
		}
		switch f.Kind {
		case project.Soffit:
			s.soffit(shell.pen().of(Paint).to(box.Center, box.Basis), box.Half)
			if s.o.Drawing.plan() {
				outline(lines, box)
			}
		case project.Column:
			if f.Round {
				s.roundColumn(p.of(s.coats.timber.made()), box.Half)
				break
			}
			s.column(p.of(s.coats.timber.made()), box.Half)
		case project.Stage, project.Counter:
			s.stage(p.of(s.coats.timber.made()), box.Half)
		case project.Rack:
			s.rack(p.of(s.coats.cabinet.made()), box)
		case project.Beam:
			joist := s.joist()
			p.of(joist.made()).bevel(box.Half, 0.01, plainSkin(joist.RGB))
			if s.o.Drawing.plan() {
				outline(lines, box)
			}
		case project.Door:
			own := m
			if s.o.Bare {
				own = &Mesh{Name: "leaf of a door", OneSided: true, Door: i + 1}
			}
			s.door(p, p.on(own), box, f)
			if own != m {
				s.add(own)
			}
			if !s.o.Client {
				swing(lines, s.plan, box, f)
			}
		case project.Window:
			s.window(p.on(shell).of(Timber), p.on(glass), box)
		case project.Light:
			own := lamps
			if s.o.Bare {
				own = s.shining(f)
			}
			if shell == over {
				own = s.hanging(&Mesh{Name: own.Name, Unlit: own.Unlit, OneSided: true, Shines: own.Shines})
			}
			s.light(p.on(shell).of(Metal), p.of(Metal), p.on(own), box, f)
			if own != lamps {
				s.add(own)
			}
		case project.Vent:
			s.vent(p.on(shell).of(Metal), p.of(Metal), box, f)
		default:
			p.bevel(box.Half, 0.01, plainSkin(s.boxed().RGB))
		}
	}
	s.add(m)
	s.add(shell)
	s.add(over)
	s.add(glass)
	s.add(lamps)
	s.addLines(lines)
}

// carriedAbove reports whether the ceiling carries f, or what hangs under it does.
func (s *painter) carriedAbove(f project.Feature) bool {
	const near = 0.15 // m
	switch f.Kind {
	case project.Soffit, project.Beam, project.Light, project.Vent:
		z, _ := s.over(f)
		return float64(f.At.Z+f.Height) > z-near
	}
	return false
}

// outline draws the edges of box, broken.
func outline(l *Lines, box geometry.Box) {
	corner := func(x, y, z float64) geometry.Vec {
		return box.Center.Add(box.Basis.World(geometry.Vec{X: x * box.Half.X, Y: y * box.Half.Y, Z: z * box.Half.Z}))
	}
	for _, u := range [2]float64{-1, 1} {
		for _, v := range [2]float64{-1, 1} {
			c := plaster
			l.dashes(corner(-1, u, v), corner(1, u, v), 0.12, 0.08, c)
			l.dashes(corner(u, -1, v), corner(u, 1, v), 0.12, 0.08, c)
			l.dashes(corner(u, v, -1), corner(u, v, 1), 0.12, 0.08, c)
		}
	}
}

// soffit draws the faces of a box that are visible from inside the room. Like the
// walls it vanishes when seen from outside.
func (s *painter) soffit(p pen, half geometry.Vec) {
	const off = 0.03 // m
	h := [3]float64{half.X, half.Y, half.Z}
	for k := range 3 {
		u, v := (k+1)%3, (k+2)%3
		for _, sign := range [2]float64{-1, 1} {
			at := func(su, sv, more float64) geometry.Vec {
				var q [3]float64
				q[k], q[u], q[v] = sign*(h[k]+more), su*h[u], sv*h[v]*sign
				return geometry.Vec{X: q[0], Y: q[1], Z: q[2]}
			}
			out := p.at.Add(p.b.World(at(0, 0, off)))
			if len(s.plan.corners) > 2 && (!s.plan.holds(out.X, out.Y) || out.Z > s.plan.ceiling(out.X, out.Y)) {
				continue
			}
			c := s.coats.ceiling.times(0.98)
			low, high := c.times(0.88), c.plus(lamp, 0.10)
			if s.o.Bare {
				low = s.coats.ceiling.RGB
				high = low
			}
			col := func(v geometry.Vec) RGB { return low.mix(high, step(-half.Z, half.Z, v.Z)) }
			a, b, d, e := at(-1, -1, 0), at(1, -1, 0), at(1, 1, 0), at(-1, 1, 0)
			if s.o.Bare {
				p.sheet(a, b, d, e, sheetCell, low)
				continue
			}
			p.quad(a, b, d, e, col(a), col(b), col(d), col(e))
		}
	}
}

// column draws a pillar of cloth on a walnut foot, with a bronze band between.
func (s *painter) column(p pen, half geometry.Vec) {
	h := 2 * half.Z
	if h < 1.2*railTop {
		p.bevel(half, 0.01, plainSkin(s.coats.timber.RGB))
		return
	}
	z := -half.Z
	part := func(z0, z1, in float64, c RGB) {
		p.by(0, 0, z+(z0+z1)/2).bevel(geometry.Vec{X: max(half.X-in, 0.01), Y: max(half.Y-in, 0.01), Z: (z1 - z0) / 2}, 0.01, plainSkin(c))
	}
	part(0, dado, 0, s.coats.timber.RGB)
	part(dado, railTop, 0.001, s.coats.rail.RGB)
	part(railTop, h, 0.004, s.shaft())
}

// roundSides is how many sides a round column is drawn with: its edges lie 0.12 % of
// the radius inside the true one.
const roundSides = 64

// roundColumn draws column round.
func (s *painter) roundColumn(p pen, half geometry.Vec) {
	h := 2 * half.Z
	if h < 1.2*railTop {
		p.drum(half.X, half.Z, s.coats.timber.RGB)
		return
	}
	z := -half.Z
	part := func(z0, z1, in float64, c RGB) {
		p.by(0, 0, z+(z0+z1)/2).drum(max(half.X-in, 0.01), (z1-z0)/2, c)
	}
	part(0, dado, 0, s.coats.timber.RGB)
	part(dado, railTop, 0.001, s.coats.rail.RGB)
	part(railTop, h, 0.004, s.shaft())
}

// shaft is the colour of a column above its rail.
func (s *painter) shaft() RGB {
	if s.o.Bare {
		return s.coats.cloth.RGB
	}
	return s.coats.cloth.times(0.85)
}

// drum draws an upright cylinder about p's W.
func (p pen) drum(r, half float64, c RGB) {
	p.lathe([]turning{{r: 0, z: -half, c: c}, {r: r, z: -half, c: c}, {r: r, z: half, c: c}, {r: 0, z: half, c: c}}, roundSides, 1)
}

// rims draws the edges of a feature: of a round column the rims of its foot and top and
// four lines between.
func rims(l *Lines, f project.Feature, ink RGB) {
	c, ok := f.Cylinder()
	if !ok {
		edges(l, f.Box(), ink)
		return
	}
	at := func(i int, z float64) geometry.Vec {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / roundSides)
		return c.Center.Add(geometry.Vec{X: c.Radius * cos, Y: c.Radius * sin, Z: z})
	}
	if !at(0, c.Half).Finite() {
		return
	}
	for i := range roundSides {
		for _, z := range [2]float64{-c.Half, c.Half} {
			l.stroke(at(i, z), at(i+1, z), ink)
		}
		if i%(roundSides/4) == 0 {
			l.stroke(at(i, -c.Half), at(i, c.Half), ink)
		}
	}
}

// stage draws a low podium: walnut sides, a lighter top with a bronze edge.
func (s *painter) stage(p pen, half geometry.Vec) {
	lip := min(half.Z, 0.02)
	p.by(0, 0, -0.003).bevel(geometry.Vec{X: half.X - 0.003, Y: half.Y - 0.003, Z: max(half.Z-0.003, half.Z/2)}, 0.004, plainSkin(s.coats.timber.mix(RGB{}, 0.25)))
	p.by(0, 0, half.Z-lip).bevel(geometry.Vec{X: half.X, Y: half.Y, Z: lip}, 0.006, plainSkin(bronze.times(0.8)))
	const board = 0.14 // m
	n := clampInt(int(2*half.X/board), 1, 60)
	w := 2 * (half.X - 0.02) / float64(n)
	for i := range n {
		x := -half.X + 0.02 + float64(i)*w
		c := s.coats.timber.times(0.92 + 0.04*float64(i*7%5))
		p.rect(x+0.002, x+w-0.002, -half.Y+0.02, half.Y-0.02, half.Z+0.001, c)
	}
}

// leaf returns the thin axis of a flat box as a pen with U through the leaf, V
// along its width and W up; half is its half-sizes along those.
func leaf(p pen, half geometry.Vec) (pen, geometry.Vec) {
	if half.X <= half.Y {
		return p, half
	}
	turned := geometry.Basis{U: geometry.Vec{Y: 1}, V: geometry.Vec{X: -1}, W: geometry.Vec{Z: 1}}
	return p.to(geometry.Vec{}, turned), geometry.Vec{X: half.Y, Y: half.X, Z: half.Z}
}

// inside returns +1 when the side of the leaf's pen towards +U is in the room,
// else -1.
func (f plan) inside(p pen, thick float64) float64 {
	q := p.at.Add(p.b.U.Mul(thick + 0.15))
	if f.holds(q.X, q.Y) {
		return 1
	}
	return -1
}

// door draws a leaf of walnut with two fields and handles into own, and a frame about it.
func (s *painter) door(box, own pen, b geometry.Box, f project.Feature) {
	edge, _ := s.plan.corners.Nearest(geometry.Vec2{X: b.Center.X, Y: b.Center.Y})
	coat := s.joinery(s.plan.number(edge))
	frameOf, _ := leaf(box.of(coat.made()), b.Half)
	p, h := leaf(own.of(coat.made()), b.Half)
	const frame = 0.07 // m
	wood := coat.RGB
	leaf := wood
	if !s.o.Bare {
		leaf = wood.times(1.12)
	}
	p.bevel(h, 0.004, plainSkin(leaf))
	for _, side := range [2]float64{-1, 1} {
		q := p.to(geometry.Vec{}, geometry.WorldBasis())
		if side < 0 {
			q = p.to(geometry.Vec{}, geometry.Basis{U: geometry.Vec{X: -1}, V: geometry.Vec{Y: -1}, W: geometry.Vec{Z: 1}})
		}
		for _, z := range [2][2]float64{{0.12, 0.44}, {0.50, 0.94}} {
			z0, z1 := -h.Z+2*h.Z*z[0], -h.Z+2*h.Z*z[1]
			field(q, h.X+0.001, -h.Y*0.72, h.Y*0.72, z0, z1, 0.025, wood, wood.times(1.3))
		}
		// The handle is opposite the hinge, as seen from the room.
		away := 1.0
		if f.Swing == project.InRight || f.Swing == project.OutRight {
			away = -1
		}
		away *= s.plan.inside(p, h.X) * side
		grip := q.of(Metal).by(h.X+0.035, away*(h.Y-0.07), -h.Z+1.02)
		grip.by(-0.02, 0, 0).bevel(geometry.Vec{X: 0.02, Y: 0.011, Z: 0.011}, 0.005, plainSkin(bronze))
		grip.by(0.005, -away*0.045, 0).bevel(geometry.Vec{X: 0.009, Y: 0.06, Z: 0.009}, 0.006, plainSkin(bronze))
	}
	deep := h.X + 0.02
	jamb := plainSkin(wood.times(0.7))
	for _, y := range [2]float64{-1, 1} {
		frameOf.by(0, y*(h.Y+frame/2+0.003), frame/2).bevel(geometry.Vec{X: deep, Y: frame / 2, Z: h.Z + frame/2}, 0.006, jamb)
	}
	frameOf.by(0, 0, h.Z+frame/2+0.003).bevel(geometry.Vec{X: deep, Y: h.Y + 0.003, Z: frame / 2}, 0.006, jamb)
}

// field draws a shallow panel on the plane x of p's frame, seen from +U.
func field(p pen, x, y0, y1, z0, z1, edge float64, face, lip RGB) {
	v := func(y, z float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: z} }
	p.plain(v(y0, z0), v(y1, z0), v(y1-edge, z0+edge), v(y0+edge, z0+edge), lip)
	p.plain(v(y0, z1), v(y0+edge, z1-edge), v(y1-edge, z1-edge), v(y1, z1), lip.times(0.55))
	p.plain(v(y0, z0), v(y0+edge, z0+edge), v(y0+edge, z1-edge), v(y0, z1), lip.times(0.75))
	p.plain(v(y1, z0), v(y1, z1), v(y1-edge, z1-edge), v(y1-edge, z0+edge), lip.times(0.75))
	p.plain(v(y0+edge, z0+edge), v(y1-edge, z0+edge), v(y1-edge, z1-edge), v(y0+edge, z1-edge), face)
}

// swing draws on the floor the area that a door's leaf sweeps.
func swing(l *Lines, f plan, box geometry.Box, door project.Feature) {
	k, turns := hinged(f, box, door)
	if !turns {
		return
	}
	h, side, into := k.half, k.side, k.into
	z := -h.Z + 0.01
	hinge := geometry.Vec{Y: side * h.Y, Z: z}
	place := func(v geometry.Vec) geometry.Vec { return k.at.Add(k.b.World(v)) }
	const n = 16
	last := place(geometry.Vec{Y: -side * h.Y, Z: z})
	for i := range n {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i+1) / n)
		next := place(hinge.Add(geometry.Vec{X: into * 2 * h.Y * sin, Y: -side * 2 * h.Y * cos}))
		l.stroke(last, next, bronze)
		last = next
	}
	l.stroke(last, place(hinge), bronze)
}

// window draws, as seen from the room, a frame with a mullion and panes in the
// colours of dusk.
func (s *painter) window(box, glass pen, b geometry.Box) {
	p, h := leaf(box, b.Half)
	g, _ := leaf(glass, b.Half)
	side := s.plan.inside(p, h.X)
	turned := geometry.Basis{U: geometry.Vec{Y: side}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: side}}
	// U to the right of someone in the room, V up, W into the room.
	p, g = p.to(geometry.Vec{}, turned), g.to(geometry.Vec{}, turned)
	bar := min(0.035, h.Y/4, h.Z/4)
	deep := max(h.X, 0.01)
	bars := func(x0, x1, y0, y1 float64) {
		const bevel = 0.006
		p.rect(x0+bevel, x1-bevel, y0+bevel, y1-bevel, deep+bevel, walnut)
		v := func(x, y, z float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: z} }
		z := deep + bevel
		p.plain(v(x0, y0, deep), v(x1, y0, deep), v(x1-bevel, y0+bevel, z), v(x0+bevel, y0+bevel, z), walnutDark)
		p.plain(v(x1, y1, deep), v(x0, y1, deep), v(x0+bevel, y1-bevel, z), v(x1-bevel, y1-bevel, z), walnut.times(1.2))
		p.plain(v(x0, y1, deep), v(x0, y0, deep), v(x0+bevel, y0+bevel, z), v(x0+bevel, y1-bevel, z), walnutDark)
		p.plain(v(x1, y0, deep), v(x1, y1, deep), v(x1-bevel, y1-bevel, z), v(x1-bevel, y0+bevel, z), walnutDark)
	}
	bars(-h.Y, h.Y, -h.Z, bar-h.Z)
	bars(-h.Y, h.Y, h.Z-bar, h.Z)
	bars(-h.Y, bar-h.Y, bar-h.Z, h.Z-bar)
	bars(h.Y-bar, h.Y, bar-h.Z, h.Z-bar)
	bars(-bar/2, bar/2, bar-h.Z, h.Z-bar)
	low, high := glassDusk, glassDusk.times(0.55)
	v := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: deep - 0.001} }
	g.quad(v(-h.Y, -h.Z), v(h.Y, -h.Z), v(h.Y, h.Z), v(-h.Y, h.Z), low, low, high, high)
}
