// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"
	"math"

	"earline/scene/drawing"
)

// model takes what is drawn in millimetres of paper, and keeps it in those of the room.
type model struct {
	origin drawing.Point
	scale  float64 // mm of paper to one of the room
	marks  drawing.Marks
}

func (m *model) point(q drawing.Point) drawing.Point {
	return drawing.Pt((q.X-m.origin.X)/m.scale, (q.Y-m.origin.Y)/m.scale)
}

func (m *model) points(lines [][]drawing.Point) [][]drawing.Point {
	out := make([][]drawing.Point, len(lines))
	for i, l := range lines {
		out[i] = make([]drawing.Point, len(l))
		for k, q := range l {
			out[i][k] = m.point(q)
		}
	}
	return out
}

// Fill implements drawing.Canvas.
func (m *model) Fill(layer string, ink color.NRGBA, rings ...[]drawing.Point) {
	m.marks.Add(drawing.Area{Layer: layer, Ink: ink, Rings: m.points(rings)})
}

// Stroke implements drawing.Canvas.
func (m *model) Stroke(layer string, pen drawing.Pen, lines [][]drawing.Point) {
	if len(lines) > 0 {
		m.marks.Add(drawing.Lines{Layer: layer, Pen: pen, Lines: m.points(lines)})
	}
}

// Arc implements drawing.Canvas.
func (m *model) Arc(layer string, pen drawing.Pen, a drawing.Arc) {
	a.Centre, a.Radius = m.point(a.Centre), a.Radius/m.scale
	m.marks.Add(drawing.Curve{Layer: layer, Pen: pen, Arc: a})
}

// Text implements drawing.Canvas.
func (m *model) Text(layer string, ink color.NRGBA, l drawing.Label) {
	w := l.Width * float64(l.Anchor) / 2
	sin, cos := math.Sincos(l.Turn * math.Pi / 180)
	m.marks.Add(drawing.Text{Layer: layer, Ink: ink, At: m.point(drawing.Pt(l.X+w*cos, l.Y-w*sin)), Text: l.Text,
		Size: l.Size, Anchor: l.Anchor, Bold: l.Bold, Turn: l.Turn})
}
