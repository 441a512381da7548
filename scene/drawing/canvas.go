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
	// Fill fills what lies in an odd number of rings: a ring in another is a hole.
	// The last point of each is joined to its first. Rings of fewer than three
	// points are nothing.
	Fill(layer string, ink color.NRGBA, rings ...[]Point)
	// Stroke draws lines, each through its points.
	Stroke(layer string, pen Pen, lines [][]Point)
	// Arc draws an arc of a circle, or a whole one.
	Arc(layer string, pen Pen, a Arc)
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

// Label is a line of text that begins at X, Y and stands on a line through it.
type Label struct {
	X, Y  float64
	Text  string
	Size  float64 // of the type
	Width float64 // of the text, in the typeface it was laid out with
	// Anchor is the part that must stay in place where a reader's typeface is wider
	// or narrower than that one.
	Anchor Anchor
	Bold   bool
	Turn   float64 // of that line from level, in degrees, anticlockwise as one sees it
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
func Scaled(c Canvas, scale float64) Canvas { return Placed(c, Pt(0, 0), scale) }

// Placed returns a canvas like Scaled whose origin lies at a point of c: so a chart
// is put onto a sheet.
func Placed(c Canvas, at Point, scale float64) Canvas {
	return &placed{canvas: c, at: at, scale: scale}
}

type placed struct {
	canvas Canvas
	at     Point
	scale  float64
	points []Point // used again by every call
	lines  [][]Point
	dash   []float64
}

func (s *placed) point(p Point) Point { return Pt(s.at.X+p.X*s.scale, s.at.Y+p.Y*s.scale) }

func (s *placed) all(lines [][]Point) [][]Point {
	s.points, s.lines = s.points[:0], s.lines[:0]
	for _, l := range lines {
		from := len(s.points)
		for _, p := range l {
			s.points = append(s.points, s.point(p))
		}
		s.lines = append(s.lines, s.points[from:len(s.points):len(s.points)])
	}
	return s.lines
}

func (s *placed) pen(pen Pen) Pen {
	s.dash = s.dash[:0]
	for _, d := range pen.Dash {
		s.dash = append(s.dash, d*s.scale)
	}
	pen.Width *= s.scale
	pen.Dash = s.dash
	return pen
}

func (s *placed) Fill(layer string, ink color.NRGBA, rings ...[]Point) {
	s.canvas.Fill(layer, ink, s.all(rings)...)
}

func (s *placed) Stroke(layer string, pen Pen, lines [][]Point) {
	s.canvas.Stroke(layer, s.pen(pen), s.all(lines))
}

func (s *placed) Arc(layer string, pen Pen, a Arc) {
	a.Centre, a.Radius = s.point(a.Centre), a.Radius*s.scale
	s.canvas.Arc(layer, s.pen(pen), a)
}

func (s *placed) Text(layer string, ink color.NRGBA, l Label) {
	p := s.point(Pt(l.X, l.Y))
	l.X, l.Y, l.Size, l.Width = p.X, p.Y, l.Size*s.scale, l.Width*s.scale
	s.canvas.Text(layer, ink, l)
}
