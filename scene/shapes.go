// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// skin is how a cushion looks: its faces, the edges between them, and by how
// many radians its faces seem to swell.
type skin struct {
	face, edge RGB
	puff       float64
}

func plainSkin(c RGB) skin { return skin{face: c, edge: c} }

func clamp(x, lo, hi float64) float64 { return min(max(x, lo), hi) }

// cushion draws a box of the given half-sizes about p's origin, its edges
// rounded within the box: 108 triangles.
func (p pen) cushion(half geometry.Vec, round float64, s skin) {
	h := [3]float64{half.X, half.Y, half.Z}
	round = min(round, h[0], h[1], h[2])
	if !(round > 0) {
		return
	}
	for k := range 3 {
		u, v := (k+1)%3, (k+2)%3
		ku := [4]float64{-h[u], round - h[u], h[u] - round, h[u]}
		kv := [4]float64{-h[v], round - h[v], h[v] - round, h[v]}
		for _, sign := range [2]float64{-1, 1} {
			first := p.m.next()
			for i := range 4 {
				for j := range 4 {
					var at, in [3]float64
					at[k], at[u], at[v] = sign*h[k], ku[i], kv[j]
					for a := range 3 {
						in[a] = clamp(at[a], round-h[a], h[a]-round)
					}
					core := geometry.Vec{X: in[0], Y: in[1], Z: in[2]}
					n, _ := geometry.Vec{X: at[0], Y: at[1], Z: at[2]}.Sub(core).Unit()
					pos := core.Add(n.Mul(round))
					c := s.edge
					if i%3 != 0 && j%3 != 0 {
						c = s.face
						if s.puff > 0 {
							var t [3]float64
							t[u], t[v] = s.puff*sgn(i-1), s.puff*sgn(j-1)
							n, _ = n.Add(geometry.Vec{X: t[0], Y: t[1], Z: t[2]}).Unit()
						}
					}
					p.vertex(pos, n, c)
				}
			}
			for i := range uint32(3) {
				for j := range uint32(3) {
					a := first + 4*i + j
					if sign > 0 {
						p.four(a, a+4, a+5, a+1)
					} else {
						p.four(a, a+1, a+5, a+4)
					}
				}
			}
		}
	}
}

// sgn is -1 for 0 or less and +1 above.
func sgn(i int) float64 {
	if i > 0 {
		return 1
	}
	return -1
}

// bevel is cushion with one flat for each edge: 44 triangles.
func (p pen) bevel(half geometry.Vec, cut float64, s skin) {
	p = p.grained(longest(half))
	h := [3]float64{half.X, half.Y, half.Z}
	cut = min(cut, h[0], h[1], h[2])
	first := p.m.next()
	id := func(k, sk, su, sv int) uint32 { return first + uint32(((k*2+sk)*2+su)*2+sv) }
	for k := range 3 {
		u, v := (k+1)%3, (k+2)%3
		for sk := range 2 {
			for su := range 2 {
				for sv := range 2 {
					var at, n [3]float64
					at[k], n[k] = sgn(sk)*h[k], sgn(sk)
					at[u], n[u] = sgn(su)*(h[u]-cut), sgn(su)*s.puff
					at[v], n[v] = sgn(sv)*(h[v]-cut), sgn(sv)*s.puff
					unit, _ := geometry.Vec{X: n[0], Y: n[1], Z: n[2]}.Unit()
					p.vertex(geometry.Vec{X: at[0], Y: at[1], Z: at[2]}, unit, s.face)
				}
			}
			a, b, c, d := id(k, sk, 0, 0), id(k, sk, 1, 0), id(k, sk, 1, 1), id(k, sk, 0, 1)
			if sk == 0 {
				b, d = d, b
			}
			p.four(a, b, c, d)
		}
	}
	for k := range 3 {
		for sa := range 2 {
			for sb := range 2 {
				// Face k meets face k+1 along axis k+2.
				a0, a1 := id(k, sa, sb, 0), id(k, sa, sb, 1)
				b0, b1 := id((k+1)%3, sb, 0, sa), id((k+1)%3, sb, 1, sa)
				if sa == sb {
					p.four(a0, b0, b1, a1)
				} else {
					p.four(a0, a1, b1, b0)
				}
			}
		}
	}
	for corner := range 8 {
		x, y, z := corner&1, corner>>1&1, corner>>2
		a, b, c := id(0, x, y, z), id(1, y, z, x), id(2, z, x, y)
		if (x+y+z)%2 == 0 {
			b, c = c, b
		}
		p.tri(a, b, c)
	}
}

// crate draws a box with hard edges and without its underside: 10 triangles.
func (p pen) crate(half geometry.Vec, c RGB) {
	v := func(x, y, z float64) geometry.Vec { return geometry.Vec{X: x * half.X, Y: y * half.Y, Z: z * half.Z} }
	p.plain(v(-1, -1, 1), v(1, -1, 1), v(1, 1, 1), v(-1, 1, 1), c)
	for _, q := range [4][4]float64{{1, -1, 1, 1}, {1, 1, -1, 1}, {-1, 1, -1, -1}, {-1, -1, 1, -1}} {
		p.plain(v(q[0], q[1], -1), v(q[2], q[3], -1), v(q[2], q[3], 1), v(q[0], q[1], 1), c)
	}
}

// hull draws the skin over rings of n points each, one after the other along
// some path, each ring counter-clockwise for someone who looks back along it.
// Both ends are closed. colour is asked for ring i, point j.
func (p pen) hull(points []geometry.Vec, n int, colour func(i, j int) RGB) {
	rows := len(points) / n
	if n < 3 || rows < 2 {
		return
	}
	first := p.wrap(points, n, colour)
	p.pole(points[:n], points[n:2*n], first, false, colour(0, 0))
	p.pole(points[(rows-1)*n:], points[(rows-2)*n:], first+uint32((rows-1)*n), true, colour(rows-1, 0))
}

// lid is hull without its first end, where something else is.
func (p pen) lid(points []geometry.Vec, n int, colour func(i, j int) RGB) {
	rows := len(points) / n
	if n < 3 || rows < 2 {
		return
	}
	first := p.wrap(points, n, colour)
	p.pole(points[(rows-1)*n:], points[(rows-2)*n:], first+uint32((rows-1)*n), true, colour(rows-1, 0))
}

// wrap is hull without its ends. It returns its first vertex.
func (p pen) wrap(points []geometry.Vec, n int, colour func(i, j int) RGB) uint32 {
	rows := len(points) / n
	first := p.m.next()
	at := func(i, j int) geometry.Vec { return points[clampInt(i, 0, rows-1)*n+(j+n)%n] }
	for i := range rows {
		for j := range n {
			du := at(i, j+1).Sub(at(i, j-1))
			dv := at(i+1, j).Sub(at(i-1, j))
			nor, ok := du.Cross(dv).Unit()
			if !ok {
				nor = geometry.Vec{Z: 1}
			}
			p.vertex(at(i, j), nor, colour(i, j))
		}
	}
	for i := range rows - 1 {
		for j := range n {
			a, b := first+uint32(i*n+j), first+uint32(i*n+(j+1)%n)
			p.four(a, b, b+uint32(n), a+uint32(n))
		}
	}
	return first
}

func clampInt(x, lo, hi int) int { return min(max(x, lo), hi) }

// pole closes the end of a hull over ring, whose first vertex is at.
func (p pen) pole(ring, inner []geometry.Vec, at uint32, last bool, c RGB) {
	n := len(ring)
	middle := middleOf(ring)
	out, ok := middle.Sub(middleOf(inner[:n])).Unit()
	if !ok {
		out = geometry.Vec{Z: 1}
	}
	pole := p.vertex(middle, out, c)
	for j := range n {
		a, b := at+uint32(j), at+uint32((j+1)%n)
		if last {
			p.tri(a, b, pole)
		} else {
			p.tri(b, a, pole)
		}
	}
}

func middleOf(ring []geometry.Vec) geometry.Vec {
	var m geometry.Vec
	for _, v := range ring {
		m = m.Add(v)
	}
	return m.Mul(1 / float64(len(ring)))
}

// ring appends n points of an ellipse with half-axes u and v, counter-clockwise
// about u x v.
func ring(points []geometry.Vec, center, u, v geometry.Vec, n int) []geometry.Vec {
	for j := range n {
		s, c := math.Sincos(2 * math.Pi * float64(j) / float64(n))
		points = append(points, center.Add(u.Mul(c)).Add(v.Mul(s)))
	}
	return points
}

// ball draws an ellipsoid along p's axes with n points round and n/2 rings.
func (p pen) ball(radii geometry.Vec, n int, c RGB) {
	rows := max(n/2, 3)
	points := make([]geometry.Vec, 0, rows*n)
	for i := range rows {
		s, k := math.Sincos(math.Pi * (float64(i) + 0.5) / float64(rows))
		points = ring(points, geometry.Vec{Z: -radii.Z * k},
			geometry.Vec{X: radii.X * s}, geometry.Vec{Y: radii.Y * s}, n)
	}
	p.hull(points, n, func(int, int) RGB { return c })
}

// turning is a point of the outline that a lathe turns about an axis.
type turning struct {
	r, z float64
	c    RGB
	soft bool // the faces that meet here are one smooth surface
}

// lathe turns an outline about p's W, from its outer foot upwards and inwards,
// n points round. Heights are drawn shrunk by squash while the light falls as
// if they were not: so a driver's cone shows on a baffle without a hole.
func (p pen) lathe(outline []turning, n int, squash float64) {
	slope := func(i int) (r, z float64) { // of the normal, from point i to i+1
		dr, dz := outline[i+1].r-outline[i].r, outline[i+1].z-outline[i].z
		l := math.Hypot(dr, dz)
		if l == 0 {
			return 0, 1
		}
		return dz / l, -dr / l
	}
	normal := func(i, segment int) (r, z float64) {
		r, z = slope(segment)
		if o := outline[i]; o.soft && i > 0 && i < len(outline)-1 {
			r0, z0 := slope(i - 1)
			r1, z1 := slope(i)
			if l := math.Hypot(r0+r1, z0+z1); l > 0 {
				return (r0 + r1) / l, (z0 + z1) / l
			}
		}
		return r, z
	}
	for i := range len(outline) - 1 {
		first := p.m.next()
		for _, e := range [2]int{i, i + 1} {
			o := outline[e]
			nr, nz := normal(e, i)
			if o.r == 0 {
				nr, nz = 0, math.Copysign(1, nz)
			}
			for j := range n {
				s, c := math.Sincos(2 * math.Pi * float64(j) / float64(n))
				p.vertex(geometry.Vec{X: o.r * c, Y: o.r * s, Z: o.z * squash},
					geometry.Vec{X: nr * c, Y: nr * s, Z: nz}, o.c)
			}
		}
		for j := range n {
			a, b := first+uint32(j), first+uint32((j+1)%n)
			if outline[i+1].r == 0 {
				p.tri(a, b, a+uint32(n))
			} else {
				p.four(a, b, b+uint32(n), a+uint32(n))
			}
		}
	}
}
