// SPDX-License-Identifier: MIT

// Package dxf writes the views of sheets as a DXF exchange file, in millimetres and
// in full size, with y up. What lies on the paper alone - frames, title blocks, tables
// - is not in it.
//
// It writes release 12 (AC1009), which every program reads that was tried: layers, line
// types, blocks that are inserted, dimensions that stay dimensions. That release has no
// widths of lines and no hatches; areas are made of SOLID entities and hatches of lines.
package dxf

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"earline/scene/drawing"
)

// Write writes the views of all sheets side by side, each with its name below it. The
// first has the model's origin at 0, 0.
func Write(w io.Writer, sheets []drawing.Sheet, t *drawing.Typeface) error {
	if err := drawing.Check(sheets); err != nil {
		return err
	}
	f := newFile(t)
	for i := range sheets {
		for j := range sheets[i].Views {
			f.view(&sheets[i], &sheets[i].Views[j])
		}
	}
	if !f.any {
		return fmt.Errorf("dxf: found no views, allowed: one or more")
	}
	_, err := w.Write(f.assemble())
	return err
}

// file is a DXF file that is being written: parts that come before the entities hold
// what they turned out to need.
type file struct {
	typeface *drawing.Typeface
	layers   *table[string, int] // colour
	lines    *table[string, []float64]
	styles   *table[style, style] // of dimensions
	inserted *table[blockKey, struct{}]
	blocks   tags
	entities tags
	pictures int // of dimensions
	extent   drawing.Box
	any      bool
}

func newFile(t *drawing.Typeface) *file {
	f := &file{
		typeface: t,
		layers:   newTable[string, int](layerName),
		lines:    newTable[string, []float64](func(s string) string { return s }),
		styles:   newTable[style, style](func(s string) string { return s }),
		inserted: newTable[blockKey, struct{}](layerName),
	}
	f.layers.of("0", "0", colourless)
	return f
}

// viewGap is between views, in mm of the paper.
const viewGap = 40

// view adds a view, to the right of those before it.
func (f *file) view(s *drawing.Sheet, v *drawing.View) {
	b, ok := v.Marks.Bounds(v.Scale, f.typeface)
	if !ok {
		return
	}
	mm := 1 / v.Scale
	at := place{f: f, out: &f.entities, mm: mm}
	if f.any {
		at.dx = f.extent.X1 + viewGap*mm - b.X0
	}
	at.marks(v.Marks)
	const size, below = 5, 12 // mm of the paper
	name := fmt.Sprintf("%s 1:%s", v.Name, strconv.FormatFloat(mm, 'g', 4, 64))
	if s.Number != "" {
		name = s.Number + " " + name
	}
	label := drawing.Text{Layer: "VIEW-NAMES", At: drawing.Pt(b.X0, b.Y1+below*mm), Text: name, Size: size}
	label.Ink.A = 255
	at.text(label)
	r := drawing.Rect(b.X0+at.dx, -b.Y1-below*mm, b.X1+at.dx, -b.Y0)
	if !f.any {
		f.any, f.extent = true, r
		return
	}
	e := f.extent
	f.extent = drawing.Rect(min(e.X0, r.X0), min(e.Y0, r.Y0), max(e.X1, r.X1), max(e.Y1, r.Y1))
}

// place is what marks are written to, and how they lie there.
type place struct {
	f   *file
	out *tags
	dx  float64 // to the right
	mm  float64 // of the model to one of the paper
}

func (p place) marks(m drawing.Marks) {
	for _, k := range m {
		p.mark(k)
	}
}

func (p place) mark(k drawing.Mark) {
	switch k := k.(type) {
	case drawing.Area:
		p.area(k)
	case drawing.Lines:
		for _, l := range k.Lines {
			p.line(k.Layer, k.Pen, l)
		}
	case drawing.Curve:
		p.arc(k)
	case drawing.Text:
		p.text(k)
	case drawing.Dimension:
		p.dimension(k)
	case drawing.Insert:
		p.insert(k)
	}
}

// point writes a point under a group code.
func (p place) point(code int, q drawing.Point) { p.out.point(code, q.X+p.dx, -q.Y) }

// area writes what rings cover as solids. White is left out: it only hides, and paper
// in a drawing program may be black.
func (p place) area(a drawing.Area) {
	if white(a.Ink) {
		return
	}
	for _, q := range trapezia(a.Rings) {
		p.begin("SOLID", a.Layer, a.Ink)
		// The third and fourth are the other way round than one goes around it.
		for i, k := range []int{0, 1, 3, 2} {
			p.point(10+i, q[k])
		}
	}
}

func (p place) line(layer string, pen drawing.Pen, l []drawing.Point) {
	switch n := len(l); {
	case n < 2:
	case n == 2 || p.apart(pen, l):
		for i := 1; i < n; i++ {
			p.begin("LINE", layer, pen.Ink)
			p.dash(pen)
			p.point(10, l[i-1])
			p.point(11, l[i])
		}
	default:
		const closed, onward = 1, 128 // onward: the pattern runs on around corners
		flags := 0
		if len(pen.Dash) > 0 {
			flags = onward
		}
		if l[0] == l[n-1] && n > 3 {
			flags |= closed
			l = l[:n-1]
		}
		p.begin("POLYLINE", layer, pen.Ink)
		p.dash(pen)
		p.out.int(66, 1) // vertices follow
		p.out.point(10, 0, 0)
		p.out.int(70, flags)
		for _, q := range l {
			p.begin("VERTEX", layer, pen.Ink)
			p.point(10, q)
		}
		p.begin("SEQEND", layer, pen.Ink)
	}
}

// apart tells whether a broken line is written piece by piece, as it is where every piece
// holds its pattern: LibreOffice 7.4 draws the pattern of single lines only.
func (p place) apart(pen drawing.Pen, l []drawing.Point) bool {
	pattern := 0.0
	for _, d := range pen.Dash {
		pattern += d * p.mm
	}
	for i := 1; i < len(l); i++ {
		if math.Hypot(l[i].X-l[i-1].X, l[i].Y-l[i-1].Y) < pattern {
			return false
		}
	}
	return pattern > 0
}

func (p place) arc(a drawing.Curve) {
	if a.Whole() {
		p.begin("CIRCLE", a.Layer, a.Pen.Ink)
	} else {
		p.begin("ARC", a.Layer, a.Pen.Ink)
	}
	p.dash(a.Pen)
	p.point(10, a.Centre)
	p.out.number(40, a.Radius)
	if !a.Whole() { // anticlockwise always
		from, to := a.From, a.From+a.Sweep
		p.out.number(50, turned(min(from, to)))
		p.out.number(51, turned(max(from, to)))
	}
}

// turned brings degrees into 0 to 360.
func turned(degrees float64) float64 {
	d := math.Mod(degrees, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// capitals is how high they are in type of size 1: in a DXF file the height of a text
// is theirs. Measured at the H of the Go font.
const capitals = 0.72

func (p place) text(x drawing.Text) {
	width := p.f.typeface.Of(x.Bold).Width(x.Text, x.Size) * p.mm
	s, c := math.Sincos(x.Turn * math.Pi / 180)
	back := width * float64(x.Anchor) / 2
	p.begin("TEXT", x.Layer, x.Ink)
	p.point(10, drawing.Pt(x.At.X-back*c, x.At.Y+back*s))
	p.out.number(40, max(x.Size*capitals*p.mm, 1e-3))
	p.out.text(1, x.Text)
	p.out.number(50, turned(x.Turn))
	p.out.name(7, [2]string{"STANDARD", "BOLD"}[b2i(x.Bold)])
	if x.Anchor != drawing.Start {
		p.out.int(72, int(x.Anchor))
		p.point(11, x.At)
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// dimension writes a dimension, and the block that shows it to programs that do not
// make it anew.
func (p place) dimension(d drawing.Dimension) {
	p.f.pictures++
	picture := "*D" + strconv.Itoa(p.f.pictures)
	marks := d.Picture(1/p.mm, p.f.typeface)
	in := p
	in.out = &tags{}
	in.marks(marks)
	p.f.block(picture, anonymous, in.out)

	look := style{p.mm, d.TypeSize()}
	p.begin("DIMENSION", d.Layer, d.Ink)
	p.out.name(2, picture)
	_, end := d.Ends()
	p.point(10, end)
	for _, k := range marks {
		if x, ok := k.(drawing.Text); ok {
			p.point(11, x.At)
		}
	}
	p.out.int(70, 0) // along a line that is turned
	p.out.text(1, d.Words())
	p.out.name(3, p.f.styles.of("STANDARD", look, look))
	p.point(13, d.A)
	p.point(14, d.B)
	p.out.number(50, turned(d.Turn))
}

// blockKey is a block as it comes out: type in it is as large as the scale asks for.
type blockKey struct {
	*drawing.Block
	mm float64
}

func (p place) insert(i drawing.Insert) {
	key := blockKey{i.Block, 1}
	if sized(i.Block.Marks) {
		key.mm = p.mm
	}
	known := p.f.inserted.has(key)
	name := p.f.inserted.of(i.Block.Name, key, struct{}{})
	if !known {
		in := place{f: p.f, out: &tags{}, mm: p.mm}
		in.marks(i.Block.Marks)
		p.f.block(name, 0, in.out)
	}
	p.out.name(0, "INSERT")
	p.out.name(8, p.layer(i.Layer, colourless))
	p.out.name(2, name)
	p.point(10, i.At)
	p.out.number(50, turned(i.Turn))
}

// sized tells whether marks hold anything that is measured on the paper.
func sized(m drawing.Marks) bool {
	for _, k := range m {
		switch k := k.(type) {
		case drawing.Text, drawing.Dimension:
			return true
		case drawing.Lines:
			if len(k.Pen.Dash) > 0 {
				return true
			}
		case drawing.Curve:
			if len(k.Pen.Dash) > 0 {
				return true
			}
		case drawing.Insert:
			if sized(k.Block.Marks) {
				return true
			}
		}
	}
	return false
}
