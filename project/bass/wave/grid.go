// SPDX-License-Identifier: MIT

package wave

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
)

// mostPoints is the largest grid, points: 400 MB of tables while it is built.
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
	air        []bool       // by cell
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
	g.carve(r)
	g.plan(r)
	return g, nil
}

// index returns where a point lies in the array of its class, and the class.
func (g *grid) index(i, j, k int) (at, class int) {
	s := i + j + k
	return g.base + s>>1 + j*g.sy + k*g.sz, s & 1
}

func (g *grid) cell(i, j, k int) int { return (k*g.n[1]+j)*g.n[0] + i }

// isAir reports whether a cell is air; those beyond the grid are not.
func (g *grid) isAir(i, j, k int) bool {
	return i >= 0 && j >= 0 && k >= 0 && i < g.n[0] && j < g.n[1] && k < g.n[2] && g.air[g.cell(i, j, k)]
}

// middle returns the middle of a cell.
func (g *grid) middle(i, j, k int) geometry.Vec {
	return g.lo.Add(geometry.V((float64(i)+0.5)*g.h[0], (float64(j)+0.5)*g.h[1], (float64(k)+0.5)*g.h[2]))
}

// carve finds the cells whose middle is air.
func (g *grid) carve(r Room) {
	g.air = make([]bool, g.n[0]*g.n[1]*g.n[2])
	for j := range g.n[1] {
		for i := range g.n[0] {
			m := g.middle(i, j, 0)
			at := geometry.Vec2{X: m.X, Y: m.Y}
			if !r.Footprint.Contains(at) {
				continue
			}
			ceiling := r.Ceiling.At(m.X, m.Y)
			for k := range g.n[2] {
				if z := g.middle(i, j, k).Z; z < ceiling {
					g.air[g.cell(i, j, k)] = true
				}
			}
			for _, b := range r.Blocks {
				if !b.Footprint.Contains(at) {
					continue
				}
				for k := range g.n[2] {
					if z := g.middle(i, j, k).Z; z > b.Bottom && z < b.Top {
						g.air[g.cell(i, j, k)] = false
					}
				}
			}
		}
	}
}

// gives returns the admittance of the face between an air cell and the solid
// one beside it along the axis, scaled by the cosine between the face and the
// true surface.
func (g *grid) gives(r Room, solid [3]int, axis int) float64 {
	if solid[2] < 0 {
		return r.FloorGives
	}
	m := g.middle(solid[0], solid[1], solid[2])
	at := geometry.Vec2{X: m.X, Y: m.Y}
	for _, b := range r.Blocks {
		if m.Z > b.Bottom && m.Z < b.Top && b.Footprint.Contains(at) {
			if axis == 2 {
				return b.Gives
			}
			edge, _ := b.Footprint.Nearest(at)
			return b.Gives * slant(b.Footprint, edge, axis)
		}
	}
	if r.Footprint.Contains(at) { // above the ceiling
		n := r.Ceiling[r.Ceiling.Over(m.X, m.Y)].Down()
		return r.CeilingGives * math.Abs([3]float64{n.X, n.Y, n.Z}[axis])
	}
	if axis == 2 { // only where a ceiling beyond the footprint meets it
		return r.CeilingGives
	}
	edge, _ := r.Footprint.Nearest(at)
	return r.wall(edge) * slant(r.Footprint, edge, axis)
}

// slant returns the cosine between the normal of an upright wall and the axis.
func slant(p geometry.Polygon, edge, axis int) float64 {
	n := p.InwardNormal(edge)
	if axis == 0 {
		return math.Abs(n.X)
	}
	return math.Abs(n.Y)
}

// plan finds the weights of every point and joins equal ones of a row to runs.
func (g *grid) plan(r Room) {
	g.sets = [][7]float32{{g.cx, g.cx, g.cy, g.cy, g.cz, g.cz, 1}}
	known := map[[7]float32]int32{g.sets[0]: 0}
	for k := 0; k <= g.n[2]; k++ {
		for j := 0; j <= g.n[1]; j++ {
			var open [2]run // the run that grows, by class
			for i := 0; i <= g.n[0]; i++ {
				w, ok := g.weights(r, i, j, k)
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
func (g *grid) weights(r Room, i, j, k int) (w [7]float32, ok bool) {
	p := [3]int{i, j, k}
	var volume float64  // V
	var area [6]float64 // A
	var loss float64    // G
	for corner := range 8 {
		c := p
		for a := range 3 {
			c[a] -= corner >> a & 1
		}
		if !g.isAir(c[0], c[1], c[2]) {
			continue
		}
		volume += 1.0 / 8
		for a := range 3 {
			before := corner >> a & 1 // 1: the cell lies before the point along a
			area[2*a+1-before] += 1.0 / 4
			// The face of the cell that touches the point and looks along a, if a
			// solid is behind it.
			s := c
			s[a] += 2*before - 1
			if !g.isAir(s[0], s[1], s[2]) {
				loss += g.courant[a] / 8 * g.gives(r, s, a)
			}
		}
	}
	if volume == 0 {
		return w, false
	}
	if volume == 1 {
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
func (g *grid) share(r Room, i, j, k int) float64 {
	// The weight along x is the square of the Courant number times A over it.
	w, ok := g.weights(r, i, j, k)
	if !ok {
		return 0
	}
	// w[6] = (V - G)/(V + G), so V + G = 2 V/(1 + w[6]).
	volume := 0.0
	for corner := range 8 {
		if g.isAir(i-corner&1, j-corner>>1&1, k-corner>>2&1) {
			volume += 1.0 / 8
		}
	}
	return 2 * volume / (1 + float64(w[6]))
}
