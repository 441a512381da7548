// SPDX-License-Identifier: MIT

package drawing

import (
	"image/color"

	"earline/geometry"
)

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

// Clipped returns a canvas that draws on c what lies in r. Text is not cut: it is left
// out where all of it lies outside.
func Clipped(c Canvas, r Box) Canvas { return &clipped{c, r} }

type clipped struct {
	canvas Canvas
	box    Box
}

func (c *clipped) Fill(layer string, ink color.NRGBA, rings ...[]Point) {
	var in [][]Point
	for _, ring := range rings {
		if part := ClipRing(c.box, ring); len(part) > 2 {
			in = append(in, part)
		}
	}
	if len(in) > 0 {
		c.canvas.Fill(layer, ink, in...)
	}
}

func (c *clipped) Stroke(layer string, pen Pen, lines [][]Point) {
	if in := ClipLines(c.box, lines...); len(in) > 0 {
		c.canvas.Stroke(layer, pen, in)
	}
}

// arcChord is how far, in units, an arc that is cut may be from its line.
const arcChord = 0.02

func (c *clipped) Arc(layer string, pen Pen, a Arc) {
	p, r := a.Centre, a.Radius
	if p.X-r >= c.box.X0 && p.X+r <= c.box.X1 && p.Y-r >= c.box.Y0 && p.Y+r <= c.box.Y1 {
		c.canvas.Arc(layer, pen, a)
		return
	}
	c.Stroke(layer, pen, [][]Point{a.Points(arcChord)})
}

func (c *clipped) Text(layer string, ink color.NRGBA, l Label) {
	if len(ClipRing(c.box, l.corners())) > 0 {
		c.canvas.Text(layer, ink, l)
	}
}
