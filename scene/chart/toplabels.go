// SPDX-License-Identifier: MIT

package chart

import (
	"math"

	"earline/scene/drawing"
)

// topLabel is a text over the field: the name of the y axis, the label of a mark
// or of a span.
type topLabel struct {
	text   string
	x      float64 // where it begins
	row    int     // counted upwards from the field
	mark   float64 // x of the mark that it names; NaN for none
	width  float64
	anchor drawing.Anchor
}

// candidate is a place where a label may begin.
type candidate struct {
	x      float64
	anchor drawing.Anchor
}

// placeTopLabels places the texts over the field in rows and returns how many rows
// there are, 0 to 3. A label without room in three rows is left out; its line or
// hatching stays.
func (d *Layout) placeTopLabels(left, right float64, field drawing.Box) int {
	d.topLabels = d.topLabels[:0]
	if name := shorten(d.y.title(), (right-left)*0.45, d.width); name != "" {
		d.placeTopLabel(left, right, topLabel{text: name, mark: math.NaN(), width: d.width(name)},
			candidate{left, drawing.Start})
	}
	for _, m := range d.chart.Marks {
		at, ok := d.xPixel(m.X)
		if !ok || m.Label == "" {
			continue
		}
		text := shorten(m.Label, (right-left)*0.4, d.width)
		w := d.width(text)
		d.placeTopLabel(left, right, topLabel{text: text, mark: at, width: w},
			candidate{at - w/2, drawing.Middle}, candidate{at - 2*d.k, drawing.Start}, candidate{at - w + 2*d.k, drawing.End})
	}
	for _, s := range d.chart.Outside {
		a, b, ok := d.spanPixels(s, field)
		if !ok || s.Label == "" {
			continue
		}
		text := shorten(s.Label, (right-left)*0.5, d.width)
		w := d.width(text)
		d.placeTopLabel(left, right, topLabel{text: text, mark: math.NaN(), width: w},
			candidate{(a + b - w) / 2, drawing.Middle}, candidate{a, drawing.Start}, candidate{b - w, drawing.End})
	}
	rows := 0
	for _, l := range d.topLabels {
		rows = max(rows, l.row+1)
	}
	return rows
}

// placeTopLabel puts l at the first candidate that is free, in the lowest row that
// has one. The very first label is placed whatever its width.
func (d *Layout) placeTopLabel(left, right float64, l topLabel, candidates ...candidate) {
	const rows = 3
	for l.row = range rows {
		for _, c := range candidates {
			l.x, l.anchor = min(max(c.x, left), right-l.width), c.anchor
			if len(d.topLabels) == 0 || d.topLabelFits(left, right, l) {
				d.topLabels = append(d.topLabels, l)
				return
			}
		}
	}
}

// topLabelFits reports whether l lies between left and right and apart from the
// labels placed so far and from the lines that lead from labels to their marks.
func (d *Layout) topLabelFits(left, right float64, l topLabel) bool {
	k := d.k
	a, b := l.x-4*k, l.x+l.width+4*k
	if a < left-0.5 || b > right+0.5 {
		return false
	}
	for _, u := range d.topLabels {
		ua, ub := u.x-4*k, u.x+u.width+4*k
		switch {
		case u.row == l.row && a < ub && b > ua:
			return false
		case u.row < l.row && l.mark > ua-2*k && l.mark < ub+2*k: // l's line runs through u; false for NaN
			return false
		case u.row > l.row && u.mark > a && u.mark < b: // u's line runs through l
			return false
		}
	}
	return true
}

// topLabelBaseline returns the line on which the texts of a row stand.
func (d *Layout) topLabelBaseline(row int) float64 {
	return d.field.Y0 - (float64(row)*rowHeight+8)*d.k
}

// xPixel returns where v stands, false outside the field.
func (d *Layout) xPixel(v float64) (float64, bool) {
	if !inRange(v) || v < d.x.min || v > d.x.max {
		return 0, false
	}
	return d.x.pixel(v), true
}

// spanPixels returns the ends of a span inside the field; false when there is
// less than half a pixel of it.
func (d *Layout) spanPixels(s Span, f drawing.Box) (a, b float64, ok bool) {
	if math.IsNaN(s.From) || math.IsNaN(s.To) || s.From > s.To {
		return 0, 0, false
	}
	a = min(max(d.x.pixel(min(max(s.From, -maxValue), maxValue)), f.X0), f.X1)
	b = min(max(d.x.pixel(min(max(s.To, -maxValue), maxValue)), f.X0), f.X1)
	return a, b, b > a+0.5
}
