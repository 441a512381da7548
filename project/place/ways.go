// SPDX-License-Identifier: MIT

package place

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// Way is how somebody walks from a door to a seat: feet on the floor, from the door on.
type Way struct {
	Seat int // index of it in Room.Seats
	Feet []geometry.Vec
}

// Ways returns the shortest ways from the nearest door to every seat that can be walked to,
// round chairs, columns and loudspeakers, rather up steps than over the edge of a platform,
// rather where there is room on both sides. None in a room without a door. Found on a grid
// of 0.1 m: how one walks is common practice, no source.
func Ways(r *Room) []Way {
	g := gridOf(r)
	if g == nil {
		return nil
	}
	from := g.walk(doors(r))
	if from == nil {
		return nil
	}
	var out []Way
	for i := range r.Seats {
		s := &r.Seats[i]
		end := g.near(s.Local(-float64(s.Chair.PanDepth)-before, 0, 0), reach)
		if end < 0 || from[end] == unknown {
			continue
		}
		w := Way{Seat: i}
		for c := end; ; c = from[c] {
			w.Feet = append(w.Feet, g.foot(c))
			if from[c] == c {
				break
			}
		}
		for a, b := 0, len(w.Feet)-1; a < b; a, b = a+1, b-1 {
			w.Feet[a], w.Feet[b] = w.Feet[b], w.Feet[a]
		}
		out = append(out, w)
	}
	return out
}

// Lengths of a walk, metres; common practice, no source.
const (
	before  = 0.15 // from the chair to the feet of who is about to sit down
	reach   = 0.5  // how far from there a seat is still reached
	inside  = 0.3  // from a door to the first step in
	atWall  = 0.15 // from a wall to the middle of the feet
	overlow = 0.05 // what is lower is stepped on
	tall    = 1.9  // what hangs higher is walked under
	climb   = 0.26 // more in one stride is no step
)

// unknown is of a cell to which no way is known.
const unknown = -1

// doors returns where one stands inside each door.
func doors(r *Room) (feet []geometry.Vec) {
	poly := r.Design.Room.Polygon()
	for _, f := range r.Design.Room.Features {
		if f.Kind != project.Door {
			continue
		}
		edge, foot := poly.Nearest(geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)})
		in := foot.Add(poly.InwardNormal(edge).Mul(inside))
		feet = append(feet, geometry.Vec{X: in.X, Y: in.Y})
	}
	return feet
}

// grid is the floor of a room in square cells.
type grid struct {
	lo     geometry.Vec2
	step   float64
	nx, ny int
	floor  []float64
	taken  []bool // nobody can stand there
	narrow []bool // something is beside it
}

// gridOf returns the floor of r; nil for a room without an outline.
func gridOf(r *Room) *grid {
	const fine, most = 0.1, 60_000 // m; cells
	poly := r.Design.Room.Polygon()
	if len(poly) < 3 {
		return nil
	}
	lo, hi := poly.Bounds()
	size := hi.Sub(lo)
	g := &grid{lo: lo, step: max(fine, math.Sqrt(size.X*size.Y/most))}
	g.nx, g.ny = int(size.X/g.step)+1, int(size.Y/g.step)+1
	n := g.nx * g.ny
	g.floor, g.taken, g.narrow = make([]float64, n), make([]bool, n), make([]bool, n)
	for y := range g.ny {
		g.within(poly, y)
	}
	for c := range n {
		if !g.taken[c] {
			p := g.middle(c)
			g.floor[c] = r.Floor.At(p.X, p.Y)
		}
	}
	for i := range r.Seats {
		g.take(r.Seats[i].Outline(1), nil)
	}
	for _, f := range r.Design.Room.Features {
		if f.Kind.Standing() {
			g.take(f.Outline(), func(floor float64) bool {
				return float64(f.At.Z) < floor+tall && float64(f.At.Z+f.Height) > floor+overlow
			})
		}
	}
	for i := range r.Speakers {
		b := &r.Speakers[i].Box
		var low, high = math.Inf(1), math.Inf(-1)
		var hull geometry.Polygon
		half := geometry.Vec2{}
		for _, c := range b.Corners() {
			low, high = min(low, c.Z), max(high, c.Z)
			half.X, half.Y = max(half.X, math.Abs(c.X-b.Center.X)), max(half.Y, math.Abs(c.Y-b.Center.Y))
		}
		for _, q := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			hull = append(hull, geometry.Vec2{X: b.Center.X + q[0]*half.X, Y: b.Center.Y + q[1]*half.Y})
		}
		g.take(hull, func(floor float64) bool { return low < floor+tall && high > floor+overlow })
	}
	g.narrows()
	return g
}

// within marks the cells of line y that are outside the walls or too near to them. As far
// as a wall is away no other cell has to be looked at.
func (g *grid) within(walls geometry.Polygon, y int) {
	for x := 0; x < g.nx; {
		p := g.middle(x + y*g.nx)
		far := walls.Distance(p)
		taken := far < atWall || !walls.Contains(p)
		next := min(x+1+int(max(far-atWall, 0)/g.step*0.999), g.nx)
		for ; x < next; x++ {
			g.taken[x+y*g.nx] = taken
		}
	}
}

// narrows marks the cells that have a taken one, or the end of the grid, within two.
func (g *grid) narrows() {
	const beside = 2
	across := make([]bool, len(g.taken))
	for c := range across {
		x := c % g.nx
		across[c] = x < beside || x >= g.nx-beside || slices.Contains(g.taken[c-beside:c+beside+1], true)
	}
	for c := range g.narrow {
		y := c / g.nx
		g.narrow[c] = y < beside || y >= g.ny-beside
		for k := -beside; k <= beside && !g.narrow[c]; k++ {
			g.narrow[c] = across[c+k*g.nx]
		}
	}
}

func (g *grid) middle(c int) geometry.Vec2 {
	return geometry.Vec2{X: g.lo.X + (float64(c%g.nx)+0.5)*g.step, Y: g.lo.Y + (float64(c/g.nx)+0.5)*g.step}
}

func (g *grid) foot(c int) geometry.Vec {
	p := g.middle(c)
	return geometry.Vec{X: p.X, Y: p.Y, Z: g.floor[c]}
}

// take marks the cells in outline where what stands there is in the way over the floor; nil
// is that it always is.
func (g *grid) take(outline geometry.Polygon, inTheWay func(floor float64) bool) {
	lo, hi := outline.Bounds()
	x0, x1 := g.clamp((lo.X-g.lo.X)/g.step, g.nx), g.clamp((hi.X-g.lo.X)/g.step, g.nx)
	y0, y1 := g.clamp((lo.Y-g.lo.Y)/g.step, g.ny), g.clamp((hi.Y-g.lo.Y)/g.step, g.ny)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if c := x + y*g.nx; !g.taken[c] && outline.Contains(g.middle(c)) && (inTheWay == nil || inTheWay(g.floor[c])) {
				g.taken[c] = true
			}
		}
	}
}

func (g *grid) clamp(v float64, n int) int { return int(min(max(v, 0), float64(n-1))) }

// near returns the free cell nearest to p, within so many metres; -1 for none.
func (g *grid) near(p geometry.Vec, within float64) int {
	best, at := within, -1
	n := int(within/g.step) + 1
	x0, y0 := g.clamp((p.X-g.lo.X)/g.step, g.nx), g.clamp((p.Y-g.lo.Y)/g.step, g.ny)
	for y := max(y0-n, 0); y <= min(y0+n, g.ny-1); y++ {
		for x := max(x0-n, 0); x <= min(x0+n, g.nx-1); x++ {
			c := x + y*g.nx
			q := g.middle(c)
			if d := math.Hypot(q.X-p.X, q.Y-p.Y); !g.taken[c] && d < best {
				best, at = d, c
			}
		}
	}
	return at
}

// walk returns from which cell one comes to each, by the shortest ways from the feet; nil
// where none of them is free.
func (g *grid) walk(feet []geometry.Vec) []int {
	from, cost := make([]int, len(g.taken)), make([]float64, len(g.taken))
	for c := range from {
		from[c], cost[c] = unknown, math.Inf(1)
	}
	const squeezed, leap = 2.0, 4.0 // times as far; metres more for a climb without steps
	stride := [3]float64{0, g.step, g.step * math.Sqrt2}
	var open cells
	for _, f := range feet {
		if c := g.near(f, 1); c >= 0 {
			from[c], cost[c] = c, 0
			open.push(cell{c, 0})
		}
	}
	if len(open) == 0 {
		return nil
	}
	for len(open) > 0 {
		at := open.pop()
		if at.cost > cost[at.n] {
			continue
		}
		x, y := at.n%g.nx, at.n/g.nx
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if x+dx < 0 || x+dx >= g.nx || y+dy < 0 || y+dy >= g.ny {
					continue
				}
				to := at.n + dx + dy*g.nx
				if g.taken[to] || from[to] != unknown && cost[to] <= at.cost {
					continue
				}
				length := stride[dx*dx+dy*dy]
				if g.narrow[to] {
					length *= squeezed
				}
				if math.Abs(g.floor[to]-g.floor[at.n]) > climb {
					length += leap
				}
				if c := at.cost + length; c < cost[to] {
					from[to], cost[to] = at.n, c
					open.push(cell{to, c})
				}
			}
		}
	}
	return from
}

// cell is a cell to go on from and what it took to get there.
type cell struct {
	n    int
	cost float64
}

// cells are a binary heap: none is cheaper than the first.
type cells []cell

func (c *cells) push(v cell) {
	*c = append(*c, v)
	h := *c
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if h[i].cost >= h[up].cost {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
}

func (c *cells) pop() cell {
	h := *c
	first, n := h[0], len(h)-1
	h[0] = h[n]
	h = h[:n]
	*c = h
	for i := 0; ; {
		down := 2*i + 1
		if down >= n {
			return first
		}
		if down+1 < n && h[down+1].cost < h[down].cost {
			down++
		}
		if h[down].cost >= h[i].cost {
			return first
		}
		h[i], h[down] = h[down], h[i]
		i = down
	}
}
