// SPDX-License-Identifier: MIT

package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"math"
	"strconv"

	"golang.org/x/image/font/sfnt"
)

// vectors is an SVG 1.1 document that is drawn on. Type is named, not contained.
type vectors struct {
	b      bytes.Buffer
	letter *typeface
}

var _ canvas = (*vectors)(nil)

func newVectors(w, h int, title string, t *typeface) *vectors {
	v := &vectors{letter: t}
	fmt.Fprintf(&v.b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" stroke="none" font-family="`, w, h, w, h)
	var buf sfnt.Buffer
	if name, err := t.fonts[0].Name(&buf, sfnt.NameIDFamily); err == nil && name != "" {
		v.escape("'" + name + "', ")
	}
	v.b.WriteString("Arial, Helvetica, sans-serif\">\n")
	if title != "" {
		v.b.WriteString("<title>")
		v.escape(title)
		v.b.WriteString("</title>\n")
	}
	return v
}

func (v *vectors) close() []byte {
	v.b.WriteString("</svg>\n")
	return v.b.Bytes()
}

// escape writes text as XML may hold it. A buffer takes everything.
func (v *vectors) escape(text string) { _ = xml.EscapeText(&v.b, []byte(text)) }

// coordinate writes a hundredth of a pixel.
func (v *vectors) coordinate(x float64) {
	v.b.WriteString(strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64))
}

func (v *vectors) path(l []point) {
	for i, p := range l {
		v.b.WriteByte("ML"[min(i, 1)])
		v.coordinate(p.x)
		v.b.WriteByte(' ')
		v.coordinate(p.y)
	}
}

// paint writes a colour as that attribute, and its opacity.
func (v *vectors) paint(what string, c color.NRGBA) {
	fmt.Fprintf(&v.b, ` %s="#%02x%02x%02x"`, what, c.R, c.G, c.B)
	if c.A < 255 {
		fmt.Fprintf(&v.b, ` %s-opacity="%.3f"`, what, float64(c.A)/255)
	}
}

func (v *vectors) fill(ink color.NRGBA, ring []point) {
	if len(ring) < 3 {
		return
	}
	v.b.WriteString(`<path d="`)
	v.path(ring)
	v.b.WriteString(`Z"`)
	v.paint("fill", ink)
	v.b.WriteString("/>\n")
}

func (v *vectors) stroke(ink color.NRGBA, wide float64, dash []float64, lines [][]point) {
	if len(lines) == 0 {
		return
	}
	v.b.WriteString(`<path d="`)
	for _, l := range lines {
		v.path(l)
	}
	v.b.WriteString(`" fill="none"`)
	v.paint("stroke", ink)
	v.b.WriteString(` stroke-width="`)
	v.coordinate(wide)
	v.b.WriteByte('"')
	for i, d := range dash {
		v.b.WriteString([2]string{` stroke-dasharray="`, " "}[min(i, 1)])
		v.coordinate(d)
	}
	if len(dash) > 0 {
		v.b.WriteByte('"')
	}
	v.b.WriteString("/>\n")
}

func (v *vectors) text(ink color.NRGBA, l label) {
	v.b.WriteString(`<text x="`)
	switch l.anchor {
	case middle:
		v.coordinate(l.x + l.wide/2)
		v.b.WriteString(`" text-anchor="middle`)
	case end:
		v.coordinate(l.x + l.wide)
		v.b.WriteString(`" text-anchor="end`)
	default:
		v.coordinate(l.x)
	}
	v.b.WriteString(`" y="`)
	v.coordinate(math.Round(l.y))
	v.b.WriteString(`" font-size="`)
	v.coordinate(v.letter.size(l.big))
	v.b.WriteByte('"')
	v.paint("fill", ink)
	v.b.WriteByte('>')
	v.escape(l.text)
	v.b.WriteString("</text>\n")
}
