// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// sampleImage draws the picture on the screen: an evening over a lake, invented for
// this program. It fills the rectangle of half-width w and half-height h about
// p's origin, seen from p's W. Each column has a few bands with hard edges - lake,
// shore, hills, sky - which keeps it sharp with few triangles.
func sampleImage(p pen, w, h float64) {
	aspect := w / h
	n := clampInt(int(aspect*48), 32, 128)
	p.m.grow(n*80, n*40)
	// u runs from 0 to aspect, v from 0 at the foot to 1.
	const shore = 0.300
	moonU, moonV := aspect*0.70, 0.745
	hills := func(u float64) [3]float64 {
		wave := func(f, phase float64) float64 { return math.Sin(u*f + phase) }
		far := 0.455 + 0.050*wave(2.1, 0.6) + 0.022*wave(5.3, 2.0) + 0.008*wave(13, 1.1)
		mid := 0.395 + 0.045*wave(2.9, 3.4) + 0.018*wave(7.7, 0.4) + 0.006*wave(19, 2.2)
		near := 0.318 + 0.030*wave(1.7, 5.0) + 0.016*wave(6.1, 1.7) + 0.005*math.Abs(wave(41, 0.3))
		near += 0.10 * math.Exp(-4*u*u) // a headland at the left
		return [3]float64{max(far, shore), max(mid, shore), max(near, shore)}
	}
	sky := func(u, v float64) RGB {
		t := clamp((v-0.38)/0.62, 0, 1)
		c := RGB{0.955, 0.640, 0.420}.mix(RGB{0.800, 0.420, 0.420}, step(0, 0.28, t))
		c = c.mix(RGB{0.385, 0.285, 0.455}, step(0.15, 0.55, t)).mix(RGB{0.105, 0.125, 0.270}, step(0.42, 1, t))
		sun := math.Exp(-3.5 * (u - aspect*0.30) * (u - aspect*0.30))
		c = c.plus(RGB{0.30, 0.16, 0.02}, sun*(1-step(0, 0.4, t)))
		d2 := (u-moonU)*(u-moonU) + (v-moonV)*(v-moonV)
		return c.plus(RGB{0.55, 0.52, 0.50}, 0.55*math.Exp(-d2/0.012)+0.16*math.Exp(-d2/0.09))
	}
	lake := func(u, v float64) RGB {
		depth := (shore - v) / shore
		c := sky(u, 0.40+0.55*depth).times(0.62 - 0.20*depth)
		ripple := math.Sin(90*depth*depth+7*u) * math.Sin(37*v+23*u+1.3)
		c = c.times(1 + 0.05*ripple)
		road := (u - moonU) / (0.035 + 0.10*depth)
		return c.plus(RGB{0.62, 0.56, 0.50}, math.Exp(-road*road)*(0.30+0.25*ripple)*(0.3+0.7*depth))
	}
	place := func(u, v float64) geometry.Vec {
		return geometry.Vec{X: (2*u/aspect - 1) * w, Y: (2*v - 1) * h}
	}
	// band fills a column between two heights at each side.
	type edge struct {
		v float64
		c RGB
	}
	band := func(u0, u1 float64, foot0, foot1, top0, top1 edge) {
		if top0.v <= foot0.v && top1.v <= foot1.v {
			return
		}
		n := geometry.Vec{Z: 1}
		p.four(p.vertex(place(u0, foot0.v), n, foot0.c), p.vertex(place(u1, foot1.v), n, foot1.c),
			p.vertex(place(u1, top1.v), n, top1.c), p.vertex(place(u0, top0.v), n, top0.c))
	}
	const lakeRows, skyRows = 9, 9
	type column struct {
		u    float64
		lake [lakeRows + 1]edge
		sky  [skyRows + 1]edge
		hill [3][2]edge
	}
	fill := func(u float64) (c column) {
		c.u = u
		for k := range c.lake {
			v := shore * (1 - math.Pow(1-float64(k)/lakeRows, 1.4))
			c.lake[k] = edge{v, lake(u, v)}
		}
		tops := hills(u)
		far := max(tops[0], tops[1], tops[2])
		for k := range c.sky {
			v := far + (1-far)*float64(k)/skyRows
			c.sky[k] = edge{v, sky(u, v)}
		}
		haze := sky(u, 0.40)
		foot := shore
		for k := range 3 { // near first: farther hills show only above them
			top := max(tops[2-k], foot)
			body := [3]RGB{{0.062, 0.072, 0.110}, {0.175, 0.160, 0.235}, {0.365, 0.275, 0.340}}[k]
			air := [3]float64{0.03, 0.10, 0.22}[k]
			c.hill[k] = [2]edge{{foot, body.mix(haze, air+0.14)}, {top, body.mix(haze, air)}}
			foot = top
		}
		return c
	}
	last := fill(0)
	for i := range n {
		next := fill(aspect * float64(i+1) / float64(n))
		for k := range lakeRows {
			band(last.u, next.u, last.lake[k], next.lake[k], last.lake[k+1], next.lake[k+1])
		}
		for k := range 3 {
			band(last.u, next.u, last.hill[k][0], next.hill[k][0], last.hill[k][1], next.hill[k][1])
		}
		for k := range skyRows {
			band(last.u, next.u, last.sky[k], next.sky[k], last.sky[k+1], next.sky[k+1])
		}
		last = next
	}
	disc(p, place(moonU, moonV), 0.058*h, 0.001)
}

// disc draws the moon, a little before the picture.
func disc(p pen, at geometry.Vec, radius, lift float64) {
	const n = 28
	at.Z = lift
	up := geometry.Vec{Z: 1}
	middle := p.vertex(at, up, RGB{1, 0.975, 0.90})
	first := p.m.next()
	for j := range n {
		s, c := math.Sincos(2 * math.Pi * float64(j) / n)
		p.vertex(at.Add(geometry.Vec{X: radius * c, Y: radius * s}), up, RGB{0.97, 0.90, 0.80}.times(1-0.05*(1-c)))
	}
	for j := range uint32(n) {
		p.tri(middle, first+j, first+(j+1)%n)
	}
}
