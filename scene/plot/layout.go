// SPDX-License-Identifier: MIT

package plot

import (
	"math"
	"strings"
)

// Paper is what a chart is drawn on.
type Paper struct {
	W, H int // pixels
	// Scale is how many pixels a point of type and of lines has: 1 on common
	// displays, 2 where they are twice as fine. 0 is 1.
	Scale float64
	Style Style
}

// Drawing is a chart arranged on a paper. The chart must not change while it is
// in use.
type Drawing struct {
	chart   *Chart
	paper   Paper
	k       float64 // pixels a point
	letters *typeface
	field   box // where the lines are
	x, y    scale
	looks   []look // of the series

	texts  []label
	legend []entry
	lanes  []lane
	empty  bool // too small for anything but the ground
	noted  bool // the note is written
}

// box is a rectangle in pixels, y down.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) dx() float64 { return b.x1 - b.x0 }
func (b box) dy() float64 { return b.y1 - b.y0 }

// label is a line of text from x on with its foot at y.
type label struct {
	x, y float64
	text string
	big  bool // the title's size
	soft bool // in the fainter ink
	wide float64
	anchor
}

// anchor is which part of a text stays in place in another typeface.
type anchor uint8

const (
	start anchor = iota
	middle
	end
)

// Sizes in points.
const (
	textSize  = 11
	titleSize = 12.5
	rowHeight = 15
	foot      = 11 // from the top of a row to the line its text stands on
	margin    = 6
	sample    = 24 // of a line in the legend
)

// Lay arranges c on a paper: what is written where, the ends of the axes, the
// place of the field. It takes about a tenth of a millisecond and panics for no
// chart and no paper; on one too small for a field nothing is drawn, on one less
// than 200 points high no note.
func (c *Chart) Lay(p Paper) *Drawing {
	if !(p.Scale > 0) {
		p.Scale = 1
	}
	p.Scale = min(max(p.Scale, 0.25), 16)
	p.W, p.H = max(p.W, 1), max(p.H, 1)
	k := p.Scale
	d := &Drawing{chart: c, paper: p, k: k, letters: newTypeface(&p.Style, k)}
	d.looks = c.looks()
	w, h := float64(p.W), float64(p.H)
	if w < 120*k || h < 60*k {
		d.empty = true
		d.field = box{0, 0, w, h}
		d.x, d.y = d.scales(d.field)
		return d
	}
	top, bottom := margin*k/2, h-margin*k/2
	left, right := margin*k, w-margin*k
	if c.Title != "" {
		t := shorten(c.Title, right-left, d.letters.wideBig)
		d.texts = append(d.texts, label{x: left, y: top + 12*k, text: t, big: true, wide: d.letters.wideBig(t)})
		top += 18 * k
	}
	top, right = d.layLegend(left, right, top, bottom)
	if h >= 200*k {
		bottom -= d.layNote(left, right, bottom)
		d.noted = true
	}

	// The ends of the axes decide how wide their numbers are, which decides how
	// long the axes are: twice is enough.
	field := box{left + 40*k, top + rowHeight*k, right - 8*k, bottom - 2*rowHeight*k}
	for range 2 {
		d.x, d.y = d.scales(field)
		field.x0 = left + d.numbers() + 6*k
		rows := d.layLanes(left, right, field)
		field.y0 = top + (float64(rows)*rowHeight+5)*k
		field.y1 = bottom - d.under()
	}
	if field.dx() < 40*k || field.dy() < 16*k {
		d.empty = true
		d.field = box{0, 0, w, h}
		d.x, d.y = d.scales(d.field)
		d.texts, d.legend, d.lanes = nil, nil, nil
		return d
	}
	field.x0, field.y0 = math.Round(field.x0), math.Round(field.y0)
	field.x1, field.y1 = math.Round(field.x1), math.Round(field.y1)
	d.field = field
	d.x, d.y = d.scales(field)
	d.layLanes(left, right, field)
	d.layTicks(left, right)
	return d
}

// Noted reports whether the drawing has room for the chart's note.
func (d *Drawing) Noted() bool { return d.noted && !d.empty }

// scales returns both axes over a field.
func (d *Drawing) scales(f box) (x, y scale) {
	rx, ry := d.chart.reach()
	x = newScale(&d.chart.X, rx, true, f.x0, f.x1, d.k, d.letters.wide)
	y = newScale(&d.chart.Y, ry, false, f.y1, f.y0, d.k, d.letters.wide)
	return x, y
}

// numbers returns how wide what is written beside the y axis is.
func (d *Drawing) numbers() float64 {
	w := 0.0
	for _, t := range d.y.ticks {
		w = max(w, d.letters.wide(t.text))
	}
	return w
}

// layTicks places the numbers of both axes and the name of the lower one.
func (d *Drawing) layTicks(left, right float64) {
	k, f := d.k, d.field
	soft := func(x, y, wide float64, text string, a anchor) {
		if text != "" {
			d.texts = append(d.texts, label{x: x, y: y, text: text, soft: true, wide: wide, anchor: a})
		}
	}
	last := math.Inf(1) // in fields hardly higher than a number
	for _, t := range d.y.ticks {
		if p := d.y.pixel(t.v); t.text != "" && p > f.y0-k && p < f.y1+k && last-p > 12*k {
			last = p
			w := d.letters.wide(t.text)
			soft(f.x0-6*k-w, min(p+4*k, f.y1+3*k), w, t.text, end)
		}
	}
	edge := math.Inf(-1) // where the number before ends; the last may be moved back
	for _, t := range d.x.ticks {
		before := edge
		for i, text := range []string{t.text, t.below} {
			w := d.letters.wide(text)
			x := min(max(d.x.pixel(t.v)-w/2, left), right-w)
			if x > before+3*k {
				soft(x, f.y1+(14+12*float64(i))*k, w, text, middle)
			}
			if text != "" {
				edge = max(edge, x+w)
			}
		}
	}
	n := shorten(d.x.named(), f.dx(), d.letters.wide)
	w := d.letters.wide(n)
	soft(f.x0+(f.dx()-w)/2, f.y1+d.under()-2*k, w, n, middle)
}

// under returns how high what stands under the field is: numbers, on two lines
// where names of categories need them, and the name of the axis.
func (d *Drawing) under() float64 {
	h := 17.0
	for _, t := range d.x.ticks {
		if t.below != "" {
			h = 17 + 12
			break
		}
	}
	if d.x.named() != "" {
		h += 14
	}
	return h * d.k
}

// layNote writes the note at the foot, on two lines where it must, and returns
// how high that is.
func (d *Drawing) layNote(left, right, bottom float64) float64 {
	lines := wrap(d.chart.Note, right-left, 2, d.letters.wide)
	for i, t := range lines {
		y := bottom - (float64(len(lines)-1-i)*rowHeight+3)*d.k
		d.texts = append(d.texts, label{x: left, y: y, text: t, soft: true, wide: d.letters.wide(t)})
	}
	return float64(len(lines)) * rowHeight * d.k
}

// wrap breaks text between words into at most n lines; the last one is shortened
// where it must be.
func wrap(text string, room float64, n int, wide func(string) float64) (lines []string) {
	words := strings.Fields(text)
	for len(words) > 0 {
		if len(lines) == n-1 {
			return append(lines, shorten(strings.Join(words, " "), room, wide))
		}
		i := 1
		for i < len(words) && wide(strings.Join(words[:i+1], " ")) <= room {
			i++
		}
		lines = append(lines, shorten(strings.Join(words[:i], " "), room, wide))
		words = words[i:]
	}
	return lines
}

// lane is the label of a mark or a span over the field.
type lane struct {
	text string
	x    float64 // where it begins
	row  int     // counted upwards from the field
	at   float64 // of the mark; NaN for a span
	wide float64
	anchor
}

// try is a place for a label to begin, and what of it then stays in place.
type try struct {
	x float64
	anchor
}

// layLanes places the name of the y axis, the labels of marks and those of spans
// in rows over the field and returns how many rows that takes, 0 to 3. A label
// that finds no room in three rows is left out; its line or hatching stays.
func (d *Drawing) layLanes(left, right float64, field box) int {
	k, rows := d.k, 0
	type part struct {
		row  int
		a, b float64
	}
	const most = 3
	var used []part
	d.lanes = d.lanes[:0]
	free := func(row int, a, b, at float64) bool {
		if a < left-0.5 || b > right+0.5 {
			return false
		}
		for _, u := range used {
			if u.row == row && a < u.b && b > u.a {
				return false
			}
			// The line from a label down to the field crosses no other label, and
			// none runs through this one.
			if u.row < row && !math.IsNaN(at) && at > u.a-2*k && at < u.b+2*k {
				return false
			}
		}
		for _, l := range d.lanes {
			if l.row > row && !math.IsNaN(l.at) && l.at > a && l.at < b {
				return false
			}
		}
		return true
	}
	put := func(text string, at float64, starts ...try) {
		w := d.letters.wide(text)
		for row := range most {
			for _, s := range starts {
				x := min(max(s.x, left), right-w)
				if free(row, x-4*k, x+w+4*k, at) || len(used) == 0 {
					d.lanes = append(d.lanes, lane{text, x, row, at, w, s.anchor})
					used = append(used, part{row, x - 4*k, x + w + 4*k})
					rows = max(rows, row+1)
					return
				}
			}
		}
	}
	if n := shorten(d.y.named(), (right-left)*0.45, d.letters.wide); n != "" {
		put(n, math.NaN(), try{left, start})
	}
	for _, m := range d.chart.Marks {
		at, ok := d.inX(m.X)
		if !ok || m.Label == "" {
			continue
		}
		text := shorten(m.Label, (right-left)*0.4, d.letters.wide)
		w := d.letters.wide(text)
		put(text, at, try{at - w/2, middle}, try{at - 2*k, start}, try{at - w + 2*k, end})
	}
	for _, s := range d.chart.Outside {
		a, b, ok := d.within(s, field)
		if !ok || s.Label == "" {
			continue
		}
		text := shorten(s.Label, (right-left)*0.5, d.letters.wide)
		w := d.letters.wide(text)
		put(text, math.NaN(), try{(a + b - w) / 2, middle}, try{a, start}, try{b - w, end})
	}
	return rows
}

// inX returns where v stands, false outside the field.
func (d *Drawing) inX(v float64) (float64, bool) {
	if !usable(v) || v < d.x.min || v > d.x.max {
		return 0, false
	}
	return d.x.pixel(v), true
}

// within returns the pixels of a span inside the field.
func (d *Drawing) within(s Span, f box) (a, b float64, ok bool) {
	if math.IsNaN(s.From) || math.IsNaN(s.To) || s.From > s.To {
		return 0, 0, false
	}
	a = min(max(d.x.pixel(min(max(s.From, -most), most)), f.x0), f.x1)
	b = min(max(d.x.pixel(min(max(s.To, -most), most)), f.x0), f.x1)
	return a, b, b > a+0.5
}
