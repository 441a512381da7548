// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// plan is a footprint prepared for drawing: counter-clockwise seen from above, and
// cut into triangles.
type plan struct {
	corners geometry.Polygon
	turned  bool // the document has the corners the other way round
	tris    [][3]geometry.Vec2
	lo, hi  geometry.Vec2
	slopes  geometry.Ceiling
	parts   []part // of the ceiling
}

// part is the floor under one slope of the ceiling; its plan has outline and
// triangles only.
type part struct {
	plan
	slope geometry.Slope
}

// ceiling returns the height of the ceiling at (x, y), in metres.
func (p plan) ceiling(x, y float64) float64 { return p.slopes.At(x, y) }

// highest returns the height of the ceiling where it is highest, in metres.
func (p plan) highest() float64 {
	high := math.Inf(-1)
	for i := range p.parts {
		for _, q := range p.parts[i].corners {
			high = max(high, p.parts[i].slope.At(q.X, q.Y))
		}
	}
	return high
}

// planOf returns the plan of r; one without corners when r has no area.
func planOf(r project.Room) plan {
	corners := r.Polygon()
	if len(corners) < 3 {
		return plan{}
	}
	turned := corners.Area() < 0
	if turned {
		slices.Reverse(corners)
	}
	p := plan{corners: corners, turned: turned, slopes: r.Slopes()}
	p.lo, p.hi = corners.Bounds()
	for _, t := range corners.Triangulate() {
		p.tris = append(p.tris, [3]geometry.Vec2{corners[t[0]], corners[t[1]], corners[t[2]]})
	}
	for _, piece := range p.slopes.Pieces(corners) {
		under := part{plan{corners: piece.Outline}, p.slopes[piece.Slope]}
		for _, t := range p.tris {
			for _, cut := range p.slopes.Pieces(t[:]) {
				if cut.Slope != piece.Slope {
					continue
				}
				for i := 2; i < len(cut.Outline); i++ {
					under.tris = append(under.tris, [3]geometry.Vec2{cut.Outline[0], cut.Outline[i-1], cut.Outline[i]})
				}
			}
		}
		p.parts = append(p.parts, under)
	}
	return p
}

// edge returns the ends of edge i and its unit normal into the room.
func (p plan) edge(i int) (a, b, inward geometry.Vec2) {
	return p.corners[i], p.corners[(i+1)%len(p.corners)], p.corners.InwardNormal(i)
}

// number returns which wall of the document edge i is, counted from 1.
func (p plan) number(i int) int {
	if n := len(p.corners); p.turned {
		return (2*n-2-i)%n + 1
	}
	return i + 1
}

// wall returns the distance from (x, y) to the nearest wall, in metres.
func (p plan) wall(x, y float64) float64 { return p.corners.Distance(geometry.Vec2{X: x, Y: y}) }

// holds reports whether (x, y) is inside the footprint.
func (p plan) holds(x, y float64) bool { return p.corners.Contains(geometry.Vec2{X: x, Y: y}) }

// tiles cuts the part of the footprint in the window lo..hi into cells of about
// step metres, few enough to draw. It passes each on as triangles of the indices
// that vertex returned, counter-clockwise seen from above.
func (p plan) tiles(lo, hi geometry.Vec2, step float64, vertex func(x, y float64) uint32, tri func(a, b, c uint32)) {
	const most = 40 // cells along one side
	nx := clampInt(int(math.Ceil((hi.X-lo.X)/step)), 1, most)
	ny := clampInt(int(math.Ceil((hi.Y-lo.Y)/step)), 1, most)
	if !(hi.X > lo.X && hi.Y > lo.Y) {
		return
	}
	x := func(i int) float64 { return lo.X + (hi.X-lo.X)*float64(i)/float64(nx) }
	y := func(j int) float64 { return lo.Y + (hi.Y-lo.Y)*float64(j)/float64(ny) }
	// Cells that lie wholly inside share the vertices of the lattice.
	lattice := make([]uint32, (nx+1)*(ny+1)) // index + 1
	node := func(i, j int) uint32 {
		at := &lattice[i*(ny+1)+j]
		if *at == 0 {
			*at = vertex(x(i), y(j)) + 1
		}
		return *at - 1
	}
	for i := range nx {
		for j := range ny {
			cell := [2]geometry.Vec2{{X: x(i), Y: y(j)}, {X: x(i + 1), Y: y(j + 1)}}
			if !p.crosses(cell[0], cell[1]) {
				if p.holds((cell[0].X+cell[1].X)/2, (cell[0].Y+cell[1].Y)/2) {
					a, b, c, d := node(i, j), node(i+1, j), node(i+1, j+1), node(i, j+1)
					tri(a, b, c)
					tri(a, c, d)
				}
				continue
			}
			for _, t := range p.tris {
				cut := geometry.Polygon(t[:]).Clip(cell[0], cell[1])
				if len(cut) < 3 {
					continue
				}
				first, last := vertex(cut[0].X, cut[0].Y), vertex(cut[1].X, cut[1].Y)
				for _, q := range cut[2:] {
					v := vertex(q.X, q.Y)
					tri(first, last, v)
					last = v
				}
			}
		}
	}
}

// crosses reports whether an edge of the footprint passes through the inside of
// the rectangle lo..hi.
func (p plan) crosses(lo, hi geometry.Vec2) bool {
	const hair = 1e-9 // m: edges that run along the rectangle do not cross it
	slack := geometry.Vec2{X: hair, Y: hair}
	for i := range p.corners {
		a, b := p.corners.Edge(i)
		if in, ok := (geometry.Segment2{A: a, B: b}).Clip(lo.Add(slack), hi.Sub(slack)); ok && in.A != in.B {
			return true
		}
	}
	return false
}
