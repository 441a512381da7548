// SPDX-License-Identifier: MIT

package drawing

import "image/color"

// Canvas is what a drawing is kept on: a picture, a vector file, a page. All
// lengths are in its units.
//
// A layer is a name without spaces; "" is none. A canvas without layers ignores
// it. What is drawn later covers what was drawn before, whatever the layer.
//
// A canvas keeps none of the slices that it is given.
type Canvas interface {
	// Fill fills a ring, whose last point is joined to the first. Fewer than
	// three points are nothing.
	Fill(layer string, ink color.NRGBA, ring []Point)
	// Stroke draws lines, each through its points.
	Stroke(layer string, pen Pen, lines [][]Point)
	// Text writes a label.
	Text(layer string, ink color.NRGBA, l Label)
}

// Pen is how a line is drawn.
type Pen struct {
	Ink   color.NRGBA
	Width float64
	// Dash holds the lengths of strokes and gaps in turn, beginning with a stroke;
	// empty for a line that is not broken.
	Dash []float64
}

// Label is a line of text that begins at X and stands on the line at Y.
type Label struct {
	X, Y  float64
	Text  string
	Size  float64 // of the type
	Width float64 // of the text, in the typeface it was laid out with
	// Anchor is the part that must stay in place where a reader's typeface is wider
	// or narrower than that one.
	Anchor Anchor
}

// Anchor is a part of a text.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Scaled returns a canvas that draws on c with every length multiplied by scale:
// how many units of c a unit of the drawing has. So a sheet in millimetres is kept
// on a canvas of points (72/25.4) or pixels.
func Scaled(c Canvas, scale float64) Canvas { return &scaled{canvas: c, scale: scale} }

type scaled struct {
	canvas Canvas
	scale  float64
	points []Point // used again by every call
	lines  [][]Point
	dash   []float64
}

func (s *scaled) add(line []Point) []Point {
	from := len(s.points)
	for _, p := range line {
		s.points = append(s.points, Pt(p.X*s.scale, p.Y*s.scale))
	}
	return s.points[from:len(s.points):len(s.points)]
}

func (s *scaled) Fill(layer string, ink color.NRGBA, ring []Point) {
	s.points = s.points[:0]
	s.canvas.Fill(layer, ink, s.add(ring))
}

func (s *scaled) Stroke(layer string, pen Pen, lines [][]Point) {
	s.points, s.lines, s.dash = s.points[:0], s.lines[:0], s.dash[:0]
	for _, l := range lines {
		s.lines = append(s.lines, s.add(l))
	}
	for _, d := range pen.Dash {
		s.dash = append(s.dash, d*s.scale)
	}
	pen.Width *= s.scale
	pen.Dash = s.dash
	s.canvas.Stroke(layer, pen, s.lines)
}

func (s *scaled) Text(layer string, ink color.NRGBA, l Label) {
	l.X, l.Y, l.Size, l.Width = l.X*s.scale, l.Y*s.scale, l.Size*s.scale, l.Width*s.scale
	s.canvas.Text(layer, ink, l)
}
