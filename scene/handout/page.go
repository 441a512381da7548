// SPDX-License-Identifier: MIT

package handout

import (
	"image/color"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/scene/drawing"
)

// Inks of all handouts; dark grey is easier to read on white than black.
var (
	dark = color.NRGBA{28, 30, 34, 255}
	soft = color.NRGBA{104, 108, 116, 255}
	hair = color.NRGBA{186, 188, 194, 255}
	warm = color.NRGBA{150, 98, 44, 255}
)

// Sizes of type, mm; capitals are about 0.7 of them.
const (
	title  = 9.0
	large  = 5.6
	normal = 4.0
	small  = 3.2
)

// leading is how far lines of text are apart, in their size.
const leading = 1.42

// page is a sheet while it is written on.
type page struct {
	drawing.Sheet
	face *drawing.Typeface
}

func newPage(number, name string, p drawing.Paper, t *drawing.Typeface) *page {
	return &page{Sheet: drawing.Sheet{Number: number, Title: name, Paper: p}, face: t}
}

// text writes one line; it stands on y.
func (p *page) text(x, y, size float64, a drawing.Anchor, bold bool, ink color.NRGBA, text string) {
	if text != "" {
		p.Marks.Add(drawing.Text{Layer: "text", Ink: ink, At: drawing.Pt(x, y), Text: text, Size: size, Anchor: a, Bold: bold})
	}
}

// width returns how wide a line is.
func (p *page) width(text string, size float64, bold bool) float64 {
	return p.face.Of(bold).Width(text, size)
}

// lines breaks text into lines that fit into wide.
func (p *page) lines(text string, size, wide float64, bold bool) []string {
	var out []string
	line := ""
	for _, word := range unit.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && p.width(next, size, bold) > wide {
			out, next = append(out, line), word
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// para writes text in lines from y down and returns where the next may stand.
func (p *page) para(x, y, wide, size float64, bold bool, ink color.NRGBA, text string) float64 {
	for _, line := range p.lines(text, size, wide, bold) {
		y += size * leading
		p.text(x, y-0.3*size, size, drawing.Start, bold, ink, line)
	}
	return y
}

// rule draws a hair across.
func (p *page) rule(x0, x1, y float64) {
	p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: hair, Width: 0.2}, Lines: [][]drawing.Point{{drawing.Pt(x0, y), drawing.Pt(x1, y)}}})
}

// box draws the edges of b.
func (p *page) box(b drawing.Box, ink color.NRGBA, wide float64) {
	p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: ink, Width: wide}, Lines: [][]drawing.Point{{
		drawing.Pt(b.X0, b.Y0), drawing.Pt(b.X1, b.Y0), drawing.Pt(b.X1, b.Y1), drawing.Pt(b.X0, b.Y1), drawing.Pt(b.X0, b.Y0)}}})
}

// fill fills b.
func (p *page) fill(b drawing.Box, ink color.NRGBA) {
	p.Marks.Add(drawing.Area{Layer: "areas", Ink: ink, Rings: [][]drawing.Point{{
		drawing.Pt(b.X0, b.Y0), drawing.Pt(b.X1, b.Y0), drawing.Pt(b.X1, b.Y1), drawing.Pt(b.X0, b.Y1)}}})
}

// paperFor returns the paper of a design: A4, or Letter for one in feet.
func paperFor(d *project.Design) drawing.Paper {
	name := "A4"
	if d.Units == project.Imperial {
		name = "Letter"
	}
	p, _ := drawing.PaperNamed(name)
	return p
}
