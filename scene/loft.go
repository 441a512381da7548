// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// station is an ellipse on the way of a loft: its middle, its half-axes and its colour.
// The way goes along u x v.
type station struct {
	at, u, v geometry.Vec
	c        RGB
}

// loft draws a closed skin over ellipses, n points round each.
func (p pen) loft(way []station, n int) {
	points := make([]geometry.Vec, 0, len(way)*n)
	for _, s := range way {
		points = ring(points, s.at, s.u, s.v, n)
	}
	p.hull(points, n, func(i, _ int) RGB { return way[i].c })
}

// sprout is loft for what grows out of something: its first end is left open.
func (p pen) sprout(way []station, n int) {
	points := make([]geometry.Vec, 0, len(way)*n)
	for _, s := range way {
		points = ring(points, s.at, s.u, s.v, n)
	}
	p.lid(points, n, func(i, _ int) RGB { return way[i].c })
}

// slim returns s with half-axes k times as long.
func (s station) slim(k float64) station {
	s.u, s.v = s.u.Mul(k), s.v.Mul(k)
	return s
}

// joint is a point on the way of a limb and its radius there.
type joint struct {
	at     geometry.Vec
	radius float64
	c      RGB
}

// limb draws a round tube through the joints, n points round it. side is any direction
// across it.
func (p pen) limb(joints []joint, side geometry.Vec, n int) { p.loft(stations(joints, side), n) }

// stations returns the way of a round tube through the joints, as limb has it.
func stations(joints []joint, side geometry.Vec) []station {
	way := make([]station, 0, len(joints))
	for i, j := range joints {
		before, after := joints[max(i-1, 0)], joints[min(i+1, len(joints)-1)]
		w, ok := after.at.Sub(before.at).Unit()
		if !ok {
			continue
		}
		u, ok := side.Sub(w.Mul(side.Dot(w))).Unit()
		if !ok {
			u, _ = geometry.Vec{X: 1, Y: 1e-3}.Cross(w).Unit()
		}
		way = append(way, station{j.at, u.Mul(j.radius), w.Cross(u).Mul(j.radius), j.c})
	}
	return way
}

// bend returns where a limb of two parts, so long, bends between its ends a and b, on the
// side of towards. An end b that is out of reach gives the point on the way there.
func bend(a, b geometry.Vec, first, second float64, towards geometry.Vec) geometry.Vec {
	way, ok := b.Sub(a).Unit()
	if !ok {
		return a
	}
	l := clamp(a.Dist(b), math.Abs(first-second), first+second)
	along := (l*l + first*first - second*second) / (2 * l)
	off := math.Sqrt(max(first*first-along*along, 0))
	out, _ := towards.Sub(way.Mul(towards.Dot(way))).Unit()
	return a.Add(way.Mul(along)).Add(out.Mul(off))
}
