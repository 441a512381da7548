// SPDX-License-Identifier: MIT

// Package svg keeps a drawing as an SVG 1.1 document. Type is named, not contained,
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
	layer string // of the group that is open; "" for none
}

var _ drawing.Canvas = (*Canvas)(nil)

// New returns an empty document.
func New(p Page) *Canvas {
	c := &Canvas{}
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

// number writes a length to a hundredth of a unit.
func (c *Canvas) number(x float64) {
	c.buf.WriteString(strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64))
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
func (c *Canvas) Fill(layer string, ink color.NRGBA, ring []drawing.Point) {
	if len(ring) < 3 {
		return
	}
	c.onto(layer)
	c.buf.WriteString(`<path d="`)
	c.path(ring)
	c.buf.WriteString(`Z"`)
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
		c.path(l)
	}
	c.buf.WriteString(`" fill="none"`)
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
	switch l.Anchor {
	case drawing.Middle:
		c.number(l.X + l.Width/2)
		c.buf.WriteString(`" text-anchor="middle`)
	case drawing.End:
		c.number(l.X + l.Width)
		c.buf.WriteString(`" text-anchor="end`)
	default:
		c.number(l.X)
	}
	c.buf.WriteString(`" y="`)
	c.number(l.Y)
	c.buf.WriteString(`" font-size="`)
	c.number(l.Size)
	c.buf.WriteByte('"')
	c.paint("fill", ink)
	c.buf.WriteByte('>')
	c.escape(l.Text)
	c.buf.WriteString("</text>\n")
}
