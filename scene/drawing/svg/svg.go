// SPDX-License-Identifier: MIT

// Package svg keeps a drawing, or a sheet, as an SVG 1.1 document. Type is named, not contained,
// with common typefaces that may stand in.
package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"math"
	"strconv"

	"earline/scene/drawing"
)

// Page is what a document is for.
type Page struct {
	Width, Height float64 // in units of the drawing
	Unit          string  // what one is: "mm"; "" is a pixel
	Title         string  // "" for none
	Typeface      *drawing.Typeface
}

// Canvas is a document that is drawn on. Layers are groups with their name as
// class; coming back to a layer begins another group.
type Canvas struct {
	buf   bytes.Buffer
	layer string  // of the group that is open; "" for none
	parts float64 // of a unit that lengths are kept to
}

var _ drawing.Canvas = (*Canvas)(nil)

// New returns an empty document.
func New(p Page) *Canvas {
	c := &Canvas{parts: 100}
	if p.Unit == "mm" {
		c.parts = 1000 // at 1:50 that is a twentieth of a millimetre
	}
	c.buf.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="`)
	c.number(p.Width)
	c.buf.WriteString(p.Unit + `" height="`)
	c.number(p.Height)
	c.buf.WriteString(p.Unit + `" viewBox="0 0 `)
	c.number(p.Width)
	c.buf.WriteByte(' ')
	c.number(p.Height)
	c.buf.WriteString(`" stroke="none" font-family="`)
	if name := p.Typeface.Family(); name != "" {
		c.escape("'" + name + "', ")
	}
	c.buf.WriteString("Arial, Helvetica, sans-serif\">\n")
	if p.Title != "" {
		c.buf.WriteString("<title>")
		c.escape(p.Title)
		c.buf.WriteString("</title>\n")
	}
	return c
}

// Close ends the document and returns it. Nothing may be drawn afterwards.
func (c *Canvas) Close() []byte {
	c.onto("")
	c.buf.WriteString("</svg>\n")
	return c.buf.Bytes()
}

// onto makes layer the one that is drawn on.
func (c *Canvas) onto(layer string) {
	if layer == c.layer {
		return
	}
	if c.layer != "" {
		c.buf.WriteString("</g>\n")
	}
	c.layer = layer
	if layer != "" {
		c.buf.WriteString(`<g class="`)
		c.escape(layer)
		c.buf.WriteString("\">\n")
	}
}

// escape writes text as XML may hold it. A buffer takes everything.
func (c *Canvas) escape(text string) { _ = xml.EscapeText(&c.buf, []byte(text)) }

// number writes a length.
func (c *Canvas) number(x float64) {
	c.buf.WriteString(strconv.FormatFloat(math.Round(x*c.parts)/c.parts, 'f', -1, 64))
}

func (c *Canvas) path(line []drawing.Point) {
	for i, p := range line {
		c.buf.WriteByte("ML"[min(i, 1)])
		c.number(p.X)
		c.buf.WriteByte(' ')
		c.number(p.Y)
	}
}

// paint writes a colour as that attribute, and its opacity.
func (c *Canvas) paint(attribute string, ink color.NRGBA) {
	fmt.Fprintf(&c.buf, ` %s="#%02x%02x%02x"`, attribute, ink.R, ink.G, ink.B)
	if ink.A < 255 {
		fmt.Fprintf(&c.buf, ` %s-opacity="%.3f"`, attribute, float64(ink.A)/255)
	}
}

// Fill implements drawing.Canvas.
func (c *Canvas) Fill(layer string, ink color.NRGBA, rings ...[]drawing.Point) {
	n := 0
	for _, ring := range rings {
		if len(ring) < 3 {
			continue
		}
		if n++; n == 1 {
			c.onto(layer)
			c.buf.WriteString(`<path d="`)
		}
		c.path(ring)
		c.buf.WriteByte('Z')
	}
	if n == 0 {
		return
	}
	c.buf.WriteByte('"')
	if n > 1 {
		c.buf.WriteString(` fill-rule="evenodd"`)
	}
	c.paint("fill", ink)
	c.buf.WriteString("/>\n")
}

// Stroke implements drawing.Canvas.
func (c *Canvas) Stroke(layer string, pen drawing.Pen, lines [][]drawing.Point) {
	if len(lines) == 0 {
		return
	}
	c.onto(layer)
	c.buf.WriteString(`<path d="`)
	for _, l := range lines {
		if n := len(l); n > 3 && l[0] == l[n-1] {
			c.path(l[:n-1])
			c.buf.WriteByte('Z') // so that the last corner is one
			continue
		}
		c.path(l)
	}
	c.buf.WriteByte('"')
	c.pen(pen)
}

// Arc implements drawing.Canvas.
func (c *Canvas) Arc(layer string, pen drawing.Pen, a drawing.Arc) {
	c.onto(layer)
	if a.Whole() {
		c.buf.WriteString(`<circle cx="`)
		c.number(a.Centre.X)
		c.buf.WriteString(`" cy="`)
		c.number(a.Centre.Y)
		c.buf.WriteString(`" r="`)
		c.number(a.Radius)
	} else {
		c.buf.WriteString(`<path d="`)
		c.path([]drawing.Point{a.At(a.From)})
		c.buf.WriteByte('A')
		c.number(a.Radius)
		c.buf.WriteByte(' ')
		c.number(a.Radius)
		large, onward := 0, 0 // onward is clockwise as one sees it
		if math.Abs(a.Sweep) > 180 {
			large = 1
		}
		if a.Sweep < 0 {
			onward = 1
		}
		fmt.Fprintf(&c.buf, " 0 %d %d ", large, onward)
		end := a.At(a.From + a.Sweep)
		c.number(end.X)
		c.buf.WriteByte(' ')
		c.number(end.Y)
	}
	c.buf.WriteByte('"')
	c.pen(pen)
}

// pen writes how a line is drawn and ends the element.
func (c *Canvas) pen(pen drawing.Pen) {
	c.buf.WriteString(` fill="none"`)
	c.paint("stroke", pen.Ink)
	c.buf.WriteString(` stroke-width="`)
	c.number(pen.Width)
	c.buf.WriteByte('"')
	for i, d := range pen.Dash {
		c.buf.WriteString([2]string{` stroke-dasharray="`, " "}[min(i, 1)])
		c.number(d)
	}
	if len(pen.Dash) > 0 {
		c.buf.WriteByte('"')
	}
	c.buf.WriteString("/>\n")
}

// Text implements drawing.Canvas.
func (c *Canvas) Text(layer string, ink color.NRGBA, l drawing.Label) {
	c.onto(layer)
	c.buf.WriteString(`<text x="`)
	at := l.Stands()
	c.number(at.X)
	switch l.Anchor {
	case drawing.Middle:
		c.buf.WriteString(`" text-anchor="middle`)
	case drawing.End:
		c.buf.WriteString(`" text-anchor="end`)
	}
	c.buf.WriteString(`" y="`)
	c.number(at.Y)
	c.buf.WriteString(`" font-size="`)
	c.number(l.Size)
	if l.Bold {
		c.buf.WriteString(`" font-weight="bold`)
	}
	if l.Turn != 0 {
		c.buf.WriteString(`" transform="rotate(`)
		for _, v := range []float64{-l.Turn, at.X, at.Y} {
			c.number(v)
			c.buf.WriteByte(' ')
		}
		c.buf.WriteByte(')')
	}
	c.buf.WriteByte('"')
	c.paint("fill", ink)
	c.buf.WriteByte('>')
	c.escape(l.Text)
	c.buf.WriteString("</text>\n")
}
