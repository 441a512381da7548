// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"

	"earline/scene/drawing"
)

// mark is a label that waits for its place: near a point, off other words, and if it
// can be off what is drawn.
type mark struct {
	at    drawing.Point
	also  []drawing.Point // other points that would do
	over  bool            // it belongs over or under a level line, not on it
	clear float64         // mm from the point that its thing takes
	lines []string
	layer string
	ink   color.NRGBA
	prior int // lower ones choose first
	on    drawing.Canvas
	in    [3]drawing.Box // where it had better stay, had next best stay, must stay
	item  string         // what it names, for links; may be empty
}

// named is where an item is named on a sheet.
type named struct {
	item string
	box  drawing.Box
}

const (
	lineStep = 1.55 // heights of capitals from line to line
	gap      = 0.6  // mm between a label and other words
	// leaderCost is what it costs to stand on another's leader, square millimetres.
	leaderCost = 60
)

// label asks for a place for lines of text near a point.
func (p *page) label(layer string, ink color.NRGBA, at drawing.Point, clear float64, prior int, lines ...string) {
	if !finite(at) {
		return
	}
	const longest = 60 // mm: a name, not a letter
	var fit []string
	for _, l := range lines {
		if l = p.fitted(l, small, longest); l != "" {
			fit = append(fit, l)
		}
	}
	if len(fit) > 0 {
		p.marks = append(p.marks, mark{at: at, clear: clear, lines: fit, layer: layer, ink: ink, prior: prior, on: p.canvas, in: [3]drawing.Box{p.inner, p.cell, p.area}})
	}
}

// labelIn asks for a place in an outline for what names it; beside it where the
// outline is too small.
func (p *page) labelIn(layer string, ink color.NRGBA, ring []drawing.Point, prior int, lines ...string) {
	b := around(ring)
	w := 0.0
	for _, l := range lines {
		w = max(w, p.width(l, small))
	}
	at := drawing.Pt((b.X0+b.X1)/2, (b.Y0+b.Y1)/2)
	if w < b.Dx()-0.5 && (float64(len(lines)-1)*lineStep+1)*small < b.Dy()-0.5 {
		p.label(layer, ink, at, 0, prior, lines...)
		for _, t := range [4][2]float64{{0.3, 0.3}, {0.7, 0.3}, {0.3, 0.7}, {0.7, 0.7}} {
			p.orAt(drawing.Pt(b.X0+t[0]*b.Dx(), b.Y0+t[1]*b.Dy()))
		}
		return
	}
	p.solids = append(p.solids, b)
	p.label(layer, ink, at, max(min(b.Dx(), b.Dy())/2, 0.1), prior, lines...)
}

// onLine asks for a place over or under a level line for what names it, at any of some
// places along it.
func (p *page) onLine(layer string, ink color.NRGBA, from, to drawing.Point, prior int, lines ...string) {
	at := func(t float64) drawing.Point { return drawing.Pt(from.X+(to.X-from.X)*t, from.Y+(to.Y-from.Y)*t) }
	p.label(layer, ink, at(0.5), 0.3, prior, lines...)
	for _, t := range [6]float64{0.35, 0.65, 0.2, 0.8, 0.1, 0.9} {
		p.orAt(at(t))
	}
	if n := len(p.marks); n > 0 {
		p.marks[n-1].over = true
	}
}

// orAt says that the label asked for last may as well name another point.
func (p *page) orAt(q drawing.Point) {
	if n := len(p.marks); n > 0 && finite(q) {
		p.marks[n-1].also = append(p.marks[n-1].also, q)
	}
}

// naming says that the label asked for last names an item of the set-out list.
func (p *page) naming(item string) {
	if n := len(p.marks); n > 0 {
		p.marks[n-1].item = item
	}
}
