// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// pad is an upholstered cushion: flat behind, its face towards W.
type pad struct {
	half   geometry.Vec // half-sizes, metres
	corner float64      // radius of its corners, seen from before the face
	round  float64      // radius of the edge of its face
	crown  float64      // by how much the middle of the face stands before its edge
	welt   bool         // a piping runs round the edge
	c, rim RGB
}

// pad draws c about p's origin, within its half-sizes.
func (p pen) pad(c pad, fine bool) {
	steps, turns := 2, 2 // of an edge, of a corner
	if fine {
		steps, turns = 3, 3
	}
	const proud = 0.004 // m, of the piping
	h := c.half
	if !(min(h.X, h.Y, h.Z) > proud) {
		return
	}
	n := 4 * turns
	welt := fine && c.welt
	inside := 0.0 // how far the sides are behind the piping
	if welt {
		inside = proud
	}
	round := min(c.round, 2*h.Z-c.crown, 0.6*min(h.X, h.Y))
	var points []geometry.Vec
	var colours []RGB
	outline := func(in, z float64, col RGB) {
		x, y := h.X-in, h.Y-in
		r := min(max(c.corner-in, 0.3*c.corner), x, y)
		for q, sign := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
			for k := range turns {
				sin, cos := math.Sincos(math.Pi / 2 * (float64(q) + float64(k)/float64(turns-1)))
				points = append(points, geometry.Vec{X: sign[0]*(x-r) + r*cos, Y: sign[1]*(y-r) + r*sin, Z: z})
			}
		}
		colours = append(colours, col)
	}
	edge := h.Z - c.crown - round
	outline(inside, -h.Z, c.c)
	outline(inside, edge, c.c)
	if welt {
		outline(0, edge+0.004, c.rim)
		outline(inside, edge+0.008, c.c)
	}
	for k := 1; k <= steps; k++ {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / float64(steps))
		if z := edge + round*sin; !welt || z > edge+0.008 {
			outline(inside+round*(1-cos), z, c.c)
		}
	}
	if fine {
		in := inside + round
		outline(in+min(0.045, 0.45*(min(h.X, h.Y)-in)), h.Z-0.15*c.crown, c.c)
	}
	first := p.wrap(points, n, func(i, _ int) RGB { return colours[i] })
	last := first + uint32(len(points)-n)
	// Within its last outline the face is flat, for the light on it.
	flat := World(p.b.W)
	for i := last; i < last+uint32(n); i++ {
		copy(p.m.Nor[3*i:], flat[:])
	}
	// It is filled towards two points, so that light does not fan out from its middle.
	var apart geometry.Vec
	if fine {
		apart = geometry.Vec{X: max(h.X-h.Y, 0) * 0.8, Y: max(h.Y-h.X, 0) * 0.8}
	}
	var middle [2]uint32
	for i, sign := range [2]float64{1, -1} {
		at := apart.Mul(sign)
		middle[i] = p.vertex(geometry.Vec{X: at.X, Y: at.Y, Z: h.Z}, geometry.Vec{Z: 1}, c.c)
	}
	near := func(j int) uint32 {
		if points[len(points)-n+j].Dot(apart) < 0 {
			return middle[1]
		}
		return middle[0]
	}
	back := p.vertex(geometry.Vec{Z: -h.Z}, geometry.Vec{Z: -1}, c.c)
	for j := range n {
		k := (j + 1) % n
		a, b := last+uint32(j), last+uint32(k)
		p.tri(a, b, near(j))
		if near(j) != near(k) {
			p.tri(b, near(k), near(j))
		}
		p.tri(first+uint32(k), first+uint32(j), back)
	}
}
