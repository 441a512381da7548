// SPDX-License-Identifier: MIT

package wave

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
)

// mostPoints is the largest grid, points: 400 MB of tables, half as much again of
// pressures for each source that is computed at a time.
const mostPoints = 50_000_000

// grid is the room cut into cells and the plan of one time step.
//
// A point (i, j, k) lies in class (i+j+k)&1, at index (i+j+k)/2 + j sy + k sz of
// the array of its class. Rows of a class are contiguous, and the six neighbours
// of a point, all of the other class, lie at the same six distances for all
// points of a class.
type grid struct {
	lo         geometry.Vec // of the first point
	n          [3]int       // cells along x, y, z
	h          [3]float64   // m
	dt         float64      // s
	courant    [3]float64   // c dt/h
	fill       []float32    // by cell: how much air it holds, full cells
	loss       []float32    // by point: G of the surfaces around it
	base       int          // index of the point (0, 0, 0)
	sy, sz     int
	size       int
	runs       [2][]run // by class
	sets       [][7]float32
	cx, cy, cz float32 // squares of the Courant numbers
	points     int     // in the air or on its rim
}

// run is a row of points with the same weights: those of the interior, set 0, or
// set.
type run struct {
	at, n, set int32
	k          int32 // layer, for sharing out
}

// newGrid cuts the room into cells no larger than spacing, in metres.
func newGrid(r Room, spacing float64) (*grid, error) {
	lo, hi := r.Footprint.Bounds()
	_, top := r.Ceiling.Range(r.Footprint)
	g := &grid{lo: geometry.V(lo.X, lo.Y, 0)}
	extent := [3]float64{hi.X - lo.X, hi.Y - lo.Y, top}
	points, sum := 1.0, 0.0
	for a, l := range extent {
		n := max(2, math.Ceil(l/spacing-1e-9))
		points *= n + 1
		if points > mostPoints {
			return nil, &project.Fault{Field: "grid", Found: fmt.Sprintf("cells of %.4f m, over %d points", spacing, mostPoints),
				Allowed: "a lower highest frequency, fewer points a wavelength, or a smaller room"}
		}
		g.n[a], g.h[a] = int(n), l/n
		sum += 1 / (g.h[a] * g.h[a])
	}
	c := r.speed()
	g.dt = 1 / (c * math.Sqrt(sum))
	for a := range 3 {
		g.courant[a] = c * g.dt / g.h[a]
	}
	g.cx = float32(g.courant[0] * g.courant[0])
	g.cy = float32(g.courant[1] * g.courant[1])
	g.cz = float32(g.courant[2] * g.courant[2])
	g.sy = g.n[0]/2 + 2
	g.sz = (g.n[1]+1)*g.sy + (g.n[1]+g.n[0])/2 + 2
	g.base = g.sz + g.sy + 2
	g.size = g.base + (g.n[2]+2)*g.sz + (g.n[0]+g.n[1]+g.n[2])/2 + g.sy + 4
	g.fill = make([]float32, g.n[0]*g.n[1]*g.n[2])
	g.loss = make([]float32, (g.n[0]+1)*(g.n[1]+1)*(g.n[2]+1))
	newCutter(g, r).cut()
	g.thin()
	g.plan()
	return g, nil
}

// index returns where a point lies in the array of its class, and the class.
func (g *grid) index(i, j, k int) (at, class int) {
	s := i + j + k
	return g.base + s>>1 + j*g.sy + k*g.sz, s & 1
}

func (g *grid) cell(i, j, k int) int { return (k*g.n[1]+j)*g.n[0] + i }

func (g *grid) point(i, j, k int) int { return (k*(g.n[1]+1)+j)*(g.n[0]+1) + i }

// air returns how much air a cell holds, as a share of a full one; 0 beyond the
// grid.
func (g *grid) air(i, j, k int) float64 {
	if i < 0 || j < 0 || k < 0 || i >= g.n[0] || j >= g.n[1] || k >= g.n[2] {
		return 0
	}
	return float64(g.fill[g.cell(i, j, k)])
}

// isAir reports whether a cell holds air.
func (g *grid) isAir(i, j, k int) bool { return g.air(i, j, k) > 0 }

// plan finds the weights of every point and joins equal ones of a row to runs.
func (g *grid) plan() {
	g.sets = [][7]float32{{g.cx, g.cx, g.cy, g.cy, g.cz, g.cz, 1}}
	known := map[[7]float32]int32{g.sets[0]: 0}
	for k := 0; k <= g.n[2]; k++ {
		for j := 0; j <= g.n[1]; j++ {
			var open [2]run // the run that grows, by class
			for i := 0; i <= g.n[0]; i++ {
				w, ok := g.weights(i, j, k)
				at, class := g.index(i, j, k)
				o := &open[class]
				set := int32(-1)
				if ok {
					g.points++
					var old bool
					if set, old = known[w]; !old {
						set = int32(len(g.sets))
						g.sets = append(g.sets, w)
						known[w] = set
					}
				}
				if o.n > 0 && (!ok || set != o.set) {
					g.runs[class] = append(g.runs[class], *o)
					o.n = 0
				}
				switch {
				case !ok:
				case o.n == 0:
					*o = run{at: int32(at), n: 1, set: set, k: int32(k)}
				default:
					o.n++
				}
			}
			for class, o := range open {
				if o.n > 0 {
					g.runs[class] = append(g.runs[class], o)
				}
			}
		}
	}
}

// weights returns the weights of the six neighbours (before and after along x,
// y, z) and of the point's own last value; false for a point within solids.
func (g *grid) weights(i, j, k int) (w [7]float32, ok bool) {
	var volume float64  // V
	var area [6]float64 // A
	whole := true       // all cells around are full
	for corner := range 8 {
		c := [3]int{i, j, k}
		for a := range 3 {
			c[a] -= corner >> a & 1
		}
		fill := g.air(c[0], c[1], c[2])
		whole = whole && fill == 1
		volume += fill / 8
		for a := range 3 {
			before := corner >> a & 1 // 1: the cell lies before the point along a
			area[2*a+1-before] += fill / 4
		}
	}
	if volume == 0 {
		return w, false
	}
	loss := float64(g.loss[g.point(i, j, k)]) // G
	if whole && loss == 0 {
		return g.sets[0], true
	}
	for n := range 6 {
		a := n / 2
		w[n] = float32(g.courant[a] * g.courant[a] * area[n] / (volume + loss))
	}
	w[6] = float32((volume - loss) / (volume + loss))
	return w, true
}

// share returns V + G of a point, what a source there is divided by.
func (g *grid) share(i, j, k int) float64 {
	volume := 0.0
	for corner := range 8 {
		volume += g.air(i-corner&1, j-corner>>1&1, k-corner>>2&1) / 8
	}
	if volume == 0 {
		return 0
	}
	return volume + float64(g.loss[g.point(i, j, k)])
}
