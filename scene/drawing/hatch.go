// SPDX-License-Identifier: MIT

package drawing

import (
	"math"
	"slices"
)

// Hatch returns parallel lines, pitch apart and turned from level by degrees
// anticlockwise, where an odd number of rings cover the plane. They lie on a grid
// through the origin, so that neighbours join.
func Hatch(pitch, degrees float64, rings ...[]Point) [][]Point {
	s, c := math.Sincos(degrees * math.Pi / 180)
	// u runs along the lines, v across them.
	level := func(p Point) Point { return Pt(c*p.X-s*p.Y, s*p.X+c*p.Y) }
	back := func(u, v float64) Point { return Pt(c*u+s*v, c*v-s*u) }
	var edges [][2]Point
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, ring := range rings {
		for i, p := range ring {
			a, b := level(p), level(ring[(i+1)%len(ring)])
			edges = append(edges, [2]Point{a, b})
			lo, hi = min(lo, a.Y), max(hi, a.Y)
		}
	}
	const most = 10_000 // lines; a pitch that asks for more is none
	if !(pitch > 0 && (hi-lo)/pitch < most) {
		return nil
	}
	var out [][]Point
	var at []float64
	for n := math.Ceil(lo / pitch); n*pitch <= hi; n++ {
		v := n * pitch
		at = at[:0]
		for _, e := range edges {
			if a, b := e[0], e[1]; (a.Y > v) != (b.Y > v) {
				at = append(at, a.X+(v-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
		slices.Sort(at)
		for i := 1; i < len(at); i += 2 {
			if at[i] > at[i-1] {
				out = append(out, []Point{back(at[i-1], v), back(at[i], v)})
			}
		}
	}
	return out
}
