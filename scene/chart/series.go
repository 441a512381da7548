// SPDX-License-Identifier: MIT

package chart

import (
	"image/color"
	"math"

	"earline/scene/drawing"
)

// pixelOf returns where point i of s stands, which may be outside the field; false
// for a gap.
func (d *Layout) pixelOf(s *Series, i int) (drawing.Point, bool) {
	x, y, ok := s.point(i)
	if !ok || d.x.kind == Frequency && x <= 0 {
		return drawing.Point{}, false
	}
	return drawing.Pt(d.x.pixel(x), d.y.pixel(y)), true
}

// polylines returns the pixels of a series, cut at gaps.
func (d *Layout) polylines(s *Series) [][]drawing.Point {
	var out [][]drawing.Point
	var run []drawing.Point
	for i := range s.length() {
		p, ok := d.pixelOf(s, i)
		if !ok {
			if len(run) > 0 {
				out = append(out, run)
			}
			run = nil
			continue
		}
		if run == nil {
			run = make([]drawing.Point, 0, s.length()-i)
		}
		run = append(run, p)
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
	width := l.width * d.k
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
		b.Lines(ink, max(width, b.Hair()), Solid, drawing.ClipLines(d.field, sticks...)...)
		d.drawSymbols(b, s, l, ink)
	case Points:
		d.drawSymbols(b, s, l, ink)
	default:
		d.drawLine(b, s, ink, width, l.dash)
	}
}

// drawLine draws a Line or Steps.
func (d *Layout) drawLine(b *drawing.Brush, s *Series, ink color.NRGBA, width float64, dash Dash) {
	lines := d.polylines(s)
	for i, run := range lines {
		if s.Kind == Steps {
			lines[i] = staircase(run)
		}
		if len(run) == 1 && d.inField(run[0]) { // a single point has no line
			b.Symbol(ink, 0, run[0].X, run[0].Y, max(width, 2*d.k))
		}
	}
	b.Lines(ink, width, dash, drawing.ClipLines(d.field, lines...)...)
}

// inField reports whether p lies in the field, to a pixel.
func (d *Layout) inField(p drawing.Point) bool {
	f := d.field
	return p.X >= f.X0-1 && p.X <= f.X1+1 && p.Y >= f.Y0-1 && p.Y <= f.Y1+1
}

// eachPoint calls f with the pixel of each point of s.
func (d *Layout) eachPoint(s *Series, f func(i int, p drawing.Point)) {
	for i := range s.length() {
		if p, ok := d.pixelOf(s, i); ok {
			f(i, p)
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

// staircase returns the corners of a run that keeps each value halfway to its
// neighbours.
func staircase(run []drawing.Point) []drawing.Point {
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
		p, ok := d.pixelOf(s, i)
		foot, has := s.foot(i)
		if !ok || !has {
			flush()
			continue
		}
		high = append(high, p)
		low = append(low, drawing.Pt(p.X, d.y.pixel(foot)))
	}
	flush()
}

// barBox returns the rectangle of point i, at pixel p, of the series that is number
// n of the bars.
func (d *Layout) barBox(s *Series, n, i int, p drawing.Point) drawing.Box {
	count := 0
	for _, l := range d.styles {
		count = max(count, l.bar+1)
	}
	slot := 0.0 // the distance to the neighbouring point
	switch m := s.length(); {
	case d.x.kind == Category:
		slot = d.field.Dx() / (d.x.max - d.x.min)
	case i+1 < m:
		slot = math.Abs(d.x.pixel(s.X[i+1]) - p.X)
	case i > 0:
		slot = math.Abs(d.x.pixel(s.X[i-1]) - p.X)
	}
	if !(slot > 0) { // no neighbour, or one at the same place
		slot = d.field.Dx() / float64(max(s.length(), 8))
	}
	slot = min(slot*0.72, 90*d.k*float64(count))
	width := slot / float64(count)
	x0 := p.X - slot/2 + float64(n)*width
	foot := d.y.pixel(min(max(0, d.y.min), d.y.max))
	if d.y.kind == Decibel {
		foot = d.field.Y1
	}
	if v, ok := s.foot(i); ok {
		foot = d.y.pixel(v)
	}
	joint := min(d.k, width/4)
	return drawing.Rect(x0+joint, min(foot, p.Y), x0+width-joint, max(foot, p.Y))
}

func (d *Layout) drawBars(b *drawing.Brush, s *Series, l seriesStyle, ink color.NRGBA) {
	d.eachPoint(s, func(i int, p drawing.Point) {
		r, ok := d.barBox(s, l.bar, i, p).Meet(d.field)
		if !ok {
			return
		}
		r = drawing.Rect(math.Round(r.X0), math.Round(r.Y0), math.Round(r.X1), math.Round(r.Y1))
		if r.Y1-r.Y0 < 1 { // a bar of no height is still seen
			r.Y0 = r.Y1 - d.k
		}
		d.fillBar(b, r, l, ink)
	})
}

// fillBar fills a bar. Every second series is hatched, so that they differ without
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
