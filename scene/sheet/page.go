// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"
	"math"

	"earline/scene/drawing"
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
	dear    []drawing.Box // what they must not cover: loudspeakers, lamps and cut-outs
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

// circle draws a circle.
func (p *page) circle(layer string, ink color.NRGBA, width float64, at drawing.Point, r float64) {
	p.canvas.Arc(layer, drawing.Pen{Ink: ink, Width: width}, drawing.Circle(at, r))
}

// cross marks a point with two strokes, each that long to either side.
func (p *page) cross(layer string, ink color.NRGBA, width float64, at drawing.Point, arm float64) {
	p.lines(layer, ink, width, []drawing.Point{{X: at.X - arm, Y: at.Y}, {X: at.X + arm, Y: at.Y}}, []drawing.Point{{X: at.X, Y: at.Y - arm}, {X: at.X, Y: at.Y + arm}})
}

// hatch draws slanting lines in what an odd number of rings hold.
func (p *page) hatch(layer string, ink color.NRGBA, pitch float64, rings ...[]drawing.Point) {
	p.lines(layer, ink, finest, drawing.Hatch(pitch, 45, rings...)...)
}

// arrow draws a line with a head at its end.
func (p *page) arrow(layer string, ink color.NRGBA, from, to drawing.Point) {
	dx, dy := to.X-from.X, to.Y-from.Y
	l := math.Hypot(dx, dy)
	if l < 1e-6 {
		return
	}
	dx, dy = dx/l, dy/l
	const long, wide = 2.2, 0.7 // mm
	base := drawing.Pt(to.X-long*dx, to.Y-long*dy)
	p.lines(layer, ink, thin, []drawing.Point{from, base})
	p.fill(layer, ink, []drawing.Point{to, {X: base.X - wide*dy, Y: base.Y + wide*dx}, {X: base.X + wide*dy, Y: base.Y - wide*dx}})
}

// dot fills a disc.
func (p *page) dot(layer string, ink color.NRGBA, at drawing.Point, r float64) {
	p.fill(layer, ink, arc(at, r, 0, 2*math.Pi, 12))
}
