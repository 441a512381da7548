// SPDX-License-Identifier: MIT

package chart

import (
	"image/color"
	"math"

	"earline/scene/drawing"
)

// draw draws everything on a canvas.
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
	order := []func(*Series) bool{
		func(s *Series) bool { return s.Kind == Area },
		func(s *Series) bool { return s.Kind == Bars },
		func(s *Series) bool { return s.Quiet },
		func(s *Series) bool { return !s.Heavy },
		func(*Series) bool { return true },
	}
	done := make([]bool, len(d.chart.Series))
	for turn, now := range order {
		if turn == 2 { // over what is filled, under what is a line
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
	// Short strokes outwards where a number stands.
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

// between returns the value at x of a line through xs, ys, flat beyond its ends.
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

// shades returns how a band of that tone is tinted and edged.
func (d *Layout) bandColors(t Tone) (tint, edge color.NRGBA) {
	s := &d.paper.Style
	if t == Unwanted {
		return fade(s.Unwanted, 0.14), s.Unwanted
	}
	return fade(s.Wanted, 0.20), s.Wanted
}

// band fills a band, or draws its edges.
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
	if !flat && !edgesOnly {
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
	}
	if !edgesOnly {
		return
	}
	edges := [][]drawing.Point{top}
	if !flat {
		edges = append(edges, bottom)
		if len(band.X) > 0 { // and where it ends within the field
			edges = append(edges, []drawing.Point{top[0], bottom[0]}, []drawing.Point{top[n-1], bottom[n-1]})
		}
	}
	wide := 1.2 * d.k
	if flat {
		wide = 1.6 * d.k
	}
	b.Lines(fade(edge, 0.9), wide, Dashed, drawing.ClipLines(d.field, edges...)...)
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
	for _, l := range d.topLabels { // up to what they say
		if !math.IsNaN(l.mark) {
			b.Vertical(s.Mark, l.mark, d.field.Y0, math.Round(d.topLabelBaseline(l.row)+3*d.k))
		}
	}
}

// runs returns the pixels of a series, cut at gaps.
func (d *Layout) polylines(s *Series) [][]drawing.Point {
	var out [][]drawing.Point
	var run []drawing.Point
	for i := range s.length() {
		x, y, ok := s.point(i)
		if !ok || d.x.kind == Frequency && x <= 0 {
			if len(run) > 0 {
				out = append(out, run)
			}
			run = nil
			continue
		}
		if run == nil {
			run = make([]drawing.Point, 0, s.length()-i)
		}
		run = append(run, drawing.Pt(d.x.pixel(x), d.y.pixel(y)))
	}
	if len(run) > 0 {
		out = append(out, run)
	}
	return out
}

func (d *Layout) drawSeries(b *drawing.Brush, i int) {
	s, l := &d.chart.Series[i], d.styles[i]
	ink := l.color(&d.paper.Style)
	if s.Quiet {
		ink = fade(ink, 0.6)
	}
	wide := l.width * d.k
	switch s.Kind {
	case Area:
		d.drawArea(b, s, ink)
	case Bars:
		d.drawBars(b, s, l, ink)
	case Stems:
		foot := d.y.pixel(max(min(0, d.y.max), d.y.min))
		if d.y.kind == Decibel {
			foot = d.field.Y1
		}
		var sticks [][]drawing.Point
		d.eachPoint(s, func(k int, p drawing.Point) {
			y := foot
			if v, ok := s.foot(k); ok {
				y = d.y.pixel(v)
			}
			sticks = append(sticks, []drawing.Point{drawing.Pt(p.X, y), drawing.Pt(p.X, p.Y)})
		})
		b.Lines(ink, max(wide, b.Hair()), Solid, drawing.ClipLines(d.field, sticks...)...)
		d.drawSymbols(b, s, l, ink)
	case Points:
		d.drawSymbols(b, s, l, ink)
	default:
		d.drawLine(b, s, ink, wide, l.dash)
	}
}

// strokes draws a Line or Steps.
func (d *Layout) drawLine(b *drawing.Brush, s *Series, ink color.NRGBA, wide float64, dash Dash) {
	lines := d.polylines(s)
	for i, run := range lines {
		if s.Kind == Steps {
			lines[i] = steps(run)
		}
		if len(run) == 1 && d.inField(run[0]) { // a point alone would not be seen
			b.Symbol(ink, 0, run[0].X, run[0].Y, max(wide, 2*d.k))
		}
	}
	b.Lines(ink, wide, dash, drawing.ClipLines(d.field, lines...)...)
}

// inField reports whether p lies in the field, to a pixel.
func (d *Layout) inField(p drawing.Point) bool {
	f := d.field
	return p.X >= f.X0-1 && p.X <= f.X1+1 && p.Y >= f.Y0-1 && p.Y <= f.Y1+1
}

// each calls f with the place of each point of s.
func (d *Layout) eachPoint(s *Series, f func(i int, p drawing.Point)) {
	for i := range s.length() {
		if x, y, ok := s.point(i); ok && (d.x.kind != Frequency || x > 0) {
			f(i, drawing.Pt(d.x.pixel(x), d.y.pixel(y)))
		}
	}
}

func (d *Layout) drawSymbols(b *drawing.Brush, s *Series, l seriesStyle, ink color.NRGBA) {
	r := 3.2 * d.k
	if s.Heavy {
		r = 4.2 * d.k
	}
	if s.Quiet {
		r = 2.2 * d.k
	}
	d.eachPoint(s, func(_ int, p drawing.Point) {
		if d.inField(p) {
			b.Symbol(ink, l.symbol, p.X, p.Y, r)
		}
	})
}

// steps returns the corners of a run that keeps each value halfway to its
// neighbours.
func steps(run []drawing.Point) []drawing.Point {
	n := len(run)
	if n < 2 {
		return run
	}
	out := make([]drawing.Point, 0, 2*n)
	from := run[0].X - (run[1].X-run[0].X)/2
	for i, p := range run {
		to := p.X + (p.X-run[max(i-1, 0)].X)/2
		if i+1 < n {
			to = (p.X + run[i+1].X) / 2
		}
		out = append(out, drawing.Pt(from, p.Y), drawing.Pt(to, p.Y))
		from = to
	}
	return out
}

func (d *Layout) drawArea(b *drawing.Brush, s *Series, ink color.NRGBA) {
	var high, low []drawing.Point
	flush := func() {
		if len(high) > 1 {
			ring := append([]drawing.Point{}, high...)
			for i := len(low) - 1; i >= 0; i-- {
				ring = append(ring, low[i])
			}
			b.Fill(fade(ink, 0.28), drawing.ClipRing(d.field, ring))
			b.Lines(fade(ink, 0.7), b.Hair(), Solid, drawing.ClipLines(d.field, high, low)...)
		}
		high, low = nil, nil
	}
	for i := range s.length() {
		x, y, ok := s.point(i)
		l, has := s.foot(i)
		if !ok || !has || d.x.kind == Frequency && x <= 0 {
			flush()
			continue
		}
		high = append(high, drawing.Pt(d.x.pixel(x), d.y.pixel(y)))
		low = append(low, drawing.Pt(d.x.pixel(x), d.y.pixel(l)))
	}
	flush()
}

// bar returns the rectangle of point i of the series that is number n of the
// bars.
func (d *Layout) barBox(s *Series, n, i int, p drawing.Point) drawing.Box {
	count := 0
	for _, l := range d.styles {
		count = max(count, l.bar+1)
	}
	slot := 0.0 // from this point to its neighbour
	switch m := s.length(); {
	case d.x.kind == Category:
		slot = d.field.Dx() / (d.x.max - d.x.min)
	case i+1 < m:
		slot = math.Abs(d.x.pixel(s.X[i+1]) - p.X)
	case i > 0:
		slot = math.Abs(d.x.pixel(s.X[i-1]) - p.X)
	}
	if !(slot > 0) { // it has none, or stands on it
		slot = d.field.Dx() / float64(max(s.length(), 8))
	}
	slot = min(slot*0.72, 90*d.k*float64(count))
	wide := slot / float64(count)
	x0 := p.X - slot/2 + float64(n)*wide
	foot := d.y.pixel(min(max(0, d.y.min), d.y.max))
	if d.y.kind == Decibel {
		foot = d.field.Y1
	}
	if v, ok := s.foot(i); ok {
		foot = d.y.pixel(v)
	}
	joint := min(d.k, wide/4)
	return drawing.Rect(x0+joint, min(foot, p.Y), x0+wide-joint, max(foot, p.Y))
}

func (d *Layout) drawBars(b *drawing.Brush, s *Series, l seriesStyle, ink color.NRGBA) {
	d.eachPoint(s, func(i int, p drawing.Point) {
		r, ok := d.barBox(s, l.bar, i, p).Meet(d.field)
		if !ok {
			return
		}
		r = drawing.Rect(math.Round(r.X0), math.Round(r.Y0), math.Round(r.X1), math.Round(r.Y1))
		if r.Y1-r.Y0 < 1 { // nothing is seen as something
			r.Y0 = r.Y1 - d.k
		}
		d.fillBar(b, r, l, ink)
	})
}

// plate fills a bar: every second series is hatched, so that they differ without
// colour.
func (d *Layout) fillBar(b *drawing.Brush, r drawing.Box, l seriesStyle, ink color.NRGBA) {
	if l.bar%2 == 0 {
		b.Rect(ink, r)
		return
	}
	b.Rect(fade(ink, 0.35), r)
	b.Hatch(ink, r, 5*d.k, nil, nil)
	b.Frame(ink, r)
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
			x += (sampleLength + 6) * d.k
		}
		b.Text(s.Ink, drawing.Label{X: x, Y: e.y + baseline*d.k, Text: e.text, Size: d.textSize(), Width: e.width})
	}
}

// sample draws what a legend's entry looks like in the field.
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
