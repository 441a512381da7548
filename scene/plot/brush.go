// SPDX-License-Identifier: MIT

package plot

import (
	"image/color"
	"math"
)

// point is a place in pixels, y down.
type point struct{ x, y float64 }

func at(x, y float64) point { return point{x, y} }

// canvas is what drawings are made on: pixels, or SVG. Lengths are pixels.
type canvas interface {
	// fill fills a ring.
	fill(ink color.NRGBA, ring []point)
	// stroke draws lines of that width; dash holds the lengths of strokes and gaps.
	stroke(ink color.NRGBA, wide float64, dash []float64, lines [][]point)
	// text writes on the line at y. Its middle, or the end that anchor says, stays
	// in place where the type is another one than was measured with.
	text(ink color.NRGBA, l label)
}

// brush draws the parts of a chart on a canvas.
type brush struct {
	canvas
	k float64
}

// patterns are the lengths of strokes and gaps in points.
var patterns = [...][]float64{
	Dashed:     {7, 4},
	Dotted:     {1.6, 3},
	DashDotted: {8, 3, 1.6, 3},
}

// lines draws lines, wide in pixels, in a pattern.
func (b *brush) lines(ink color.NRGBA, wide float64, dash Dash, lines ...[]point) {
	var d []float64
	if int(dash) < len(patterns) {
		for _, v := range patterns[dash] {
			d = append(d, v*b.k)
		}
	}
	b.stroke(ink, wide, d, lines)
}

// hair returns the width of the finest line, whole pixels.
func (b *brush) hair() float64 { return max(math.Round(b.k), 1) }

// crisp moves the middle of a hair so that it covers whole pixels.
func (b *brush) crisp(v float64) float64 {
	if int(b.hair())%2 == 1 {
		return math.Floor(v) + 0.5
	}
	return math.Round(v)
}

// upright and level draw a hair at whole pixels.
func (b *brush) upright(ink color.NRGBA, x, y0, y1 float64) {
	x, h := b.crisp(x), b.hair()/2
	b.rect(ink, box{x - h, min(y0, y1), x + h, max(y0, y1)})
}

func (b *brush) level(ink color.NRGBA, y, x0, x1 float64) {
	y, h := b.crisp(y), b.hair()/2
	b.rect(ink, box{x0, y - h, x1, y + h})
}

// frame draws hairs just inside r, whose corners are whole.
func (b *brush) frame(ink color.NRGBA, r box) {
	h := b.hair()
	b.rect(ink, box{r.x0, r.y0, r.x1, r.y0 + h})
	b.rect(ink, box{r.x0, r.y1 - h, r.x1, r.y1})
	b.rect(ink, box{r.x0, r.y0 + h, r.x0 + h, r.y1 - h})
	b.rect(ink, box{r.x1 - h, r.y0 + h, r.x1, r.y1 - h})
}

func (b *brush) rect(ink color.NRGBA, r box) {
	if r.x1 > r.x0 && r.y1 > r.y0 {
		b.fill(ink, []point{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}})
	}
}

// hatch draws slanting lines, pitch apart, in the part of r between high and
// low, which give a pixel down for each pixel across; nil is all of r.
func (b *brush) hatch(ink color.NRGBA, r box, pitch float64, high, low func(x float64) float64) {
	var out [][]point
	step := max(1.5*b.k, 1)
	put := func(x0, x1, c float64) {
		if x1 > x0 {
			out = append(out, []point{{x0, c - x0}, {x1, c - x1}})
		}
	}
	// Lines x + y = c, on a grid of the paper so that neighbours join.
	for c := math.Ceil((r.x0+r.y0)/pitch) * pitch; c < r.x1+r.y1; c += pitch {
		x0, x1 := max(r.x0, c-r.y1), min(r.x1, c-r.y0)
		if high == nil {
			put(x0, x1, c)
			continue
		}
		from := math.NaN()
		for x := x0; x <= x1; x += step {
			y := c - x
			in := y >= high(x) && y <= low(x)
			switch {
			case in && math.IsNaN(from):
				from = x
			case !in && !math.IsNaN(from):
				put(from, x, c)
				from = math.NaN()
			}
		}
		if !math.IsNaN(from) {
			put(from, x1, c)
		}
	}
	b.stroke(ink, b.hair(), nil, out)
}

// sign draws the mark of a point: circle, square, triangle, diamond, or cross.
func (b *brush) sign(ink color.NRGBA, n int, x, y, r float64) {
	switch n % 5 {
	case 0:
		const corners = 24
		ring := make([]point, corners)
		for i := range ring {
			s, c := math.Sincos(2 * math.Pi * float64(i) / corners)
			ring[i] = at(x+r*c, y+r*s)
		}
		b.fill(ink, ring)
	case 1:
		b.rect(ink, box{x - 0.9*r, y - 0.9*r, x + 0.9*r, y + 0.9*r})
	case 2:
		b.fill(ink, []point{{x, y - 1.2*r}, {x + 1.1*r, y + 0.8*r}, {x - 1.1*r, y + 0.8*r}})
	case 3:
		b.fill(ink, []point{{x, y - 1.3*r}, {x + 1.3*r, y}, {x, y + 1.3*r}, {x - 1.3*r, y}})
	case 4:
		b.lines(ink, 1.5*b.k, Solid, []point{{x - r, y - r}, {x + r, y + r}}, []point{{x - r, y + r}, {x + r, y - r}})
	}
}

// clip returns the parts of lines inside r.
func clip(r box, lines ...[]point) [][]point {
	var out [][]point
	for _, l := range lines {
		var run []point
		for i := 1; i < len(l); i++ {
			a, b, ok := inside(r, l[i-1], l[i])
			if !ok {
				continue
			}
			if n := len(run); n == 0 || run[n-1] != a {
				if n > 0 {
					out = append(out, run)
				}
				run = make([]point, 0, len(l)-i+1)
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

// inside returns the part of a segment inside r (Liang and Barsky 1984).
func inside(r box, a, b point) (point, point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, e := range [4][2]float64{{-dx, a.x - r.x0}, {dx, r.x1 - a.x}, {-dy, a.y - r.y0}, {dy, r.y1 - a.y}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	c, d := a, b
	if t0 > 0 {
		c = at(a.x+t0*dx, a.y+t0*dy)
	}
	if t1 < 1 {
		d = at(a.x+t1*dx, a.y+t1*dy)
	}
	return c, d, true
}

// clipRing returns the part of a ring inside r, side by side (Sutherland and
// Hodgman 1974).
func clipRing(r box, ring []point) []point {
	for side := range 4 {
		// depth is how far p is inside of the side.
		depth := func(p point) float64 {
			switch side {
			case 0:
				return p.x - r.x0
			case 1:
				return r.x1 - p.x
			case 2:
				return p.y - r.y0
			}
			return r.y1 - p.y
		}
		var out []point
		for i, p := range ring {
			q := ring[(i+len(ring)-1)%len(ring)]
			dp, dq := depth(p), depth(q)
			if (dp >= 0) != (dq >= 0) {
				t := dq / (dq - dp)
				out = append(out, at(q.x+t*(p.x-q.x), q.y+t*(p.y-q.y)))
			}
			if dp >= 0 {
				out = append(out, p)
			}
		}
		ring = out
	}
	return ring
}
