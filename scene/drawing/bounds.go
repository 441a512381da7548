// SPDX-License-Identifier: MIT

package drawing

import (
	"image/color"
	"math"
)

// Bounds returns the box around m at a scale, in millimetres of m: type and pictures of
// dimensions are as large as they come out at that scale, pens have no width. False
// where there is nothing.
func (m Marks) Bounds(scale float64, t *Typeface) (Box, bool) {
	b := bounds{Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}}
	m.Draw(&b, Pt(0, 0), scale, t)
	if b.box.X1 < b.box.X0 {
		return Box{}, false
	}
	return Box{b.box.X0 / scale, b.box.Y0 / scale, b.box.X1 / scale, b.box.Y1 / scale}, true
}

// bounds is a canvas that notes how far a drawing reaches.
type bounds struct{ box Box }

func (b *bounds) reach(lines ...[]Point) {
	for _, l := range lines {
		for _, p := range l {
			b.box = Box{min(b.box.X0, p.X), min(b.box.Y0, p.Y), max(b.box.X1, p.X), max(b.box.Y1, p.Y)}
		}
	}
}

func (b *bounds) Fill(_ string, _ color.NRGBA, rings ...[]Point) { b.reach(rings...) }

func (b *bounds) Stroke(_ string, _ Pen, lines [][]Point) { b.reach(lines...) }

func (b *bounds) Arc(_ string, _ Pen, a Arc) { b.reach(a.Points(arcChord)) }

func (b *bounds) Text(_ string, _ color.NRGBA, l Label) { b.reach(l.corners()) }

// corners returns the rectangle that a label takes up, without what hangs below the
// line.
func (l Label) corners() []Point {
	s, c := math.Sincos(l.Turn * math.Pi / 180)
	x, y := -s*l.Size, -c*l.Size
	a, b := l.along(Start), l.along(End)
	return []Point{a, b, {b.X + x, b.Y + y}, {a.X + x, a.Y + y}}
}
