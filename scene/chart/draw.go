// SPDX-License-Identifier: MIT

package chart

import (
	"image/color"
	"math"

	"earline/scene/drawing"
)

// draw draws the chart on a canvas of pixels.
func (d *Layout) draw(c drawing.Canvas) {
	b := drawing.OnPixels(c, d.k)
	s := &d.paper.Style
	b.Rect(s.Back, drawing.Rect(0, 0, float64(d.paper.W), float64(d.paper.H)))
	if d.tooSmall {
		return
	}
	b.Rect(s.Field, d.field)
	for i := range d.chart.Bands {
		d.drawBand(b, &d.chart.Bands[i], false)
	}
	d.drawGrid(b)
	d.drawOutside(b)
	// From the back to the front.
	order := []func(*Series) bool{
		func(s *Series) bool { return s.Kind == Area },
		func(s *Series) bool { return s.Kind == Bars },
		func(s *Series) bool { return s.Quiet },
		func(s *Series) bool { return !s.Heavy },
		func(*Series) bool { return true },
	}
	done := make([]bool, len(d.chart.Series))
	for turn, now := range order {
		if turn == 2 { // edges of bands lie over what is filled and under lines
			for i := range d.chart.Bands {
				d.drawBand(b, &d.chart.Bands[i], true)
			}
		}
		for i := range d.chart.Series {
			if !done[i] && now(&d.chart.Series[i]) {
				done[i] = true
				d.drawSeries(b, i)
			}
		}
	}
	d.drawMarks(b)
	f := d.field
	b.Frame(s.Line, drawing.Rect(f.X0, f.Y0, f.X1+b.Hair(), f.Y1+b.Hair()))
	d.drawTexts(b)
}

func (d *Layout) drawGrid(b *drawing.Brush) {
	s, f := &d.paper.Style, d.field
	for _, major := range []bool{false, true} {
		ink := s.Grid
		if !major {
			ink = fade(ink, 0.5)
		}
		for _, t := range d.x.ticks {
			if t.major == major && d.x.kind != Category {
				b.Vertical(ink, d.x.pixel(t.value), f.Y0, f.Y1)
			}
		}
		for _, t := range d.y.ticks {
			if t.major == major {
				b.Horizontal(ink, d.y.pixel(t.value), f.X0, f.X1)
			}
		}
	}
	// A short stroke outwards at each number.
	out := math.Round(3 * d.k)
	for _, t := range d.x.ticks {
		if t.text != "" {
			b.Vertical(s.Line, d.x.pixel(t.value), f.Y1, f.Y1+out)
		}
	}
	for _, t := range d.y.ticks {
		if t.text != "" {
			b.Horizontal(s.Line, d.y.pixel(t.value), f.X0-out, f.X0)
		}
	}
}

// interpolate returns the value at x of a line through xs, ys, flat beyond its ends.
func interpolate(xs, ys []float64, x float64) float64 {
	if x <= xs[0] {
		return ys[0]
	}
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			if xs[i] == xs[i-1] {
				return ys[i]
			}
			t := (x - xs[i-1]) / (xs[i] - xs[i-1])
			return ys[i-1] + t*(ys[i]-ys[i-1])
		}
	}
	return ys[len(ys)-1]
}

// bandColors returns the colours of the area and of the edges of a band.
func (d *Layout) bandColors(t Tone) (tint, edge color.NRGBA) {
	s := &d.paper.Style
	if t == Unwanted {
		return fade(s.Unwanted, 0.14), s.Unwanted
	}
	return fade(s.Wanted, 0.20), s.Wanted
}

// drawBand fills a band, or draws its edges only.
func (d *Layout) drawBand(b *drawing.Brush, band *Band, edgesOnly bool) {
	xs, low, high, ok := band.edges(d.x.min, d.x.max, d.y.min, d.y.max)
	if !ok {
		return
	}
	tint, edge := d.bandColors(band.Tone)
	n := len(xs)
	px, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n)
	top, bottom := make([]drawing.Point, n), make([]drawing.Point, n)
	flat := true
	for i := range xs {
		px[i], lo[i], hi[i] = d.x.pixel(xs[i]), d.y.pixel(low[i]), d.y.pixel(high[i])
		top[i], bottom[i] = drawing.Pt(px[i], hi[i]), drawing.Pt(px[i], lo[i])
		flat = flat && math.Abs(lo[i]-hi[i]) < 0.5
	}
	if !edgesOnly {
		if flat { // a line has no area
			return
		}
		ring := append([]drawing.Point{}, top...)
		for i := n - 1; i >= 0; i-- {
			ring = append(ring, bottom[i])
		}
		b.Fill(tint, drawing.ClipRing(d.field, ring))
		if band.Tone == Unwanted {
			r := d.field
			r.X0, r.X1 = max(r.X0, px[0]), min(r.X1, px[n-1])
			b.Hatch(fade(edge, 0.45), r, 8*d.k,
				func(x float64) float64 { return interpolate(px, hi, x) },
				func(x float64) float64 { return interpolate(px, lo, x) })
		}
		return
	}
	edges := [][]drawing.Point{top}
	if !flat {
		edges = append(edges, bottom)
		if len(band.X) > 0 { // its ends within the field
			edges = append(edges, []drawing.Point{top[0], bottom[0]}, []drawing.Point{top[n-1], bottom[n-1]})
		}
	}
	width := 1.2 * d.k
	if flat {
		width = 1.6 * d.k
	}
	b.Lines(fade(edge, 0.9), width, Dashed, drawing.ClipLines(d.field, edges...)...)
}

func (d *Layout) drawOutside(b *drawing.Brush) {
	s := &d.paper.Style
	for _, o := range d.chart.Outside {
		x0, x1, ok := d.spanPixels(o, d.field)
		if !ok {
			continue
		}
		r := drawing.Rect(math.Round(x0), d.field.Y0, math.Round(x1), d.field.Y1)
		b.Rect(fade(s.Faint, 0.10), r)
		b.Hatch(fade(s.Faint, 0.30), r, 7*d.k, nil, nil)
		for _, x := range []float64{r.X0, r.X1} {
			if x > d.field.X0+1 && x < d.field.X1-1 {
				b.Vertical(fade(s.Faint, 0.8), x, r.Y0, r.Y1)
			}
		}
	}
}

func (d *Layout) drawMarks(b *drawing.Brush) {
	s := &d.paper.Style
	for _, m := range d.chart.Marks {
		if x, ok := d.xPixel(m.X); ok {
			x = b.Crisp(x)
			b.Lines(s.Mark, b.Hair(), Dashed, []drawing.Point{drawing.Pt(x, d.field.Y1), drawing.Pt(x, d.field.Y0)})
		}
	}
	for _, l := range d.topLabels { // each mark is led up to its label
		if !math.IsNaN(l.mark) {
			b.Vertical(s.Mark, l.mark, d.field.Y0, math.Round(d.topLabelBaseline(l.row)+3*d.k))
		}
	}
}

// drawTexts writes all texts and the legend.
func (d *Layout) drawTexts(b *drawing.Brush) {
	s := &d.paper.Style
	for _, t := range d.texts {
		ink := s.Ink
		if t.faint {
			ink = s.Faint
		}
		b.Text(ink, t.Label)
	}
	for _, l := range d.topLabels {
		ink := s.Faint
		if !math.IsNaN(l.mark) {
			ink = s.Mark
		}
		b.Text(ink, drawing.Label{X: l.x, Y: d.topLabelBaseline(l.row), Text: l.text, Size: d.textSize(), Width: l.width, Anchor: l.anchor})
	}
	for _, e := range d.legend {
		d.drawSample(b, e)
		x := e.x
		if e.series >= 0 || e.band >= 0 {
			x += d.legendGap()
		}
		b.Text(s.Ink, drawing.Label{X: x, Y: e.y + baseline*d.k, Text: e.text, Size: d.textSize(), Width: e.width})
	}
}

// drawSample draws what a legend's entry looks like in the field.
func (d *Layout) drawSample(b *drawing.Brush, e legendEntry) {
	k := d.k
	r := drawing.Rect(math.Round(e.x), math.Round(e.y+2.5*k), math.Round(e.x+sampleLength*k), math.Round(e.y+11.5*k))
	half := b.Crisp((r.Y0 + r.Y1) / 2)
	if e.band >= 0 {
		band := &d.chart.Bands[e.band]
		tint, edge := d.bandColors(band.Tone)
		b.Rect(fade(tint, 1.4), r)
		if band.Tone == Unwanted {
			b.Hatch(fade(edge, 0.6), r, 5*k, nil, nil)
		}
		for _, y := range []float64{b.Crisp(r.Y0), b.Crisp(r.Y1)} {
			b.Lines(edge, 1.2*k, Dashed, []drawing.Point{drawing.Pt(r.X0, y), drawing.Pt(r.X1, y)})
		}
		return
	}
	if e.series < 0 {
		return
	}
	s, l := &d.chart.Series[e.series], d.styles[e.series]
	ink := l.color(&d.paper.Style)
	switch s.Kind {
	case Area:
		b.Rect(fade(ink, 0.28), r)
		for _, y := range []float64{b.Crisp(r.Y0), b.Crisp(r.Y1)} {
			b.Lines(fade(ink, 0.7), b.Hair(), Solid, []drawing.Point{drawing.Pt(r.X0, y), drawing.Pt(r.X1, y)})
		}
	case Bars:
		d.fillBar(b, drawing.Rect(r.X0+5*k, r.Y0, r.X1-5*k, r.Y1), l, ink)
	case Points:
		b.Symbol(ink, l.symbol, (r.X0+r.X1)/2, half, 3.2*k)
	case Stems:
		x := (r.X0 + r.X1) / 2
		b.Lines(ink, l.width*k, Solid, []drawing.Point{drawing.Pt(x, r.Y1+k), drawing.Pt(x, r.Y0+2*k)})
		b.Symbol(ink, l.symbol, x, r.Y0+2*k, 3*k)
	default:
		b.Lines(ink, l.width*k, l.dash, []drawing.Point{drawing.Pt(r.X0, half), drawing.Pt(r.X1, half)})
	}
}
