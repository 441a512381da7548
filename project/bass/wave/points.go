// SPDX-License-Identifier: MIT

package wave

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// tap is one grid point's part in a place between points.
type tap struct {
	at, class int
	k         int // layer
	weight    float64
	share     float64 // V + G
}

// taps returns the points and weights by which pressure is read, or a source
// fed in, at a place: cubic along each axis over 64 points, mirrored where a
// surface cuts them off squarely; trilinear over 8 where the walls around are not
// so plain. A place up to a cell's width within a solid is taken to the nearest
// air.
func (g *grid) taps(what string, p geometry.Vec) ([]tap, error) {
	q := p.Sub(g.lo)
	at := [3]float64{q.X / g.h[0], q.Y / g.h[1], q.Z / g.h[2]}
	cell, ok := g.nearestAir(at)
	if !ok {
		return nil, &project.Fault{Field: what, Found: fmt.Sprintf("at (%.3f, %.3f, %.3f) m", p.X, p.Y, p.Z),
			Allowed: "in the air of the room"}
	}
	var index [3][]int
	var weight [3][]float64
	low, high, plain := g.around(cell)
	for a := range 3 {
		t := min(1, max(0, at[a]-float64(cell[a])))
		if !plain {
			index[a], weight[a] = []int{cell[a], cell[a] + 1}, []float64{1 - t, t}
			continue
		}
		// Lagrange through -1, 0, 1, 2.
		weight[a] = []float64{
			-t * (t - 1) * (t - 2) / 6, (t + 1) * (t - 1) * (t - 2) / 2,
			-(t + 1) * t * (t - 2) / 2, (t + 1) * t * (t - 1) / 6,
		}
		index[a] = []int{cell[a] - 1, cell[a], cell[a] + 1, cell[a] + 2}
		if !low[a] {
			index[a][0] = cell[a] + 1
		}
		if !high[a] {
			index[a][3] = cell[a]
		}
	}
	sums := map[[3]int]float64{}
	for x, i := range index[0] {
		for y, j := range index[1] {
			for z, k := range index[2] {
				sums[[3]int{i, j, k}] += weight[0][x] * weight[1][y] * weight[2][z]
			}
		}
	}
	var all []tap
	for n, w := range sums {
		if w == 0 {
			continue
		}
		t := tap{k: n[2], weight: w, share: g.share(n[0], n[1], n[2])}
		t.at, t.class = g.index(n[0], n[1], n[2])
		all = append(all, t)
	}
	slices.SortFunc(all, func(a, b tap) int { // one order, so one sum
		if a.class != b.class {
			return a.class - b.class
		}
		return a.at - b.at
	})
	return all, nil
}

// nearestAir returns the air cell that holds the place, in cells, or else the
// nearest one beside the cell that does.
func (g *grid) nearestAir(at [3]float64) (cell [3]int, ok bool) {
	var home [3]int
	for a := range 3 {
		const rounding = 1e-6 // cells
		if !(at[a] > -1 && at[a] < float64(g.n[a])+1) {
			return cell, false
		}
		home[a] = min(g.n[a]-1, max(0, int(math.Floor(at[a]+rounding))))
	}
	if g.isAir(home[0], home[1], home[2]) {
		return home, true
	}
	best := math.Inf(1)
	for n := range 27 {
		c := [3]int{home[0] + n%3 - 1, home[1] + n/3%3 - 1, home[2] + n/9 - 1}
		if !g.isAir(c[0], c[1], c[2]) {
			continue
		}
		d := 0.0
		for a := range 3 {
			out := max(float64(c[a])-at[a], at[a]-float64(c[a]+1), 0) * g.h[a]
			d += out * out
		}
		if d < best {
			best, cell, ok = d, c, true
		}
	}
	return cell, ok
}

// around reports whether there is air before and after a cell along each axis,
// and whether the 27 cells around it are plain: air exactly where all three axes
// have it, so that surfaces cut them squarely.
func (g *grid) around(c [3]int) (low, high [3]bool, plain bool) {
	for a := range 3 {
		n := c
		n[a]--
		low[a] = g.isAir(n[0], n[1], n[2])
		n[a] += 2
		high[a] = g.isAir(n[0], n[1], n[2])
	}
	for n := range 27 {
		d := [3]int{n%3 - 1, n/3%3 - 1, n/9 - 1}
		want := true
		for a := range 3 {
			want = want && (d[a] == 0 || d[a] < 0 && low[a] || d[a] > 0 && high[a])
		}
		if g.isAir(c[0]+d[0], c[1]+d[1], c[2]+d[2]) != want {
			return low, high, false
		}
	}
	return low, high, true
}
