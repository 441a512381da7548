// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
)

// Our own taste: how far panels stand before their wall, and how large one is.
const (
	panelDeep  = 0.045 // m
	boardDeep  = 0.018 // m, of what hardly absorbs
	panelMost  = 1.25  // m, the largest panel without a joint
	panelJoint = 0.006 // m, half the shadow gap between panels
	wellWide   = 0.065 // m, of a diffuser
	wellDeep   = 0.110 // m
)

// carrier is a wall or the ceiling with the coordinates of what hangs on it: u
// along it, v up it (x and y under the ceiling), d off it into the room.
type carrier struct {
	at       func(u, v, d float64) geometry.Vec
	long     [2]float64 // the range of u
	top      func(u float64) float64
	flip     bool // u, v and d are left-handed
	overhead bool
	high     float64 // of the ceiling, its highest
	bare     bool    // as Options.Bare
	// fronts is whether blocks have no sides: unlike fronts they do not vanish when seen
	// from outside, and of a whole wall of panels a cage would be left.
	fronts bool
	joined sides // of a block: where it goes on in another
}

// sides says something of the sides of a block: its foot, its right side, its top, its
// left side.
type sides [4]bool

// joined returns on which sides piece k of a panel meets another: there its front goes on
// without a bevel.
func joined(all []panel.Rect, k int) (s sides) {
	const touch = 1e-6 // m
	p := all[k]
	for i, q := range all {
		if i == k {
			continue
		}
		beside := min(p.High, q.High)-max(p.Low, q.Low) > touch
		over := min(p.To, q.To)-max(p.From, q.From) > touch
		s[0] = s[0] || over && math.Abs(p.Low-q.High) < touch
		s[1] = s[1] || beside && math.Abs(p.To-q.From) < touch
		s[2] = s[2] || over && math.Abs(p.High-q.Low) < touch
		s[3] = s[3] || beside && math.Abs(p.From-q.To) < touch
	}
	return s
}

// carrier returns wall (counted from 1) or, for 0, the ceiling; false when there
// is none.
func (s *painter) carrier(wall int) (carrier, bool) {
	if wall == 0 {
		return carrier{
			at: func(u, v, d float64) geometry.Vec {
				return geometry.Vec{X: u, Y: v, Z: s.plan.ceiling(u, v) - d}
			},
			long: [2]float64{s.plan.lo.X, s.plan.hi.X}, top: func(float64) float64 { return s.plan.hi.Y },
			flip: true, overhead: true, high: s.plan.highest(), bare: s.o.Bare,
		}, len(s.plan.corners) > 2
	}
	poly := s.d.Room.Polygon() // as the document has it, which the plan may turn round
	if wall < 1 || wall > len(poly) {
		return carrier{}, false
	}
	a, b := poly.Edge(wall - 1)
	in := poly.InwardNormal(wall - 1)
	l := a.Dist(b)
	if !(l > 0) || in == (geometry.Vec2{}) {
		return carrier{}, false
	}
	along := b.Sub(a).Mul(1 / l)
	return carrier{
		at: func(u, v, d float64) geometry.Vec {
			return geometry.Vec{X: a.X + along.X*u + in.X*d, Y: a.Y + along.Y*u + in.Y*d, Z: v}
		},
		long: [2]float64{0, l},
		top: func(u float64) float64 {
			return s.plan.ceiling(a.X+along.X*u, a.Y+along.Y*u)
		},
		flip: along.Y*in.X-along.X*in.Y < 0, bare: s.o.Bare,
	}, true
}

// treatments draws the panels on walls and ceiling: fabric if the material absorbs,
// wells of wood if it scatters, a board if it does neither. Like the walls they
// vanish when seen from outside.
func (s *painter) treatments() {
	on := make(map[int]*Mesh) // by wall
	var all []*Mesh
	mesh := func(wall int, c carrier) *Mesh {
		if !s.o.Client {
			wall = 0 // all of them in one
		}
		m := on[wall]
		if m == nil {
			m = &Mesh{Name: "treatments", OneSided: true}
			if s.o.Client {
				m.Facing = c.facing()
			}
			all, on[wall] = append(all, m), m
		}
		return m
	}
	materials := map[string]project.Material{}
	for _, k := range s.d.Room.Materials {
		materials[k.ID] = k
	}
	for _, t := range s.d.Room.Treatments {
		c, ok := s.carrier(t.Wall)
		if !ok {
			continue
		}
		u0, u1 := max(float64(t.From), c.long[0]), min(float64(t.To), c.long[1])
		v0, v1 := max(float64(t.Low), 0), min(float64(t.High), max(c.top(u0), c.top(u1)))
		if c.overhead {
			v0 = max(v0, s.plan.lo.Y)
		}
		if !(u1 > u0) || !(v1 > v0) {
			continue
		}
		p := mesh(t.Wall, c).pen()
		k := materials[t.Material]
		draw := func(u0, u1, v0, v1 float64) {
			switch middle := k.Absorption; {
			case k.Scatters:
				hung := s.hung(t.Wall, walnut, project.Timber)
				c.wells(p.of(hung.made()), u0, u1, v0, v1, wellDeep, hung.RGB)
			case len(middle) == project.OctaveCount && middle[4] < 0.3: // at 1 kHz
				hung := s.hung(t.Wall, plaster.times(0.92), project.Paint)
				c.panels(p.of(hung.made()), u0, u1, v0, v1, boardDeep, hung.RGB)
			default:
				hung := s.hung(t.Wall, fabric, project.Cloth)
				c.panels(p.of(hung.made()), u0, u1, v0, v1, panelDeep, hung.RGB)
			}
		}
		us, vs := []float64{u0, u1}, []float64{v0, v1}
		if c.overhead {
			us, vs = s.plan.folded(us, vs)
		}
		for i := 1; i < len(us); i++ {
			for j := 1; j < len(vs); j++ {
				draw(us[i-1], us[i], vs[j-1], vs[j])
			}
		}
	}
	lights := &Mesh{Name: "panel lights", Unlit: true, OneSided: true}
	for _, r := range s.runs {
		c, ok := s.carrier(r.Wall)
		if !ok || r.Index >= len(s.d.Panels) {
			continue
		}
		c.fronts = !s.o.Client
		of, p := &s.d.Panels[r.Index], mesh(r.Wall, c).pen()
		face, wood := s.hung(r.Wall, fabric, project.Cloth), s.hung(r.Wall, walnut, project.Timber)
		for _, one := range r.Modules {
			material := of.Material(one.Kind)
			if material == "" {
				continue
			}
			for k, q := range one.Pieces {
				c.joined = joined(one.Pieces, k)
				us, vs := []float64{q.From, q.To}, []float64{q.Low, q.High}
				if c.overhead {
					us, vs = s.plan.folded(us, vs)
				}
				for i := 1; i < len(us); i++ {
					for j := 1; j < len(vs); j++ {
						c.panelOf(p, us[i-1], us[i], vs[j-1], vs[j], float64(of.Depth), materials[material].Scatters, face, wood)
					}
				}
			}
		}
		if c.bare {
			c.joints(p, r) // no lamps of the model: it is a lens that is lit
			continue
		}
		c.joints(lights.pen(), r)
	}
	for _, m := range all {
		s.add(m)
	}
	s.add(lights)
}

// facing returns the plane of the wall, or of the ceiling where it is highest, as of a
// Mesh.
func (c carrier) facing() [4]float32 {
	at, before := c.at(c.long[0], 0, 0), c.at(c.long[0], 0, 1)
	if c.overhead {
		at.Z, before.Z = c.high, c.high-1
	}
	return facing(at, before.Sub(at))
}

// facing returns the plane through at with that unit normal, as of a Mesh.
func facing(at, normal geometry.Vec) [4]float32 {
	n := World(normal)
	return [4]float32{n[0], n[1], n[2], n.Dot(World(at))}
}

// hanging returns m as a mesh for what hangs under the ceiling: in a client's view it vanishes
// with it.
func (s *painter) hanging(m *Mesh) *Mesh {
	if s.o.Client && len(s.plan.corners) > 2 {
		m.Facing = facing(geometry.Vec{Z: s.plan.highest()}, geometry.Vec{Z: -1})
	}
	return m
}

// panelOf draws one piece of a panel that stands so deep: wood if it scatters.
func (c carrier) panelOf(p pen, u0, u1, v0, v1, deep float64, scatters bool, face, wood coat) {
	if scatters {
		p = p.of(wood.made())
		c.block(p, u0, u1, v0, v1, deep*0.15, wood.times(0.7)) // the bottom of the wells
		c.wells(p, u0, u1, v0, v1, deep, wood.RGB)
		return
	}
	c.block(p.of(face.made()), u0, u1, v0, v1, deep, face.RGB)
}

// joints draws the light in joints: a strip of it on the wall.
func (c carrier) joints(p pen, r panel.Run) {
	const off = 0.004 // m: before the wall, so that they do not share a depth
	glow := lamp.times(0.9)
	for _, j := range r.Joints {
		if !j.Lit {
			continue
		}
		for _, q := range j.Pieces {
			c.quad(p, [4]geometry.Vec{c.at(q.From, q.Low, off), c.at(q.To, q.Low, off), c.at(q.To, q.High, off), c.at(q.From, q.High, off)}, [4]RGB{glow, glow, glow, glow})
		}
	}
}

// folded returns what is under the ceiling from the first to the last x and y, cut
// at the ridges along and across the room, so that nothing flat lies across one.
func (f plan) folded(x, y []float64) (xs, ys []float64) {
	const askew = 1e-6 // m
	for _, l := range f.slopes.Folds(f.corners) {
		if math.Abs(l.A.X-l.B.X) < askew && l.A.X > x[0]+askew && l.A.X < x[1]-askew {
			xs = append(xs, l.A.X)
		}
		if math.Abs(l.A.Y-l.B.Y) < askew && l.A.Y > y[0]+askew && l.A.Y < y[1]-askew {
			ys = append(ys, l.A.Y)
		}
	}
	cuts := func(ends, more []float64) []float64 {
		all := append(slices.Clone(ends), more...)
		slices.Sort(all)
		return slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(a-b) < askew })
	}
	return cuts(x, xs), cuts(y, ys)
}

// quad adds a quadrilateral, counter-clockwise seen from the room when u runs to
// the right and v up.
func (c carrier) quad(p pen, q [4]geometry.Vec, col [4]RGB) {
	if c.flip {
		p.quad(q[3], q[2], q[1], q[0], col[3], col[2], col[1], col[0])
		return
	}
	p.quad(q[0], q[1], q[2], q[3], col[0], col[1], col[2], col[3])
}

// light returns how much lamplight falls on (u, v), 0 to 1: most near the ceiling's
// edge on a wall.
func (c carrier) light(u, v float64) float64 {
	if c.overhead {
		return 0.5
	}
	return step(0, max(c.top(u), 0.1), v)
}

// block draws what stands deep before the carrier over u0..u1, v0..v1: its front
// with bevelled edges, and its sides.
func (c carrier) block(p pen, u0, u1, v0, v1, deep float64, face RGB) {
	const bevel = 0.012 // m
	e := min(bevel, (u1-u0)/3, (v1-v0)/3, deep*0.8)
	// The ceiling cuts it off, also where it slopes.
	under := func(u, v float64) float64 {
		if c.overhead {
			return v
		}
		return min(v, max(c.top(u)-0.004, 0))
	}
	if under(u0, v1) <= v0 && under(u1, v1) <= v0 {
		return
	}
	shade := func(u, v float64, f float64) RGB {
		if c.bare {
			return face
		}
		t := c.light(u, v)
		return face.times(f*(0.80+0.26*t)).plus(lamp, 0.10*t*t)
	}
	type ring [4]geometry.Vec
	at := func(in, d float64) (r ring, uv [4][2]float64) {
		by := [4]float64{in, in, in, in}
		for i, on := range c.joined {
			if on {
				by[i] = 0
			}
		}
		l, r0 := u0+by[3], u1-by[1]
		uv = [4][2]float64{{l, under(u0, v0+by[0])}, {r0, under(u1, v0+by[0])}, {r0, max(under(u1, v1)-by[2], under(u1, v0+by[0]))}, {l, max(under(u0, v1)-by[2], under(u0, v0+by[0]))}}
		for i, q := range uv {
			r[i] = c.at(q[0], q[1], d)
		}
		return r, uv
	}
	back, _ := at(0, 0)
	rim, edge := at(0, deep-e*0.6)
	front, flat := at(e, deep)
	var col [4]RGB
	for i, q := range flat {
		col[i] = shade(q[0], q[1], 1)
	}
	if c.bare && c.flip {
		p.sheet(front[3], front[2], front[1], front[0], sheetCell, face)
	} else if c.bare {
		p.sheet(front[0], front[1], front[2], front[3], sheetCell, face)
	} else {
		c.quad(p, front, col)
	}
	// Sides and bevels: the foot is darkest, the top catches the lamps.
	for i, f := range [4]float64{0.62, 0.80, 1.12, 0.80} {
		j := (i + 1) % 4
		a, b := shade(edge[i][0], edge[i][1], f), shade(edge[j][0], edge[j][1], f)
		c.quad(p, [4]geometry.Vec{rim[i], rim[j], front[j], front[i]}, [4]RGB{a, b, b, a})
		if c.fronts {
			continue
		}
		c.quad(p, [4]geometry.Vec{back[i], back[j], rim[j], rim[i]}, [4]RGB{a.times(0.6), b.times(0.6), b.times(0.85), a.times(0.85)})
	}
}

// panels draws a field of panels with shadow gaps between them.
func (c carrier) panels(p pen, u0, u1, v0, v1, deep float64, face RGB) {
	nu := clampInt(int(math.Ceil((u1-u0)/panelMost-1e-9)), 1, 40)
	nv := clampInt(int(math.Ceil((v1-v0)/panelMost-1e-9)), 1, 20)
	joint := min(panelJoint, (u1-u0)/8, (v1-v0)/8)
	cut := func(a, b float64, i, n int) (lo, hi float64) {
		lo, hi = a+(b-a)*float64(i)/float64(n), a+(b-a)*float64(i+1)/float64(n)
		if i > 0 {
			lo += joint
		}
		if i < n-1 {
			hi -= joint
		}
		return lo, hi
	}
	for i := range nu {
		a, b := cut(u0, u1, i, nu)
		for j := range nv {
			lo, hi := cut(v0, v1, j, nv)
			c.block(p, a, b, lo, hi, deep, face)
		}
	}
}

// wells draws a diffuser: strips of wood whose depths follow the squares modulo 7,
// as in Schroeder (1975, "Diffuse sound reflection by maximum-length sequences", and
// 1979 for quadratic residues); here it is only an appearance.
func (c carrier) wells(p pen, u0, u1, v0, v1, most float64, wood RGB) {
	n := clampInt(int(math.Round((u1-u0)/wellWide)), 3, 70)
	w := (u1 - u0) / float64(n)
	gap := 0.04 * w
	lighter := 1.15
	if c.bare {
		lighter = 0.95
	}
	for i := range n {
		deep := most * (0.18 + 0.82*float64(i*i%7)/4)
		a := u0 + float64(i)*w
		c.block(p, a+gap, a+w-gap, v0, v1, deep, wood.times(lighter+0.05*float64(i%3)))
	}
}
