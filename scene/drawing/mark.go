// SPDX-License-Identifier: MIT

package drawing

import (
	"image/color"
	"math"
)

// Mark is one thing on a sheet or in a view: [Area], [Lines], [Curve], [Text],
// [Dimension] or [Insert]. Unlike what is drawn on a Canvas it stays what it is, so
// that a back end may keep a dimension as a dimension.
//
// Points and radii are in millimetres of what the mark is in: the paper, a model, a
// block. Pens and type are in millimetres of the paper, at any scale.
type Mark interface {
	// draw draws the mark with what canvases have.
	draw(c Canvas, p pose, t *Typeface)
}

// Marks is a drawing that is kept as it is. It is itself a Canvas: what is drawn on
// it is added.
type Marks []Mark

// Add adds marks.
func (m *Marks) Add(marks ...Mark) { *m = append(*m, marks...) }

// Area is filled where an odd number of rings cover it.
type Area struct {
	Layer string
	Ink   color.NRGBA
	Rings [][]Point
}

// Lines are lines of one pen.
type Lines struct {
	Layer string
	Pen   Pen
	Lines [][]Point
}

// Curve is an arc or a circle.
type Curve struct {
	Layer string
	Pen   Pen
	Arc
}

// Text is a line of text whose anchor stands at a point.
type Text struct {
	Layer  string
	Ink    color.NRGBA
	At     Point
	Text   string
	Size   float64 // mm of the paper; capitals are about 0.7 of it
	Anchor Anchor
	Bold   bool
	Turn   float64 // degrees, as in Label
}

// Block is a symbol that is drawn once and inserted many times, about its origin.
// Marks on layer "" lie on the layer of the insert.
type Block struct {
	Name  string
	Marks Marks
}

// Insert is a block at a place.
type Insert struct {
	Layer string
	Block *Block
	At    Point
	Turn  float64 // degrees, anticlockwise as one sees it
}

// Fill implements Canvas.
func (m *Marks) Fill(layer string, ink color.NRGBA, rings ...[]Point) {
	m.Add(Area{layer, ink, copies(rings)})
}

// Stroke implements Canvas.
func (m *Marks) Stroke(layer string, pen Pen, lines [][]Point) {
	if len(lines) > 0 {
		m.Add(Lines{layer, pen.copy(), copies(lines)})
	}
}

// Arc implements Canvas.
func (m *Marks) Arc(layer string, pen Pen, a Arc) { m.Add(Curve{layer, pen.copy(), a}) }

// Text implements Canvas.
func (m *Marks) Text(layer string, ink color.NRGBA, l Label) {
	m.Add(Text{layer, ink, l.Stands(), l.Text, l.Size, l.Anchor, l.Bold, l.Turn})
}

// Stands returns where the anchor of l stands.
func (l Label) Stands() Point { return l.along(l.Anchor) }

// along returns where a part of l stands.
func (l Label) along(a Anchor) Point {
	s, c := math.Sincos(l.Turn * math.Pi / 180)
	w := l.Width * float64(a) / 2
	return Pt(l.X+w*c, l.Y-w*s)
}

func (p Pen) copy() Pen {
	p.Dash = append([]float64(nil), p.Dash...)
	return p
}

func copies(lines [][]Point) [][]Point {
	out := make([][]Point, len(lines))
	for i, l := range lines {
		out[i] = append([]Point(nil), l...)
	}
	return out
}

// Draw draws m on c, which has one unit to a millimetre of the paper; scale is how
// many of them a millimetre of m has, and at where its origin lies.
func (m Marks) Draw(c Canvas, at Point, scale float64, t *Typeface) {
	m.draw(c, pose{at: at, scale: scale}, t)
}

func (m Marks) draw(c Canvas, p pose, t *Typeface) {
	for _, k := range m {
		k.draw(c, p, t)
	}
}

// pose is how what marks are in lies on the paper.
type pose struct {
	at    Point
	scale float64 // mm of the paper to one of them
	turn  float64 // degrees
	layer string  // of marks that have none
}

func (p pose) point(q Point) Point {
	if p.turn == 0 {
		return Pt(p.at.X+p.scale*q.X, p.at.Y+p.scale*q.Y)
	}
	s, c := math.Sincos(p.turn * math.Pi / 180)
	return Pt(p.at.X+p.scale*(c*q.X+s*q.Y), p.at.Y+p.scale*(c*q.Y-s*q.X))
}

func (p pose) points(lines [][]Point) [][]Point {
	out := make([][]Point, len(lines))
	for i, l := range lines {
		out[i] = make([]Point, len(l))
		for j, q := range l {
			out[i][j] = p.point(q)
		}
	}
	return out
}

func (p pose) on(layer string) string {
	if layer == "" {
		return p.layer
	}
	return layer
}

func (a Area) draw(c Canvas, p pose, _ *Typeface) { c.Fill(p.on(a.Layer), a.Ink, p.points(a.Rings)...) }

func (l Lines) draw(c Canvas, p pose, _ *Typeface) {
	c.Stroke(p.on(l.Layer), l.Pen, p.points(l.Lines))
}

func (a Curve) draw(c Canvas, p pose, _ *Typeface) {
	a.Centre, a.Radius, a.From = p.point(a.Centre), a.Radius*p.scale, a.From+p.turn
	c.Arc(p.on(a.Layer), a.Pen, a.Arc)
}

func (x Text) draw(c Canvas, p pose, t *Typeface) {
	at, turn, width := p.point(x.At), x.Turn+p.turn, t.Of(x.Bold).Width(x.Text, x.Size)
	start := Label{X: at.X, Y: at.Y, Width: -width, Turn: turn}.along(x.Anchor)
	c.Text(p.on(x.Layer), x.Ink, Label{
		X: start.X, Y: start.Y, Text: x.Text, Size: x.Size, Width: width, Anchor: x.Anchor, Bold: x.Bold, Turn: turn,
	})
}

func (d Dimension) draw(c Canvas, p pose, t *Typeface) { d.Picture(p.scale, t).draw(c, p, t) }

func (i Insert) draw(c Canvas, p pose, t *Typeface) {
	i.Block.Marks.draw(c, pose{p.point(i.At), p.scale, p.turn + i.Turn, p.on(i.Layer)}, t)
}
