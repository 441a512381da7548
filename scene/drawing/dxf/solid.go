// SPDX-License-Identifier: MIT

package dxf

import (
	"math"
	"slices"

	"earline/scene/drawing"
)

// trapezia cuts what an odd number of rings cover into quadrilaterals with level
// upper and lower sides: between any two corners next to each other in height,
// every edge is straight. Where edges cross between corners, the cut is as good as the
// ends of the edges say.
func trapezia(rings [][]drawing.Point) [][4]drawing.Point {
	type edge struct{ a, b drawing.Point } // a.Y < b.Y
	var edges []edge
	var heights []float64
	for _, ring := range rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			heights = append(heights, p.Y)
			if p.Y > q.Y {
				p, q = q, p
			}
			if p.Y < q.Y {
				edges = append(edges, edge{p, q})
			}
		}
	}
	slices.Sort(heights)
	heights = slices.Compact(heights)
	at := func(e edge, y float64) float64 {
		switch y { // exactly there, so that neighbours meet
		case e.a.Y:
			return e.a.X
		case e.b.Y:
			return e.b.X
		}
		return e.a.X + (y-e.a.Y)/(e.b.Y-e.a.Y)*(e.b.X-e.a.X)
	}
	var out [][4]drawing.Point
	var across []edge
	for i := 1; i < len(heights); i++ {
		y0, y1 := heights[i-1], heights[i]
		middle := (y0 + y1) / 2
		across = across[:0]
		for _, e := range edges {
			if e.a.Y <= y0 && e.b.Y >= y1 {
				across = append(across, e)
			}
		}
		slices.SortFunc(across, func(a, b edge) int {
			switch d := at(a, middle) - at(b, middle); {
			case d < 0:
				return -1
			case d > 0:
				return 1
			}
			return 0
		})
		for k := 1; k < len(across); k += 2 {
			l, r := across[k-1], across[k]
			q := [4]drawing.Point{{X: at(l, y0), Y: y0}, {X: at(r, y0), Y: y0}, {X: at(r, y1), Y: y1}, {X: at(l, y1), Y: y1}}
			if math.Max(q[1].X-q[0].X, q[2].X-q[3].X) > 0 {
				out = append(out, q)
			}
		}
	}
	return out
}
