// SPDX-License-Identifier: MIT

package chart

import (
	"math"

	"earline/scene/drawing"
)

// Paper is what a chart is drawn on.
type Paper struct {
	W, H int // pixels
	// Scale is how many pixels a point of type and of lines has: 1 on common
	// displays, 2 where they are twice as fine. 0 is 1.
	Scale float64
	Style Style
}

// Layout is a chart laid out on a paper. The chart must not change while it is in
// use.
type Layout struct {
	chart    *Chart
	paper    Paper
	k        float64 // pixels to a point
	typeface *drawing.Typeface
	field    drawing.Box // where the lines are
	x, y     scale
	styles   []seriesStyle // in the order of the series

	texts     []text
	legend    []legendEntry
	topLabels []topLabel
	tooSmall  bool // for anything but the ground
	noteShown bool
}

// text is a label of the chart itself, faint for numbers, units and notes.
type text struct {
	drawing.Label
	faint bool
}

// Sizes in points.
const (
	textSize     = 11
	titleSize    = 12.5
	rowHeight    = 15
	baseline     = 11 // from the top of a row to the line its text stands on
	margin       = 6
	sampleLength = 24 // of a line in the legend
)

// Layout lays c out on a paper: the texts, the ends of the axes, the place of the
// field. It takes about a tenth of a millisecond and panics for no chart and no
// paper. On a paper too small for a field only the ground is drawn; the note needs
// one of 200 points in height.
func (c *Chart) Layout(p Paper) *Layout {
	if !(p.Scale > 0) {
		p.Scale = 1
	}
	p.Scale = min(max(p.Scale, 0.25), 16)
	p.W, p.H = max(p.W, 1), max(p.H, 1)
	k := p.Scale
	d := &Layout{chart: c, paper: p, k: k, typeface: drawing.NewTypeface(p.Style.Font), styles: c.seriesStyles()}
	w, h := float64(p.W), float64(p.H)
	if w < 120*k || h < 60*k {
		d.giveUp()
		return d
	}
	top, bottom := margin*k/2, h-margin*k/2
	left, right := margin*k, w-margin*k
	if c.Title != "" {
		t := shorten(c.Title, right-left, d.titleWidth)
		d.texts = append(d.texts, text{Label: drawing.Label{X: left, Y: top + 12*k, Text: t, Size: titleSize * k, Width: d.titleWidth(t)}})
		top += 18 * k
	}
	top, right = d.placeLegend(left, right, top, bottom)
	if h >= 200*k {
		bottom -= d.placeNote(left, right, bottom)
		d.noteShown = true
	}

	// The ends of the axes decide how wide their numbers are, which decides how
	// long the axes are: twice is enough.
	field := drawing.Rect(left+40*k, top+rowHeight*k, right-8*k, bottom-2*rowHeight*k)
	for range 2 {
		d.x, d.y = d.scales(field)
		field.X0 = left + d.yTextWidth() + 6*k
		rows := d.placeTopLabels(left, right, field)
		field.Y0 = top + (float64(rows)*rowHeight+5)*k
		field.Y1 = bottom - d.heightBelow()
	}
	if field.Dx() < 40*k || field.Dy() < 16*k {
		d.giveUp()
		return d
	}
	field.X0, field.Y0 = math.Round(field.X0), math.Round(field.Y0)
	field.X1, field.Y1 = math.Round(field.X1), math.Round(field.Y1)
	d.field = field
	d.x, d.y = d.scales(field)
	d.placeTopLabels(left, right, field)
	d.placeAxisTexts(left, right)
	return d
}

// giveUp leaves nothing but the ground of the paper.
func (d *Layout) giveUp() {
	d.tooSmall = true
	d.field = drawing.Rect(0, 0, float64(d.paper.W), float64(d.paper.H))
	d.x, d.y = d.scales(d.field)
	d.texts, d.legend, d.topLabels = nil, nil, nil
}

// width returns the width of text in the common size, titleWidth in that of the
// title, pixels.
func (d *Layout) width(text string) float64      { return d.typeface.Width(text, d.textSize()) }
func (d *Layout) titleWidth(text string) float64 { return d.typeface.Width(text, titleSize*d.k) }

// textSize returns the common size of type in pixels.
func (d *Layout) textSize() float64 { return textSize * d.k }

// faintText returns a text in the faint ink.
func (d *Layout) faintText(x, y, width float64, words string, a drawing.Anchor) text {
	return text{Label: drawing.Label{X: x, Y: y, Text: words, Size: d.textSize(), Width: width, Anchor: a}, faint: true}
}

// Noted reports whether there is room for the chart's note.
func (d *Layout) Noted() bool { return d.noteShown && !d.tooSmall }

// scales returns both axes over a field.
func (d *Layout) scales(f drawing.Box) (x, y scale) {
	rx, ry := d.chart.extents()
	x = newScale(&d.chart.X, rx, track{from: f.X0, to: f.X1, horizontal: true, k: d.k, width: d.width})
	y = newScale(&d.chart.Y, ry, track{from: f.Y1, to: f.Y0, k: d.k, width: d.width})
	return x, y
}

// yTextWidth returns the width of the widest number beside the y axis.
func (d *Layout) yTextWidth() float64 {
	w := 0.0
	for _, t := range d.y.ticks {
		w = max(w, d.width(t.text))
	}
	return w
}

// placeAxisTexts places the numbers of both axes and the name of the x axis.
func (d *Layout) placeAxisTexts(left, right float64) {
	k, f := d.k, d.field
	put := func(x, y, width float64, words string, a drawing.Anchor) {
		if words != "" {
			d.texts = append(d.texts, d.faintText(x, y, width, words, a))
		}
	}
	last := math.Inf(1) // y of the number before: in a low field some have no room
	for _, t := range d.y.ticks {
		if p := d.y.pixel(t.value); t.text != "" && p > f.Y0-k && p < f.Y1+k && last-p > 12*k {
			last = p
			w := d.width(t.text)
			put(f.X0-6*k-w, min(p+4*k, f.Y1+3*k), w, d.paper.Style.figure(t.text), drawing.End)
		}
	}
	edge := math.Inf(-1) // where the number before ends: the last one may be moved to the left
	for _, t := range d.x.ticks {
		before := edge
		for i, text := range []string{t.text, t.secondLine} {
			w := d.width(text)
			x := min(max(d.x.pixel(t.value)-w/2, left), right-w)
			if x > before+3*k {
				put(x, f.Y1+(14+12*float64(i))*k, w, d.paper.Style.figure(text), drawing.Middle)
			}
			if text != "" {
				edge = max(edge, x+w)
			}
		}
	}
	n := shorten(d.x.title(), f.Dx(), d.width)
	w := d.width(n)
	put(f.X0+(f.Dx()-w)/2, f.Y1+d.heightBelow()-2*k, w, n, drawing.Middle)
}

// heightBelow returns the height of what is written under the field: numbers or
// names of categories, on two lines where these need them, and the name of the axis.
func (d *Layout) heightBelow() float64 {
	h := 17.0
	for _, t := range d.x.ticks {
		if t.secondLine != "" {
			h = 17 + 12
			break
		}
	}
	if d.x.title() != "" {
		h += 14
	}
	return h * d.k
}

// placeNote puts the note at the foot, on two lines where it needs them, and
// returns its height.
func (d *Layout) placeNote(left, right, bottom float64) float64 {
	lines := wrap(d.chart.Note, right-left, 2, d.width)
	for i, t := range lines {
		y := bottom - (float64(len(lines)-1-i)*rowHeight+3)*d.k
		d.texts = append(d.texts, d.faintText(left, y, d.width(t), t, drawing.Start))
	}
	return float64(len(lines)) * rowHeight * d.k
}
