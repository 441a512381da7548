// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Heights of the wall's parts, metres; our own taste.
const (
	skirting  = 0.09
	dado      = 0.86
	railTop   = 0.885
	panelSize = 1.2
	panelGap  = 0.006 // half the shadow gap between panels
)

func (s *painter) room() {
	if len(s.plan.corners) < 3 {
		return
	}
	shell := &Mesh{Name: "shell", OneSided: true}
	shell.grow(3000, 4000)
	for i := range s.plan.corners {
		s.wall(shell, i)
	}
	s.ceiling(shell)
	s.add(shell)
	if !s.o.Client {
		s.edges()
	}

	floor := &Mesh{Name: "floor", OneSided: true}
	floor.grow(4000, 6000)
	lights := &Mesh{Name: "step lights", Unlit: true}
	bases := s.bases()
	s.floor(floor, bases)
	for i := range s.d.Seating.Rows {
		s.rising(floor, lights, i, bases)
	}
	s.border(floor, bases)
	s.slab(floor)
	s.add(floor)
	s.add(lights)
}

// rising draws the platform of row i and the steps up to it.
func (s *painter) rising(m, lights *Mesh, i int, bases []base) {
	if box, ok := place.Platform(s.d, i); ok {
		s.platform(m, lights, box, bases)
	}
	for _, fl := range place.Flights(s.d, i) {
		for _, box := range fl.Boxes {
			s.platform(m, lights, box, bases)
		}
	}
}

// wall draws one wall as panels with shadow gaps between them: in its finish, or else
// walnut up to the rail and cloth above; washed with light from the ceiling's edge.
func (s *painter) wall(m *Mesh, edge int) {
	a, b, in := s.plan.edge(edge)
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length == 0 {
		return
	}
	along := geometry.Vec{X: (b.X - a.X) / length, Y: (b.Y - a.Y) / length}
	p := m.pen()
	look := s.wallLook(s.plan.number(edge))

	point := func(x, z float64) geometry.Vec {
		return geometry.Vec{X: a.X + along.X*x, Y: a.Y + along.Y*x, Z: z}
	}
	top := func(x float64) float64 {
		q := point(x, 0)
		return max(s.plan.ceiling(q.X, q.Y), 0.01)
	}
	// Row k of the wall at x: low parts at their heights, the cloth divided.
	const rows = 9
	height := func(x float64, k int) float64 {
		h := top(x)
		low := [...]float64{0, skirting, 0.42, dado, railTop}
		if k < len(low) {
			return min(low[k], h)
		}
		rail := min(railTop, h)
		return rail + (h-rail)*[...]float64{0.30, 0.62, 0.86, 1}[k-len(low)]
	}
	coatOf := func(band int) (c coat, washed float64) {
		switch {
		case !look.trimmed && band < 4:
			return look.below, 0
		case band == 0:
			return s.coats.skirting, 0
		case band < 3:
			return look.below, 0
		case band == 3:
			return s.coats.rail, 0
		}
		return look.above, look.washed
	}
	colour := func(x float64, k, band int, swell float64) RGB {
		c, washed := coatOf(band)
		if s.o.Bare {
			return c.RGB
		}
		z, h := height(x, k), top(x)
		corner := min(x, length-x)
		f := (0.80 + 0.20*step(0, 0.7, corner)) * swell
		switch {
		case band == 0:
			return c.times(0.7 * f)
		case band < 3:
			return c.times(f * (0.72 + 0.38*step(0, dado, z)))
		case band == 3:
			return c.times(f)
		}
		t := step(railTop, h, z)
		return c.times(f*(0.78+0.26*t)).plus(lamp, 0.16*t*t*swell*washed).times(1 - 0.16*step(h-0.12, h, z))
	}
	panel := func(x0, x1, gap float64) {
		// Lamps wash the middle of each panel most.
		pitch := x1 - x0
		cols := [5]float64{x0 + gap, x0 + pitch*0.27, (x0 + x1) / 2, x1 - pitch*0.27, x1 - gap}
		swell := [5]float64{0.86, 0.965, 1, 0.965, 0.86}
		for band := range rows - 1 {
			if height((x0+x1)/2, band+1)-height((x0+x1)/2, band) < 1e-6 {
				continue
			}
			nor := geometry.Vec{X: in.X, Y: in.Y}
			c, _ := coatOf(band)
			var ids [2][5]uint32
			for j, x := range cols {
				for k := range 2 {
					ids[k][j] = p.of(c.made()).vertex(point(x, height(x, band+k)), nor, colour(x, band+k, band, swell[j]))
				}
			}
			for j := range 4 {
				p.four(ids[0][j], ids[1][j], ids[1][j+1], ids[0][j+1])
			}
		}
		dark := walnutDark.times(0.55)
		for _, x := range [2]float64{x0, x1 - gap} {
			p.plain(point(x, 0), point(x, top(x)), point(x+gap, top(x+gap)), point(x+gap, 0), dark)
		}
	}
	// A groove has a side that looks along the wall, and would be seen from behind it.
	joints := &Mesh{Name: "joints of a wall", OneSided: true}
	if s.o.Client {
		joints.Facing = facing(point(0, 0), geometry.Vec{X: in.X, Y: in.Y})
	}
	lined := lining{grooves: joints.pen(), height: height, whole: s.panelled(a, b),
		at:     func(x, z, d float64) geometry.Vec { return point(x, z).Add(geometry.Vec{X: in.X * d, Y: in.Y * d}) },
		colour: func(x float64, row, band int) RGB { return colour(x, row, band, 1) },
		made: func(band int) Material {
			c, _ := coatOf(band)
			return c.made()
		}}
	bends := s.plan.slopes.Edge(a, b) // of the upper edge: panels end there
	for k := 1; k < len(bends); k++ {
		from, long := bends[k-1].X, bends[k].X-bends[k-1].X
		n := clampInt(int(math.Round(long/panelSize)), 1, 60)
		pitch := long / float64(n)
		for i := range n {
			if s.o.Bare {
				x := from + float64(i)*pitch
				lined.panel(p, x, x+pitch, x > 0, k < len(bends)-1 || i < n-1)
				continue
			}
			panel(from+float64(i)*pitch, from+float64(i+1)*pitch, min(panelGap, pitch/8))
		}
	}
	s.add(joints)
}

// panelled reports whether a run of panels hangs on the wall from a to b.
func (s *painter) panelled(a, b geometry.Vec2) bool {
	poly := s.d.Room.Polygon()
	for _, r := range s.runs {
		if r.Wall < 1 || r.Wall > len(poly) {
			continue
		}
		if c, d := poly.Edge(r.Wall - 1); c == a && d == b || c == b && d == a {
			return true
		}
	}
	return false
}

// ceiling draws the ceiling.
func (s *painter) ceiling(m *Mesh) {
	p := m.pen().of(s.coats.ceiling.made())
	for i := range s.plan.parts {
		under := &s.plan.parts[i]
		n := under.slope.Down()
		under.tiles(s.plan.lo, s.plan.hi, 0.3, func(x, y float64) uint32 {
			return p.vertex(geometry.Vec{X: x, Y: y, Z: under.slope.At(x, y)}, n, s.overhead(x, y))
		}, func(a, b, c uint32) { p.tri(a, c, b) })
	}
}

// floor draws the carpet of the room's own floor.
func (s *painter) floor(m *Mesh, bases []base) {
	s.carpet(m, s.plan.lo, s.plan.hi, 0, bases)
}

// carpet draws the part of the footprint within lo..hi at height z.
func (s *painter) carpet(m *Mesh, lo, hi geometry.Vec2, z float64, bases []base) {
	p := m.pen().of(s.ground(z).made())
	s.plan.tiles(lo, hi, 0.2, func(x, y float64) uint32 {
		return p.vertex(geometry.Vec{X: x, Y: y, Z: z}, geometry.Vec{Z: 1}, s.pile(s.ground(z).RGB, x, y, z, bases))
	}, func(a, b, c uint32) { p.tri(a, b, c) })
}

// ground returns how the floor at height z is drawn.
func (s *painter) ground(z float64) coat {
	if z > 0 {
		return s.coats.platforms
	}
	return s.coats.floor
}

// pile is the colour of a carpet of colour c at (x, y, z).
func (s *painter) pile(c RGB, x, y, z float64, bases []base) RGB {
	if s.o.Bare {
		return c
	}
	c = c.times((0.70 + 0.30*step(0, 0.7, s.plan.wall(x, y))) * shade(bases, x, y, z))
	for i := range s.d.Seating.Rows {
		row := s.d.Seating.Rows[i]
		if float64(row.Riser) <= z+0.01 || y < float64(row.Left) || row.Right > 0 && y > float64(row.Right) {
			continue
		}
		if gap := float64(row.Distance-row.Front) - x; gap >= 0 && gap < 0.7 {
			near := 1 - step(0, 0.7, gap)
			c = c.times(1+0.45*near).plus(lamp, 0.07*near)
		}
	}
	return c.plus(RGB{0.62, 0.60, 0.75}, 0.20*s.glow(x, y, z))
}

// edges draws the edges of the shell, which show the size of the room where its
// near walls are left out.
func (s *painter) edges() {
	l := &Lines{Name: "shell edges"}
	c := plaster.times(0.55)
	h := func(q geometry.Vec2) geometry.Vec {
		return geometry.Vec{X: q.X, Y: q.Y, Z: s.plan.ceiling(q.X, q.Y)}
	}
	for i := range s.plan.corners {
		a, b, _ := s.plan.edge(i)
		l.stroke(geometry.Vec{X: a.X, Y: a.Y}, h(a), c)
		if a == b {
			continue
		}
		top := s.plan.slopes.Edge(a, b)
		along := b.Sub(a).Mul(1 / a.Dist(b))
		for k := 1; k < len(top); k++ {
			l.stroke(h(a.Add(along.Mul(top[k-1].X))), h(a.Add(along.Mul(top[k].X))), c)
		}
	}
	for _, f := range s.plan.slopes.Folds(s.plan.corners) {
		l.stroke(h(f.A), h(f.B), c)
	}
	s.addLines(l)
}

// slab draws the edge of the floor as seen from outside and, in a plan, the cut
// walls.
func (s *painter) slab(m *Mesh) {
	const thick, cut = 0.10, 0.13 // m
	p := m.pen()
	outer, ok := s.plan.outset(cut)
	for i := range s.plan.corners {
		a, b, _ := s.plan.edge(i)
		v := func(q geometry.Vec2, z float64) geometry.Vec { return geometry.Vec{X: q.X, Y: q.Y, Z: z} }
		p.plain(v(a, -thick), v(b, -thick), v(b, 0), v(a, 0), walnut.times(0.9))
		if s.o.Drawing.plan() && ok {
			j := (i + 1) % len(s.plan.corners)
			p.plain(v(outer[i], 0), v(outer[j], 0), v(b, 0), v(a, 0), plaster.times(0.72))
		}
	}
}

// border draws a band woven into the carpet along the walls, where there is
// room for one.
func (s *painter) border(m *Mesh, bases []base) {
	const out, in, lift = 0.22, 0.255, 0.0015
	const lighter = 1.3 // than the carpet
	if s.coats.floor.of != project.Carpet {
		return
	}
	band := s.coats.floor.times(lighter)
	a, ok := s.plan.inset(out)
	b, ok2 := s.plan.inset(in)
	if !ok || !ok2 {
		return
	}
	p := m.pen().of(Carpet)
	for i := range a {
		j := (i + 1) % len(a)
		n := clampInt(int(math.Hypot(a[j].X-a[i].X, a[j].Y-a[i].Y)/0.3), 1, 40)
		for k := range n {
			at := func(q []geometry.Vec2, t float64) (geometry.Vec, RGB) {
				x, y := q[i].X+(q[j].X-q[i].X)*t, q[i].Y+(q[j].Y-q[i].Y)*t
				return geometry.Vec{X: x, Y: y, Z: lift}, s.pile(band, x, y, 0, bases)
			}
			t0, t1 := float64(k)/float64(n), float64(k+1)/float64(n)
			v0, c0 := at(a, t0)
			v1, c1 := at(a, t1)
			v2, c2 := at(b, t1)
			v3, c3 := at(b, t0)
			p.quad(v0, v1, v2, v3, c0, c1, c2, c3)
		}
	}
}

// riser returns the colours of an upright face of a platform, at its top and at its foot.
func (s *painter) riser() (face, foot RGB) {
	face = s.coats.riser.RGB
	if s.o.Bare {
		return face, face
	}
	return face, face.times(0.45)
}

// platform draws a platform or a step: its carpet, its nose with a lit edge, its back,
// and the sides that stand free.
func (s *painter) platform(m, lights *Mesh, box geometry.Box, bases []base) {
	const hair = 1e-6 // m, so that a face on a wall still finds the room
	lo, hi := box.Center.Sub(box.Half), box.Center.Add(box.Half)
	s.carpet(m, geometry.Vec2{X: lo.X, Y: lo.Y}, geometry.Vec2{X: hi.X, Y: hi.Y}, hi.Z, bases)
	p, l := m.pen().of(s.coats.riser.made()), lights.pen()
	z := hi.Z
	front, foot := s.riser()
	// Along the walls, for who looks in from outside.
	for i := range s.plan.corners {
		a, b, _ := s.plan.edge(i)
		if a, b, ok := between(a, b, lo, hi); ok {
			p.plain(geometry.Vec{X: a.X, Y: a.Y}, geometry.Vec{X: b.X, Y: b.Y}, geometry.Vec{X: b.X, Y: b.Y, Z: z},
				geometry.Vec{X: a.X, Y: a.Y, Z: z}, front)
		}
	}
	const edge, glowTop = 0.022, 0.034
	for _, face := range [2]float64{-1, 1} {
		x := lo.X
		if face > 0 {
			x = hi.X
		}
		for _, y := range s.plan.corners.Spans(x - face*hair) {
			if y[0], y[1] = max(y[0], lo.Y), min(y[1], hi.Y); y[0] >= y[1] {
				continue
			}
			quad := func(q pen, x, z0, z1 float64, c0, c1 RGB) {
				a, b := geometry.Vec{X: x, Y: y[0], Z: z0}, geometry.Vec{X: x, Y: y[1], Z: z0}
				c, d := geometry.Vec{X: x, Y: y[1], Z: z1}, geometry.Vec{X: x, Y: y[0], Z: z1}
				if face > 0 {
					q.quad(a, b, c, d, c0, c0, c1, c1)
				} else {
					q.quad(b, a, d, c, c0, c0, c1, c1)
				}
			}
			if face > 0 || z < 3*glowTop {
				quad(p, x, 0, z, foot, foot)
				continue
			}
			if s.o.Bare {
				quad(p, x, 0, z, front, front)
				nosing(p.of(Metal), x, y, z)
				continue
			}
			quad(p, x, 0, z*0.55, foot, front)
			quad(p, x, z*0.55, z-glowTop, front, front.plus(lamp, 0.38))
			quad(p, x, z-glowTop, z, bronze.times(0.85), bronze)
			quad(l, x-0.002, z-glowTop, z-edge, lamp.times(0.92), lamp)
			// A nosing of bronze on the tread.
			m.pen().plain(geometry.Vec{X: x, Y: y[0], Z: z + 0.0015}, geometry.Vec{X: x + 0.03, Y: y[0], Z: z + 0.0015},
				geometry.Vec{X: x + 0.03, Y: y[1], Z: z + 0.0015}, geometry.Vec{X: x, Y: y[1], Z: z + 0.0015}, bronze.times(0.8))
		}
	}
	// The sides that do not stand against a wall.
	for _, side := range [2]float64{-1, 1} {
		y := lo.Y
		if side > 0 {
			y = hi.Y
		}
		if !s.plan.holds((lo.X+hi.X)/2, y+side*0.001) { // a millimetre beyond it
			continue
		}
		a, b := geometry.Vec{X: lo.X, Y: y}, geometry.Vec{X: hi.X, Y: y}
		c, d := geometry.Vec{X: hi.X, Y: y, Z: z}, geometry.Vec{X: lo.X, Y: y, Z: z}
		if side > 0 {
			a, b, c, d = b, a, d, c
		}
		p.quad(a, b, c, d, foot, foot, front, front)
	}
}

// outset returns the outline moved outwards by d, mitred; ok is false when a
// corner is too sharp for it.
func (p plan) outset(d float64) (out []geometry.Vec2, ok bool) {
	n := len(p.corners)
	for i := range n {
		a, _, nb := p.edge(i)
		_, _, na := p.edge((i + n - 1) % n)
		k := 1 + na.X*nb.X + na.Y*nb.Y
		if k < 0.2 {
			return nil, false
		}
		out = append(out, geometry.Vec2{X: a.X - d*(na.X+nb.X)/k, Y: a.Y - d*(na.Y+nb.Y)/k})
	}
	return out, true
}

// between returns what of the edge from a to b is over the rectangle from lo to hi.
func between(a, b geometry.Vec2, lo, hi geometry.Vec) (c, d geometry.Vec2, ok bool) {
	const touch = 1e-9 // m: an edge along a side of it counts
	in, ok := geometry.Segment2{A: a, B: b}.Clip(geometry.Vec2{X: lo.X - touch, Y: lo.Y - touch}, geometry.Vec2{X: hi.X + touch, Y: hi.Y + touch})
	return in.A, in.B, ok && in.A != in.B
}

// inset returns the outline moved inwards by d, mitred; ok is false when that
// does not fit.
func (p plan) inset(d float64) (out []geometry.Vec2, ok bool) {
	n := len(p.corners)
	for i := range n {
		a, b, nb := p.edge(i)
		_, _, na := p.edge((i + n - 1) % n)
		k := 1 + na.X*nb.X + na.Y*nb.Y
		if k < 0.2 || math.Hypot(b.X-a.X, b.Y-a.Y) < 4*d {
			return nil, false
		}
		q := geometry.Vec2{X: a.X + d*(na.X+nb.X)/k, Y: a.Y + d*(na.Y+nb.Y)/k}
		if !p.holds(q.X, q.Y) || p.wall(q.X, q.Y) < d*0.99 {
			return nil, false
		}
		out = append(out, q)
	}
	return out, true
}
