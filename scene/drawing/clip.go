// SPDX-License-Identifier: MIT

package drawing

import "earline/geometry"

// ClipLines returns the parts of lines inside r.
func ClipLines(r Box, lines ...[]Point) [][]Point {
	lo, hi := geometry.Vec2{X: r.X0, Y: r.Y0}, geometry.Vec2{X: r.X1, Y: r.Y1}
	var out [][]Point
	for _, l := range lines {
		var run []Point
		for i := 1; i < len(l); i++ {
			in, ok := geometry.Segment2{A: geometry.Vec2(l[i-1]), B: geometry.Vec2(l[i])}.Clip(lo, hi)
			if !ok {
				continue
			}
			a, b := Point(in.A), Point(in.B)
			if n := len(run); n == 0 || run[n-1] != a {
				if n > 0 {
					out = append(out, run)
				}
				run = make([]Point, 0, len(l)-i+1)
				run = append(run, a)
			}
			run = append(run, b)
		}
		if len(run) > 0 {
			out = append(out, run)
		}
	}
	return out
}

// ClipRing returns the part of a ring inside r: one side after the other, as
// geometry.Polygon.Clip does, but written anew, so that rings need not be copied
// there and back.
func ClipRing(r Box, ring []Point) []Point {
	for side := range 4 {
		// depth is how far p is inside of the side.
		depth := func(p Point) float64 {
			switch side {
			case 0:
				return p.X - r.X0
			case 1:
				return r.X1 - p.X
			case 2:
				return p.Y - r.Y0
			}
			return r.Y1 - p.Y
		}
		var out []Point
		for i, p := range ring {
			q := ring[(i+len(ring)-1)%len(ring)]
			dp, dq := depth(p), depth(q)
			if (dp >= 0) != (dq >= 0) {
				t := dq / (dq - dp)
				out = append(out, Pt(q.X+t*(p.X-q.X), q.Y+t*(p.Y-q.Y)))
			}
			if dp >= 0 {
				out = append(out, p)
			}
		}
		ring = out
	}
	return ring
}
