// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"
	"math"
	"strings"

	"earline/scene/drawing"
)

// capital is the height of a capital letter of the Go font, in sizes of its type
// (measured: 1480 of 2048 units); drop is how far its letters reach below the line.
const (
	capital = 0.7227
	drop    = 0.21
)

// page is a sheet while it is drawn on: it knows where words stand, so that no two
// stand on one another.
type page struct {
	canvas  drawing.Canvas // the view that is drawn, or the paper itself
	face    *drawing.Typeface
	sheet   drawing.Sheet
	area    drawing.Box // for views and tables: inside the frame, over the title block
	words   []word
	solids  []drawing.Box // what labels had better not cover
	marks   []mark        // labels that wait for their places
	drawn   []placed      // views, in the order of drawing
	cell    drawing.Box   // the part of area that the view takes
	inner   drawing.Box   // and of that the room itself; zero: as cell
	leaders [][2]drawing.Point
	named   []named // items, where they are named
	wants   []named // places that lead to the drawing of an item
}

// placed is a view on its page.
type placed struct {
	name  string
	model *model
	as    *drawn
}

// word is a line of text in its place.
type word struct {
	text string
	box  drawing.Box
}

// lines draws lines of that width, not broken.
func (p *page) lines(layer string, ink color.NRGBA, width float64, lines ...[]drawing.Point) {
	p.canvas.Stroke(layer, drawing.Pen{Ink: ink, Width: width}, lines)
}

// dashed draws broken lines.
func (p *page) dashed(layer string, ink color.NRGBA, width float64, lines ...[]drawing.Point) {
	p.canvas.Stroke(layer, drawing.Pen{Ink: ink, Width: width, Dash: []float64{2, 1}}, lines)
}

// chained draws lines of long and short strokes, as axes are drawn.
func (p *page) chained(layer string, ink color.NRGBA, width float64, lines ...[]drawing.Point) {
	p.canvas.Stroke(layer, drawing.Pen{Ink: ink, Width: width, Dash: []float64{6, 1, 0.5, 1}}, lines)
}

// rect draws the edges of a box.
func (p *page) rect(layer string, ink color.NRGBA, width float64, b drawing.Box) {
	p.lines(layer, ink, width, closed(corners(b)))
}

// fill fills a ring.
func (p *page) fill(layer string, ink color.NRGBA, ring []drawing.Point) {
	p.canvas.Fill(layer, ink, ring)
}

// size returns the size of type whose capitals are so high.
func size(height float64) float64 { return height / capital }

// width returns how wide a text is whose capitals are so high.
func (p *page) width(text string, height float64) float64 { return p.face.Width(text, size(height)) }

// text writes a line of text whose capitals are height high, on the line y; x is its
// start, middle or end.
func (p *page) text(layer string, ink color.NRGBA, x, y, height float64, a drawing.Anchor, text string) {
	if text == "" {
		return
	}
	w := p.width(text, height)
	switch a {
	case drawing.Middle:
		x -= w / 2
	case drawing.End:
		x -= w
	}
	p.words = append(p.words, word{text, textBox(x, y, w, height)})
	p.canvas.Text(layer, ink, drawing.Label{X: x, Y: y, Text: text, Size: size(height), Width: w, Anchor: a})
}

// textBox returns what a line of text covers.
func textBox(x, y, w, height float64) drawing.Box {
	return drawing.Rect(x, y-height, x+w, y+drop*size(height))
}

// textUp writes a line of text that reads from the right-hand side of the sheet,
// upwards, along the line x; y is its start, middle or end.
func (p *page) textUp(layer string, ink color.NRGBA, x, y, height float64, a drawing.Anchor, text string) {
	if text == "" {
		return
	}
	w := p.width(text, height)
	switch a {
	case drawing.Middle:
		y += w / 2
	case drawing.End:
		y += w
	}
	p.words = append(p.words, word{text, drawing.Rect(x-height, y-w, x+drop*size(height), y)})
	p.canvas.Text(layer, ink, drawing.Label{X: x, Y: y, Text: text, Size: size(height), Width: w, Anchor: a, Turn: 90})
}

// fitted returns text, shortened until it is no wider than room.
func (p *page) fitted(text string, height, room float64) string {
	if p.width(text, height) <= room {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 {
		letters = letters[:len(letters)-1]
		if short := strings.TrimRight(string(letters), " ,.") + "…"; p.width(short, height) <= room {
			return short
		}
	}
	return ""
}

// wrapped breaks text between words into lines no wider than room.
func (p *page) wrapped(text string, height, room float64) (out []string) {
	line := ""
	for _, w := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + w)
		if line != "" && p.width(longer, height) > room {
			out = append(out, line)
			longer = w
		}
		line = p.fitted(longer, height, room)
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// circle draws a circle.
func (p *page) circle(layer string, ink color.NRGBA, width float64, at drawing.Point, r float64) {
	p.canvas.Arc(layer, drawing.Pen{Ink: ink, Width: width}, drawing.Circle(at, r))
}

// hatch draws slanting lines in what an odd number of rings hold.
func (p *page) hatch(layer string, ink color.NRGBA, pitch float64, rings ...[]drawing.Point) {
	p.lines(layer, ink, finest, drawing.Hatch(pitch, 45, rings...)...)
}

// corners returns the corners of a box.
func corners(b drawing.Box) []drawing.Point {
	return []drawing.Point{{X: b.X0, Y: b.Y0}, {X: b.X1, Y: b.Y0}, {X: b.X1, Y: b.Y1}, {X: b.X0, Y: b.Y1}}
}

// closed returns the line round a ring.
func closed(ring []drawing.Point) []drawing.Point {
	if len(ring) == 0 {
		return nil
	}
	return append(ring[:len(ring):len(ring)], ring[0])
}

// grown returns a box with so much more on every side.
func grown(b drawing.Box, by float64) drawing.Box {
	return drawing.Rect(b.X0-by, b.Y0-by, b.X1+by, b.Y1+by)
}

// overlap returns the area that two boxes share.
func overlap(a, b drawing.Box) float64 {
	w, h := min(a.X1, b.X1)-max(a.X0, b.X0), min(a.Y1, b.Y1)-max(a.Y0, b.Y0)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// around returns the box about points.
func around(points []drawing.Point) drawing.Box {
	b := drawing.Rect(math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1))
	for _, q := range points {
		b = drawing.Rect(min(b.X0, q.X), min(b.Y0, q.Y), max(b.X1, q.X), max(b.Y1, q.Y))
	}
	return b
}
