// SPDX-License-Identifier: MIT

package wave

import (
	"math"
	"slices"

	"earline/geometry"
)

// cutter cuts the room's air and surfaces along the planes of a grid. Volumes and
// areas are exact, whatever the walls' directions, the ceiling's slopes, and how
// blocks overlap.
type cutter struct {
	*grid
	room   Room
	solids []solid
	parts  []geometry.Polygon // of the footprint, convex

	heights []float64   // of the planes of the grid
	layers  []int       // 0, 1, 2, ...
	shut    map[int]int // cells shut by keepApart: across which axis
}

// solid is a block ready for cutting.
type solid struct {
	Block
	lo, hi geometry.Vec2
	parts  []geometry.Polygon // convex
}

// hair is how far beside a surface its two sides are looked at, m.
const hair = 1e-6

func newCutter(g *grid, r Room) *cutter {
	c := &cutter{grid: g, room: r, parts: convexParts(r.Footprint), shut: map[int]int{}}
	for k := range g.n[2] + 1 {
		c.heights = append(c.heights, g.plane(2, k))
		if k < g.n[2] {
			c.layers = append(c.layers, k)
		}
	}
	for _, b := range r.Blocks {
		lo, hi := b.Footprint.Bounds()
		c.solids = append(c.solids, solid{b, lo, hi, convexParts(b.Footprint)})
	}
	return c
}

// convexParts returns convex outlines that make up p, counter-clockwise.
func convexParts(p geometry.Polygon) []geometry.Polygon {
	if p.Convex() {
		q := slices.Clone(p)
		if q.Area() < 0 {
			slices.Reverse(q)
		}
		return []geometry.Polygon{q}
	}
	var parts []geometry.Polygon
	for _, t := range p.Triangulate() {
		parts = append(parts, geometry.Polygon{p[t[0]], p[t[1]], p[t[2]]})
	}
	return parts
}

// inward returns a normal to an edge of a counter-clockwise outline, of the edge's
// length.
func inward(p geometry.Polygon, edge int) (at, normal geometry.Vec2) {
	a, b := p.Edge(edge)
	d := b.Sub(a)
	return a, geometry.Vec2{X: -d.Y, Y: d.X}
}

// within returns the part of p in the convex outline q.
func within(p, q geometry.Polygon) geometry.Polygon {
	for i := range q {
		at, n := inward(q, i)
		if p = p.ClipHalf(at, n); len(p) < 3 {
			return nil
		}
	}
	return p
}

// without appends to out convex outlines that make up the part of the convex p
// outside the convex q.
func without(out []geometry.Polygon, p, q geometry.Polygon) []geometry.Polygon {
	for i := range q {
		at, n := inward(q, i)
		if rest := p.ClipHalf(at, n.Mul(-1)); rest.Area() > 0 {
			out = append(out, rest)
		}
		if p = p.ClipHalf(at, n); len(p) < 3 {
			return out
		}
	}
	return out
}

// bare returns the parts of the convex pieces that lie in none of the solids.
func bare(pieces []piece, solids []*solid) []piece {
	for _, s := range solids {
		for _, q := range s.parts {
			var next []piece
			for _, p := range pieces {
				for _, rest := range without(nil, p.outline, q) {
					next = append(next, piece{rest, p.slope})
				}
			}
			pieces = next
		}
	}
	return pieces
}

// piece is a convex part of a column of cells as seen from above, and the slope of
// the ceiling over it.
type piece struct {
	outline geometry.Polygon
	slope   int
}

// column is the upright stack of cells (i, j, .).
type column struct {
	i, j   int
	pieces []piece
	solids []*solid  // that reach into it
	z      []float64 // planes of the grid, tops and bottoms of the solids, ascending
	layer  []int     // of the grid, from z to the next
}

// plane returns where plane n of the grid along an axis is.
func (g *grid) plane(axis, n int) float64 {
	return [3]float64{g.lo.X, g.lo.Y, g.lo.Z}[axis] + float64(n)*g.h[axis]
}

// column returns the column over a cell; false where there is only solid.
func (c *cutter) column(i, j int) (column, bool) {
	lo := geometry.Vec2{X: c.plane(0, i), Y: c.plane(1, j)}
	hi := geometry.Vec2{X: c.plane(0, i+1), Y: c.plane(1, j+1)}
	col := column{i: i, j: j}
	rectangle := geometry.Polygon{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}}
	add := func(p geometry.Polygon) {
		for _, q := range c.room.Ceiling.Pieces(p) {
			col.pieces = append(col.pieces, piece{q.Outline, q.Slope})
		}
	}
	crossed := false
	for e := range c.room.Footprint {
		a, b := c.room.Footprint.Edge(e)
		if _, crossed = (geometry.Segment2{A: a, B: b}).Clip(lo, hi); crossed {
			break
		}
	}
	if crossed {
		for _, part := range c.parts {
			if p := part.Clip(lo, hi); p.Area() > 0 {
				add(p)
			}
		}
	} else if c.room.Footprint.Contains(lo.Add(hi).Mul(0.5)) {
		add(rectangle)
	}
	if len(col.pieces) == 0 {
		return col, false
	}
	col.z, col.layer = c.heights, c.layers
	top := c.heights[c.n[2]]
	for n := range c.solids {
		s := &c.solids[n]
		if s.lo.X >= hi.X || s.hi.X <= lo.X || s.lo.Y >= hi.Y || s.hi.Y <= lo.Y {
			continue
		}
		col.solids = append(col.solids, s)
	}
	if len(col.solids) == 0 {
		return col, true
	}
	col.z, col.layer = slices.Clone(col.z), nil
	for _, s := range col.solids {
		for _, z := range [2]float64{s.Bottom, s.Top} {
			if z > 0 && z < top {
				col.z = append(col.z, z)
			}
		}
	}
	slices.Sort(col.z)
	col.z = slices.Compact(col.z)
	k := 0
	for _, z := range col.z[:len(col.z)-1] {
		for k+1 < c.n[2] && z >= c.plane(2, k+1) {
			k++
		}
		col.layer = append(col.layer, k)
	}
	return col, true
}

// at returns the solids of the column that hold a height.
func (col *column) at(z float64) []*solid {
	var in []*solid
	for _, s := range col.solids {
		if z > s.Bottom && z < s.Top {
			in = append(in, s)
		}
	}
	return in
}

// above returns the part of an outline over which the slope is higher than z.
func above(p geometry.Polygon, s geometry.Slope, z float64) geometry.Polygon {
	d := geometry.Vec2{X: s.AlongX, Y: s.AlongY}
	if s.Level() {
		if s.Height > z {
			return p
		}
		return nil
	}
	return p.ClipHalf(d.Mul((z-s.Height)/d.Dot(d)), d)
}

// over returns the volume between an outline at height z and the slope above it.
func over(p geometry.Polygon, s geometry.Slope, z float64) float64 {
	if p = above(p, s, z); len(p) < 3 {
		return 0
	}
	m := p.Centroid()
	return p.Area() * (s.At(m.X, m.Y) - z)
}

// cut finds the share of air in every cell, then what the surfaces take.
func (c *cutter) cut() {
	full := c.h[0] * c.h[1] * c.h[2]
	columns := make([]column, 0, c.n[0]*c.n[1])
	for j := range c.n[1] {
		for i := range c.n[0] {
			col, ok := c.column(i, j)
			if !ok {
				continue
			}
			columns = append(columns, col)
			air := make([]float64, c.n[2])
			for n, k := range col.layer {
				z0, z1 := col.z[n], col.z[n+1]
				for _, p := range bare(col.pieces, col.at((z0+z1)/2)) {
					s := c.room.Ceiling[p.slope]
					air[k] += over(p.outline, s, z0) - over(p.outline, s, z1)
				}
			}
			for k, v := range air {
				c.fill[c.cell(i, j, k)] = rounded(v / full)
			}
		}
	}
	c.keepApart()
	for n := range columns {
		c.level(&columns[n])
	}
	for e := range c.room.Footprint {
		a, b := c.room.Footprint.Edge(e)
		c.upright(a, b, c.room.Footprint.InwardNormal(e), 0, math.Inf(1), c.room.wall(e), nil)
	}
	for n := range c.solids {
		s := &c.solids[n]
		for e := range s.Footprint {
			a, b := s.Footprint.Edge(e)
			c.upright(a, b, s.Footprint.InwardNormal(e).Mul(-1), s.Bottom, s.Top, s.Gives, s)
		}
	}
}

// rounded returns a share to a millionth, so that cells cut alike are alike and
// rounding leaves no sliver.
func rounded(share float64) float32 {
	const steps = 1 << 20
	return float32(math.Round(share*steps) / steps)
}

// level takes in the level and sloped surfaces of a column: the floor, tops and
// bottoms of blocks, and the ceiling.
func (c *cutter) level(col *column) {
	give := func(p geometry.Polygon, z float64, up geometry.Vec, gives float64) {
		if a := p.Area(); a > 0 && gives > 0 {
			m := p.Centroid()
			c.take(geometry.V(m.X, m.Y, z), up, a*gives)
		}
	}
	for _, p := range bare(col.pieces, col.at(hair)) {
		give(p.outline, 0, geometry.V(0, 0, 1), c.room.FloorGives)
	}
	for n, s := range col.solids {
		for _, side := range [2]struct{ z, out float64 }{{s.Top, hair}, {s.Bottom, -hair}} {
			if side.z+side.out <= 0 || side.z+side.out >= c.plane(2, c.n[2]) {
				continue
			}
			// Others that stand before the face, and earlier ones whose face it is too.
			hidden := col.at(side.z + side.out)
			for _, o := range col.solids[:n] {
				if z := side.z - side.out; z > o.Bottom && z < o.Top {
					hidden = append(hidden, o)
				}
			}
			var pieces []piece
			for _, p := range col.pieces {
				for _, part := range s.parts {
					if q := within(p.outline, part); q.Area() > 0 {
						pieces = append(pieces, piece{q, p.slope})
					}
				}
			}
			for _, p := range bare(pieces, hidden) {
				give(above(p.outline, c.room.Ceiling[p.slope], side.z), side.z, geometry.V(0, 0, side.out), s.Gives)
			}
		}
	}
	for n := range col.layer {
		z0, z1 := col.z[n], col.z[n+1]
		for _, p := range bare(col.pieces, col.at((z0+z1)/2)) {
			s := c.room.Ceiling[p.slope]
			q := above(p.outline, s, z0)
			if len(q) > 2 && n+1 < len(col.layer) {
				q = above(q, geometry.Slope{Height: -s.Height, AlongX: -s.AlongX, AlongY: -s.AlongY}, -z1-1e-12)
			}
			if len(q) > 2 {
				m, down := q.Centroid(), s.Down()
				give(q, s.At(m.X, m.Y), down, c.room.CeilingGives/-down.Z)
			}
		}
	}
}

// upright takes in the face from a to b, from bottom to top, whose air lies where
// the normal points. It belongs to the solid s, or else to the room's walls.
func (c *cutter) upright(a, b, normal geometry.Vec2, bottom, top, gives float64, s *solid) {
	if gives == 0 {
		return
	}
	d := b.Sub(a)
	cuts := []float64{0, 1}
	crossing := func(t float64) {
		if t > 0 && t < 1 {
			cuts = append(cuts, t)
		}
	}
	for i := range c.n[0] + 1 {
		crossing((c.plane(0, i) - a.X) / d.X) // no number or infinite: none
	}
	for j := range c.n[1] + 1 {
		crossing((c.plane(1, j) - a.Y) / d.Y)
	}
	lo := geometry.Vec2{X: min(a.X, b.X) - hair, Y: min(a.Y, b.Y) - hair}
	hi := geometry.Vec2{X: max(a.X, b.X) + hair, Y: max(a.Y, b.Y) + hair}
	var near []*solid
	outlines := []geometry.Polygon{c.room.Footprint}
	for n := range c.solids {
		if o := &c.solids[n]; o.lo.X < hi.X && o.hi.X > lo.X && o.lo.Y < hi.Y && o.hi.Y > lo.Y {
			near = append(near, o)
			outlines = append(outlines, o.Footprint)
		}
	}
	for _, o := range outlines {
		for e := range o {
			p, q := o.Edge(e)
			f := q.Sub(p)
			crossing(p.Sub(a).Cross(f) / d.Cross(f))
			crossing(p.Sub(a).Dot(d) / d.Dot(d)) // corners on it
		}
	}
	slices.Sort(cuts)
	for n, t0 := range cuts[:len(cuts)-1] {
		t1 := cuts[n+1]
		if (t1-t0)*d.Len() < 1e-9 {
			continue
		}
		m := a.Add(d.Mul((t0 + t1) / 2))
		out := m.Add(normal.Mul(hair))
		if !c.room.Footprint.Contains(out) {
			continue
		}
		ceiling := c.room.Ceiling.At(m.X, m.Y)
		zs := []float64{max(0, bottom), min(top, ceiling)}
		cut := func(z float64) {
			if z > zs[0] && z < zs[1] {
				zs = append(zs, z)
			}
		}
		for k := range c.n[2] + 1 {
			cut(c.plane(2, k))
		}
		var before, mine []*solid
		for _, o := range near {
			in := m.Sub(normal.Mul(hair))
			if o != s && o.Footprint.Contains(out) {
				before = append(before, o)
			}
			if s != nil && o.earlier(s, c.solids) && o.Footprint.Contains(in) {
				mine = append(mine, o)
			}
			cut(o.Bottom)
			cut(o.Top)
		}
		if zs[0] >= zs[1] {
			continue
		}
		slices.Sort(zs)
		for k, z0 := range zs[:len(zs)-1] {
			z := (z0 + zs[k+1]) / 2
			covers := func(o *solid) bool { return z > o.Bottom && z < o.Top }
			if slices.ContainsFunc(before, covers) || slices.ContainsFunc(mine, covers) {
				continue
			}
			c.take(geometry.V(m.X, m.Y, z), geometry.V(normal.X, normal.Y, 0), (t1-t0)*d.Len()*(zs[k+1]-z0)*gives)
		}
	}
}

// earlier reports whether s comes before o among the solids.
func (s *solid) earlier(o *solid, all []solid) bool {
	for n := range all {
		switch &all[n] {
		case o:
			return false
		case s:
			return true
		}
	}
	return false
}

// take gives the points around a small piece of surface their share of its
// admittance times area, in square metres: each the more the nearer it is. Between
// two planes this makes the reactance right as well: the layer of air behind the
// last full cell has the admittance of the wall as seen through it, to the first
// order in its thickness.
func (c *cutter) take(at, normal geometry.Vec, admittance float64) {
	p, side := at.Sub(c.lo), [3]float64{normal.X, normal.Y, normal.Z}
	q := [3]float64{p.X / c.h[0], p.Y / c.h[1], p.Z / c.h[2]}
	var base [3]int
	var share [3][2]float64
	for a := range 3 {
		base[a] = min(c.n[a]-1, max(0, int(math.Floor(q[a]+math.Copysign(hair, side[a])))))
		t := min(1, max(0, q[a]-float64(base[a])))
		share[a] = [2]float64{1 - t, t}
	}
	if a, shut := c.shut[c.cell(base[0], base[1], base[2])]; shut {
		share[a] = [2]float64{1, 0}
		if side[a] > 0 {
			share[a] = [2]float64{0, 1}
		}
	}
	g := c.courant[0] * c.h[0] / 2 * admittance / (c.h[0] * c.h[1] * c.h[2])
	for n := range 8 {
		if w := share[0][n&1] * share[1][n>>1&1] * share[2][n>>2]; w > 0 {
			c.loss[c.point(base[0]+n&1, base[1]+n>>1&1, base[2]+n>>2)] += float32(g * w)
		}
	}
}

// holds reports whether a place lies in the air of the room.
func (c *cutter) holds(p geometry.Vec) bool {
	at := geometry.Vec2{X: p.X, Y: p.Y}
	if p.Z <= 0 || p.Z >= c.room.Ceiling.At(p.X, p.Y) || !encloses(c.parts, at) {
		return false
	}
	for n := range c.solids {
		s := &c.solids[n]
		if p.Z > s.Bottom && p.Z < s.Top && at.X > s.lo.X && at.X < s.hi.X && at.Y > s.lo.Y && at.Y < s.hi.Y && encloses(s.parts, at) {
			return false
		}
	}
	return true
}

// encloses reports whether a point lies in one of convex outlines.
func encloses(parts []geometry.Polygon, q geometry.Vec2) bool {
	return slices.ContainsFunc(parts, func(p geometry.Polygon) bool {
		for i := range p {
			if at, n := inward(p, i); q.Sub(at).Dot(n) < 0 {
				return false
			}
		}
		return true
	})
}

// keepApart shuts a cell where a solid thinner than a cell or two would let the
// sound on its one side through to the other, because cells on both sides share
// points. The shut cell's air goes to the cells beside it.
func (c *cutter) keepApart() {
	// open reports whether there is air on the plane across a cell at t, 0 to 1, of
	// its width along the axis.
	open := func(cell [3]int, axis int, t float64) bool {
		looks := [6]float64{1e-4, 0.2, 0.4, 0.6, 0.8, 1 - 1e-4} // at the rim too, where slivers are
		for n := range 36 {
			var at [3]float64
			at[axis], at[(axis+1)%3], at[(axis+2)%3] = t, looks[n%6], looks[n/6]
			if c.holds(c.lo.Add(geometry.V((float64(cell[0])+at[0])*c.h[0], (float64(cell[1])+at[1])*c.h[1], (float64(cell[2])+at[2])*c.h[2]))) {
				return true
			}
		}
		return false
	}
	// split reports whether a cell has a plane without air between two with.
	split := func(cell [3]int, axis int) bool {
		if !open(cell, axis, hair) || !open(cell, axis, 1-hair) {
			return false
		}
		for t := 0.125; t < 1; t += 0.125 {
			if !open(cell, axis, t) {
				return true
			}
		}
		return false
	}
	partial := func(i, j, k int) bool { return c.isAir(i, j, k) && c.fill[c.cell(i, j, k)] < 1 }
	shift := func(from, to [3]int, share float32) bool {
		if !c.isAir(to[0], to[1], to[2]) {
			return false
		}
		c.fill[c.cell(to[0], to[1], to[2])] += share * c.fill[c.cell(from[0], from[1], from[2])]
		return true
	}
	shut := func(cell [3]int, axis int) {
		n := c.cell(cell[0], cell[1], cell[2])
		c.fill[n] = 0
		c.shut[n] = axis
	}
	for k := range c.n[2] {
		for j := range c.n[1] {
			for i := range c.n[0] {
				for axis := range 3 {
					here := [3]int{i, j, k}
					next, last := here, here
					next[axis]++
					last[axis]--
					mine, other := partial(i, j, k), partial(next[0], next[1], next[2])
					if mine && c.isAir(next[0], next[1], next[2]) && c.isAir(last[0], last[1], last[2]) && split(here, axis) {
						shift(here, last, 0.5)
						shift(here, next, 0.5)
						shut(here, axis)
						continue
					}
					if !mine && !other || !c.isAir(i, j, k) || !c.isAir(next[0], next[1], next[2]) ||
						open(here, axis, 1-hair) && open(here, axis, 1+hair) {
						continue
					}
					beyond := next
					beyond[axis]++
					first := c.fill[c.cell(i, j, k)] < c.fill[c.cell(next[0], next[1], next[2])]-hair
					switch {
					case first && mine && shift(here, last, 1):
						shut(here, axis)
					case other && shift(next, beyond, 1):
						shut(next, axis)
					case mine && shift(here, last, 1):
						shut(here, axis)
					}
				}
			}
		}
	}
}
