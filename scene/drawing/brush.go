// SPDX-License-Identifier: MIT

package drawing

import (
	"image/color"
	"math"
)

// Brush draws on a canvas what drawings are made of. Sizes that the eye needs - the
// finest line, the pattern of a broken one - are given in points of 1/72 inch and
// come out alike on every canvas.
type Brush struct {
	// Layer is the one that what is drawn next lies on; "" is none.
	Layer  string
	canvas Canvas
	scale  float64 // units of the canvas to a point
	pixels bool    // units are pixels: hairs cover whole ones
}

// OnPixels returns a brush for a canvas whose units are pixels, scale of them to
// a point.
func OnPixels(c Canvas, scale float64) *Brush { return &Brush{canvas: c, scale: scale, pixels: true} }

// OnPaper returns a brush for a canvas whose units are millimetres.
func OnPaper(c Canvas) *Brush {
	const point = 25.4 / 72 // mm
	return &Brush{canvas: c, scale: point}
}

// Dash is the pattern of a line.
type Dash uint8

// The patterns. Auto leaves the choice to whoever draws; a brush draws it solid.
const (
	Auto Dash = iota
	Solid
	Dashed
	Dotted
	DashDotted
)

// patterns are the lengths of strokes and gaps in points.
var patterns = [...][]float64{
	Dashed:     {7, 4},
	Dotted:     {1.6, 3},
	DashDotted: {8, 3, 1.6, 3},
}

// Fill fills rings, as Canvas does.
func (b *Brush) Fill(ink color.NRGBA, rings ...[]Point) { b.canvas.Fill(b.Layer, ink, rings...) }

// Text writes a label; on a display it stands on a whole pixel.
func (b *Brush) Text(ink color.NRGBA, l Label) {
	if b.pixels {
		l.Y = math.Round(l.Y)
	}
	b.canvas.Text(b.Layer, ink, l)
}

// Lines draws lines of that width, in units of the canvas, in a pattern.
func (b *Brush) Lines(ink color.NRGBA, width float64, dash Dash, lines ...[]Point) {
	b.canvas.Stroke(b.Layer, b.pen(ink, width, dash), lines)
}

// Arc draws an arc like a line.
func (b *Brush) Arc(ink color.NRGBA, width float64, dash Dash, a Arc) {
	b.canvas.Arc(b.Layer, b.pen(ink, width, dash), a)
}

func (b *Brush) pen(ink color.NRGBA, width float64, dash Dash) Pen {
	pen := Pen{Ink: ink, Width: width}
	if int(dash) < len(patterns) {
		for _, v := range patterns[dash] {
			pen.Dash = append(pen.Dash, v*b.scale)
		}
	}
	return pen
}

// Hair returns the width of the finest line: a point in whole pixels on a
// display, half a point on paper.
func (b *Brush) Hair() float64 {
	if b.pixels {
		return max(math.Round(b.scale), 1)
	}
	return b.scale / 2
}

// Crisp moves the middle of a hair so that it covers whole pixels; on paper it
// stays.
func (b *Brush) Crisp(v float64) float64 {
	switch {
	case !b.pixels:
		return v
	case int(b.Hair())%2 == 1:
		return math.Floor(v) + 0.5
	}
	return math.Round(v)
}

// Vertical draws a crisp hair at x.
func (b *Brush) Vertical(ink color.NRGBA, x, y0, y1 float64) {
	x, h := b.Crisp(x), b.Hair()/2
	b.Rect(ink, Box{x - h, min(y0, y1), x + h, max(y0, y1)})
}

// Horizontal draws a crisp hair at y.
func (b *Brush) Horizontal(ink color.NRGBA, y, x0, x1 float64) {
	y, h := b.Crisp(y), b.Hair()/2
	b.Rect(ink, Box{x0, y - h, x1, y + h})
}

// Frame draws hairs just inside r, whose corners are whole pixels on a display.
func (b *Brush) Frame(ink color.NRGBA, r Box) {
	h := b.Hair()
	b.Rect(ink, Box{r.X0, r.Y0, r.X1, r.Y0 + h})
	b.Rect(ink, Box{r.X0, r.Y1 - h, r.X1, r.Y1})
	b.Rect(ink, Box{r.X0, r.Y0 + h, r.X0 + h, r.Y1 - h})
	b.Rect(ink, Box{r.X1 - h, r.Y0 + h, r.X1, r.Y1 - h})
}

// Rect fills r; nothing when it has no area.
func (b *Brush) Rect(ink color.NRGBA, r Box) {
	if r.X1 > r.X0 && r.Y1 > r.Y0 {
		b.Fill(ink, []Point{{r.X0, r.Y0}, {r.X1, r.Y0}, {r.X1, r.Y1}, {r.X0, r.Y1}})
	}
}

// Hatch draws slanting hairs, pitch apart along the axes, in the part of r between
// high and low, the y of its upper and lower edge at each x; nil is all of r.
func (b *Brush) Hatch(ink color.NRGBA, r Box, pitch float64, high, low func(x float64) float64) {
	var out [][]Point
	step := 1.5 * b.scale // from one place asked for high and low to the next
	if b.pixels {
		step = max(step, 1)
	}
	put := func(x0, x1, c float64) {
		if x1 > x0 {
			out = append(out, []Point{{x0, c - x0}, {x1, c - x1}})
		}
	}
	// Lines x + y = c, on a grid of the canvas so that neighbours join.
	for c := math.Ceil((r.X0+r.Y0)/pitch) * pitch; c < r.X1+r.Y1; c += pitch {
		x0, x1 := max(r.X0, c-r.Y1), min(r.X1, c-r.Y0)
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
	b.canvas.Stroke(b.Layer, Pen{Ink: ink, Width: b.Hair()}, out)
}

// Symbol marks a point with the nth of five shapes - disc, square, triangle,
// diamond, cross - of about radius r.
func (b *Brush) Symbol(ink color.NRGBA, n int, x, y, r float64) {
	switch n % 5 {
	case 0:
		const corners = 24
		ring := make([]Point, corners)
		for i := range ring {
			s, c := math.Sincos(2 * math.Pi * float64(i) / corners)
			ring[i] = Pt(x+r*c, y+r*s)
		}
		b.Fill(ink, ring)
	case 1:
		b.Rect(ink, Box{x - 0.9*r, y - 0.9*r, x + 0.9*r, y + 0.9*r})
	case 2:
		b.Fill(ink, []Point{{x, y - 1.2*r}, {x + 1.1*r, y + 0.8*r}, {x - 1.1*r, y + 0.8*r}})
	case 3:
		b.Fill(ink, []Point{{x, y - 1.3*r}, {x + 1.3*r, y}, {x, y + 1.3*r}, {x - 1.3*r, y}})
	case 4:
		b.Lines(ink, 1.5*b.scale, Solid, []Point{{x - r, y - r}, {x + r, y + r}}, []Point{{x - r, y + r}, {x + r, y - r}})
	}
}
