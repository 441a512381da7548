// SPDX-License-Identifier: MIT

package plot

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// brush draws in pixels with y down on one of gonum's canvases, whose y is up
// and whose points are our pixels.
type brush struct {
	c vg.Canvas
	h float64
	k float64
}

func (b *brush) at(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(x), Y: vg.Length(b.h - y)}
}

// point is a place in pixels, y down.
type point struct{ x, y float64 }

// patterns are the lengths of strokes and gaps in points.
var patterns = [...][]float64{
	Dashed:     {7, 4},
	Dotted:     {1.6, 3},
	DashDotted: {8, 3, 1.6, 3},
}

// stroke draws lines, wide in pixels.
func (b *brush) stroke(ink color.NRGBA, wide float64, dash Dash, lines ...[]vg.Point) {
	var p vg.Path
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		p.Move(l[0])
		for _, q := range l[1:] {
			p.Line(q)
		}
	}
	if len(p) == 0 {
		return
	}
	b.c.SetColor(ink)
	b.c.SetLineWidth(vg.Length(wide))
	var d []vg.Length
	if int(dash) < len(patterns) {
		for _, v := range patterns[dash] {
			d = append(d, vg.Length(v*b.k))
		}
	}
	b.c.SetLineDash(d, 0)
	b.c.Stroke(p)
}

// hair returns the width of the finest line, whole pixels.
func (b *brush) hair() float64 { return max(math.Round(b.k), 1) }

// crisp moves the middle of a line of that width so that it covers whole pixels.
func crisp(v, wide float64) float64 {
	if int(wide)%2 == 1 {
		return math.Floor(v) + 0.5
	}
	return math.Round(v)
}

func (b *brush) fill(ink color.NRGBA, pts []vg.Point) {
	if len(pts) < 3 {
		return
	}
	var p vg.Path
	p.Move(pts[0])
	for _, q := range pts[1:] {
		p.Line(q)
	}
	p.Close()
	b.c.SetColor(ink)
	b.c.Fill(p)
}

func (b *brush) rect(ink color.NRGBA, r box) {
	b.fill(ink, []vg.Point{b.at(r.x0, r.y0), b.at(r.x1, r.y0), b.at(r.x1, r.y1), b.at(r.x0, r.y1)})
}

func (b *brush) text(face font.Face, ink color.NRGBA, x, y float64, s string) {
	if s == "" {
		return
	}
	b.c.SetColor(ink)
	b.c.FillString(face, b.at(x, math.Round(y)), s)
}

// window returns gonum's clipping to a rectangle.
func (b *brush) window(r box) draw.Canvas {
	return draw.Canvas{Canvas: b.c, Rectangle: vg.Rectangle{Min: b.at(r.x0, r.y1), Max: b.at(r.x1, r.y0)}}
}

// hatch draws slanting lines, pitch apart, in the part of r between low and
// high, which give a pixel down for each pixel across.
func (b *brush) hatch(ink color.NRGBA, r box, pitch float64, high, low func(x float64) float64) {
	var p vg.Path
	step := max(1.5*b.k, 1)
	flush := func(x0, x1, c float64) {
		if x1 > x0 {
			p.Move(b.at(x0, c-x0))
			p.Line(b.at(x1, c-x1))
		}
	}
	// Lines x + y = c, on a grid of the paper so that neighbours join.
	for c := math.Ceil((r.x0+r.y0)/pitch) * pitch; c < r.x1+r.y1; c += pitch {
		x0, x1 := max(r.x0, c-r.y1), min(r.x1, c-r.y0)
		if high == nil {
			flush(x0, x1, c)
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
				flush(from, x, c)
				from = math.NaN()
			}
		}
		if !math.IsNaN(from) {
			flush(from, x1, c)
		}
	}
	if len(p) == 0 {
		return
	}
	b.c.SetColor(ink)
	b.c.SetLineWidth(vg.Length(b.hair()))
	b.c.SetLineDash(nil, 0)
	b.c.Stroke(p)
}

// sign draws the mark of a point: circle, square, triangle, diamond, or cross.
func (b *brush) sign(ink color.NRGBA, n int, x, y, r float64) {
	switch n % 5 {
	case 0:
		var p vg.Path
		p.Move(b.at(x+r, y))
		p.Arc(b.at(x, y), vg.Length(r), 0, 2*math.Pi)
		p.Close()
		b.c.SetColor(ink)
		b.c.Fill(p)
	case 1:
		b.rect(ink, box{x - 0.9*r, y - 0.9*r, x + 0.9*r, y + 0.9*r})
	case 2:
		b.fill(ink, []vg.Point{b.at(x, y-1.2*r), b.at(x+1.1*r, y+0.8*r), b.at(x-1.1*r, y+0.8*r)})
	case 3:
		b.fill(ink, []vg.Point{b.at(x, y-1.3*r), b.at(x+1.3*r, y), b.at(x, y+1.3*r), b.at(x-1.3*r, y)})
	case 4:
		b.stroke(ink, 1.5*b.k, Solid, []vg.Point{b.at(x-r, y-r), b.at(x+r, y+r)}, []vg.Point{b.at(x-r, y+r), b.at(x+r, y-r)})
	}
}
