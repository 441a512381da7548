// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Colours of lit glass: the middle of a lamp is paler than its edge.
var (
	lampCore  = lamp.mix(RGB{1, 1, 1}, 0.55)
	lampShade = lamp.times(0.92)
	slotDark  = RGB{0.085, 0.080, 0.080}
)

// over returns the height of the surface that f hangs from or is recessed in: the
// lowest soffit above its middle, else the ceiling. bare is whether it is the
// ceiling.
func (s *painter) over(f project.Feature) (z float64, bare bool) {
	at := f.At.Vec()
	z, bare = s.plan.ceiling(at.X, at.Y), true
	for _, o := range s.built {
		low := float64(o.At.Z)
		if o.Kind != project.Soffit && o.Kind != project.Beam || low < at.Z || low >= z {
			continue
		}
		b := o.Box()
		if q := b.Basis.Local(at.Sub(b.Center)); math.Abs(q.X) < b.Half.X && math.Abs(q.Y) < b.Half.Y {
			z, bare = low, false
		}
	}
	return z, bare
}

// facing returns p with U and V as they are and W down.
func (p pen) facing() pen {
	return p.to(geometry.Vec{}, geometry.Basis{U: geometry.Vec{X: 1}, V: geometry.Vec{Y: -1}, W: geometry.Vec{Z: -1}})
}

// light draws a light fitting: a lit disc in a ring if it is flat under the surface
// that carries it, else a lit box, which hangs on a cord unless a wall carries it.
func (s *painter) light(shell, solid, lit pen, box geometry.Box, f project.Feature) {
	const (
		flat  = 0.12 // m, what a downlight's trim or a shallow fitting hangs at most
		touch = 0.01 // m
	)
	h := box.Half
	z, bare := s.over(f)
	hang := z - float64(f.At.Z)
	if top := float64(f.At.Z + f.Height); top > z-touch && hang < flat {
		if hang <= 0 {
			return // above the ceiling
		}
		if bare && !s.o.Bare {
			s.halo(shell.m, f)
		}
		downlight(shell.by(0, 0, -h.Z).facing(), lit.by(0, 0, -h.Z).facing(), min(h.X, h.Y), hang)
		return
	}
	// The shade glows most in its middle; a cap closes it above.
	lid := min(0.15*h.Z, 0.02)
	solid.by(0, 0, h.Z-lid).bevel(geometry.Vec{X: h.X, Y: h.Y, Z: lid}, 0.004, plainSkin(champagne.times(0.8)))
	g := lit.by(0, 0, -lid)
	in := geometry.Vec{X: 0.97 * h.X, Y: 0.97 * h.Y, Z: h.Z - lid}
	for _, w := range [4]geometry.Basis{
		{U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: 1}}, {U: geometry.Vec{Y: -1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: -1}},
		{U: geometry.Vec{X: -1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{Y: 1}}, {U: geometry.Vec{X: 1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{Y: -1}},
	} {
		q := g.to(geometry.Vec{}, w)
		wide, deep := in.Y, in.X
		if w.W.Y != 0 {
			wide, deep = in.X, in.Y
		}
		v := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: deep} }
		q.quad(v(-wide, -in.Z), v(wide, -in.Z), v(wide, 0), v(-wide, 0), lampShade, lampShade, lampCore, lampCore)
		q.quad(v(-wide, 0), v(wide, 0), v(wide, in.Z), v(-wide, in.Z), lampCore, lampCore, lampShade, lampShade)
	}
	g.facing().rect(-in.X, in.X, -in.Y, in.Y, in.Z, lampCore)
	at := f.At.Vec()
	cord := z - float64(f.At.Z+f.Height)
	if cord > touch && s.plan.wall(at.X, at.Y) > max(h.X, h.Y)+0.05 { // nothing but the ceiling carries it
		solid.by(0, 0, h.Z).limb([]joint{{at: geometry.Vec{Z: -0.002}, radius: 0.004, c: bronze}, {at: geometry.Vec{Z: cord}, radius: 0.004, c: bronze}}, geometry.Vec{X: 1}, 6)
	}
}

// downlight draws a round downlight of radius r whose face is p's plane z = 0, seen
// from W, and stands hang metres proud of the surface that it is recessed in.
func downlight(p, lit pen, r, hang float64) {
	const n = 28
	ring := champagne.times(0.9)
	p.lathe([]turning{
		{r: r, z: -hang, c: ring.times(0.7)}, {r: r, z: 0, c: ring},
		{r: 0.86 * r, z: 0.002, c: ring, soft: true}, {r: 0.70 * r, z: -0.2 * r, c: lamp.times(0.8)}, {r: 0, z: -0.2 * r, c: lamp},
	}, n, 1)
	// The lamp itself, before the reflector so that nothing flickers.
	lit.lathe([]turning{{r: 0.72 * r, z: 0.003, c: lampShade}, {r: 0.4 * r, z: 0.003, c: lampCore}, {r: 0, z: 0.003, c: lampCore}}, n, 1)
}

// halo draws the light that a fitting throws on the ceiling around it.
func (s *painter) halo(m *Mesh, f project.Feature) {
	const n, below = 28, 0.002 // m under the ceiling
	at := f.At.Vec()
	r0 := 0.9 * float64(min(f.Length, f.Width)) / 2
	r1 := min(3.5*r0+0.10, s.plan.wall(at.X, at.Y)-0.02)
	if !s.plan.holds(at.X, at.Y) || r1 <= r0 {
		return
	}
	p := m.pen()
	nor := s.plan.slopes[s.plan.slopes.Over(at.X, at.Y)].Down()
	rings := [3]float64{r0, (2*r0 + r1) / 3, r1}
	glow := [3]float64{0.34, 0.12, 0}
	var ids [3][n]uint32
	for k, r := range rings {
		for j := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / n)
			x, y := at.X+r*cos, at.Y+r*sin
			ids[k][j] = p.vertex(geometry.Vec{X: x, Y: y, Z: s.plan.ceiling(x, y) - below}, nor, s.overhead(x, y).plus(lamp, glow[k]))
		}
	}
	for k := range 2 {
		for j := range n {
			i := (j + 1) % n
			p.four(ids[k][j], ids[k][i], ids[k+1][i], ids[k+1][j])
		}
	}
}

// overhead is the colour of the ceiling at (x, y): its own with a cove of
// lamplight along the walls.
func (s *painter) overhead(x, y float64) RGB {
	face := s.coats.ceiling.RGB
	if s.o.Bare {
		return face
	}
	w := s.plan.wall(x, y)
	return face.times(1.02).plus(lamp, 0.40*(1-step(0.05, 1.0, w))).times(0.75 + 0.25*step(0, 0.12, w))
}

// vent draws a grille of slots: on its underside if it is recessed in a ceiling or a
// soffit or hangs free, on its face if a wall carries it.
func (s *painter) vent(shell, solid pen, box geometry.Box, f project.Feature) {
	const touch = 0.01 // m
	h := box.Half
	z, _ := s.over(f)
	at := f.At.Vec()
	if hang := z - at.Z; float64(f.At.Z+f.Height) > z-touch && h.Z <= max(h.X, h.Y) {
		if hang > 0 {
			slots(shell.by(0, 0, -h.Z).facing(), h.X, h.Y, min(hang, 2*h.Z))
		}
		return
	}
	if s.plan.wall(at.X, at.Y) > min(h.X, h.Y)+touch || !(h.Z > 0) { // a duct that hangs free
		solid.bevel(h, 0.006, plainSkin(champagne.times(0.75)))
		slots(shell.by(0, 0, -h.Z-0.001).facing(), h.X, h.Y, 0.001)
		return
	}
	p, q := leaf(shell, h)
	side := s.plan.inside(p, q.X)
	// U to the right of someone in the room, V up, W into the room.
	p = p.to(geometry.Vec{}, geometry.Basis{U: geometry.Vec{Y: side}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: side}})
	slots(p.by(0, 0, q.X), q.Y, q.Z, 2*q.X)
}

// slots draws a grille of half-sizes hx, hy whose face is p's plane z = 0, seen
// from W: a frame deep behind it, and within dark slots between blades that run
// along its longer side.
func slots(p pen, hx, hy, deep float64) {
	if hy > hx {
		p = p.to(geometry.Vec{}, geometry.Basis{U: geometry.Vec{Y: 1}, V: geometry.Vec{X: -1}, W: geometry.Vec{Z: 1}})
		hx, hy = hy, hx
	}
	frame := min(0.02, hy/3)
	metal := champagne.times(0.85)
	v := func(x, y, z float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: z} }
	for _, e := range [4][4]float64{{-hx, -hy, hx, -hy}, {hx, -hy, hx, hy}, {hx, hy, -hx, hy}, {-hx, hy, -hx, -hy}} {
		p.plain(v(e[0], e[1], -deep), v(e[2], e[3], -deep), v(e[2], e[3], 0), v(e[0], e[1], 0), metal.times(0.7))
		kx, ky := (hx-frame)/hx, (hy-frame)/hy
		p.plain(v(e[0], e[1], 0), v(e[2], e[3], 0), v(e[2]*kx, e[3]*ky, 0), v(e[0]*kx, e[1]*ky, 0), metal)
	}
	x, y := hx-frame, hy-frame
	p.rect(-x, x, -y, y, -0.001, slotDark)
	const pitch = 0.028 // m
	n := clampInt(int(math.Round(2*y/pitch)), 2, 40)
	w := 2 * y / float64(n)
	for i := range n {
		a := -y + (float64(i)+0.45)*w
		// A blade leans out of the dark into the light.
		p.quad(v(-x, a, -0.0005), v(x, a, -0.0005), v(x, a+0.5*w, 0.0005), v(-x, a+0.5*w, 0.0005),
			metal.times(0.45), metal.times(0.45), metal, metal)
	}
}
