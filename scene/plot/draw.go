// SPDX-License-Identifier: MIT

package plot

import (
	"image/color"
	"math"
)

// draw draws everything on a canvas.
func (d *Drawing) draw(c canvas) {
	b := &brush{c, d.k}
	s := &d.paper.Style
	b.rect(s.Back, box{0, 0, float64(d.paper.W), float64(d.paper.H)})
	if d.empty {
		return
	}
	b.rect(s.Field, d.field)
	for i := range d.chart.Bands {
		d.band(b, &d.chart.Bands[i], false)
	}
	d.grid(b)
	d.outside(b)
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
				d.band(b, &d.chart.Bands[i], true)
			}
		}
		for i := range d.chart.Series {
			if !done[i] && now(&d.chart.Series[i]) {
				done[i] = true
				d.series(b, i)
			}
		}
	}
	d.marks(b)
	f := d.field
	b.frame(s.Line, box{f.x0, f.y0, f.x1 + b.hair(), f.y1 + b.hair()})
	d.words(b)
}

func (d *Drawing) grid(b *brush) {
	s, f := &d.paper.Style, d.field
	for _, major := range []bool{false, true} {
		ink := s.Grid
		if !major {
			ink = fade(ink, 0.5)
		}
		for _, t := range d.x.ticks {
			if t.major == major && d.x.kind != Category {
				b.upright(ink, d.x.pixel(t.v), f.y0, f.y1)
			}
		}
		for _, t := range d.y.ticks {
			if t.major == major {
				b.level(ink, d.y.pixel(t.v), f.x0, f.x1)
			}
		}
	}
	// Short strokes outwards where a number stands.
	out := math.Round(3 * d.k)
	for _, t := range d.x.ticks {
		if t.text != "" {
			b.upright(s.Line, d.x.pixel(t.v), f.y1, f.y1+out)
		}
	}
	for _, t := range d.y.ticks {
		if t.text != "" {
			b.level(s.Line, d.y.pixel(t.v), f.x0-out, f.x0)
		}
	}
}

// between returns the value at x of a line through xs, ys, flat beyond its ends.
func between(xs, ys []float64, x float64) float64 {
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
func (d *Drawing) shades(t Tone) (tint, edge color.NRGBA) {
	s := &d.paper.Style
	if t == Unwanted {
		return fade(s.Unwanted, 0.14), s.Unwanted
	}
	return fade(s.Wanted, 0.20), s.Wanted
}

// band fills a band, or draws its edges.
func (d *Drawing) band(b *brush, band *Band, edgesOnly bool) {
	xs, low, high, ok := band.edges(d.x.min, d.x.max, d.y.min, d.y.max)
	if !ok {
		return
	}
	tint, edge := d.shades(band.Tone)
	n := len(xs)
	px, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n)
	top, bottom := make([]point, n), make([]point, n)
	flat := true
	for i := range xs {
		px[i], lo[i], hi[i] = d.x.pixel(xs[i]), d.y.pixel(low[i]), d.y.pixel(high[i])
		top[i], bottom[i] = at(px[i], hi[i]), at(px[i], lo[i])
		flat = flat && math.Abs(lo[i]-hi[i]) < 0.5
	}
	if !flat && !edgesOnly {
		ring := append([]point{}, top...)
		for i := n - 1; i >= 0; i-- {
			ring = append(ring, bottom[i])
		}
		b.fill(tint, clipRing(d.field, ring))
		if band.Tone == Unwanted {
			r := d.field
			r.x0, r.x1 = max(r.x0, px[0]), min(r.x1, px[n-1])
			b.hatch(fade(edge, 0.45), r, 8*d.k,
				func(x float64) float64 { return between(px, hi, x) },
				func(x float64) float64 { return between(px, lo, x) })
		}
	}
	if !edgesOnly {
		return
	}
	edges := [][]point{top}
	if !flat {
		edges = append(edges, bottom)
		if len(band.X) > 0 { // and where it ends within the field
			edges = append(edges, []point{top[0], bottom[0]}, []point{top[n-1], bottom[n-1]})
		}
	}
	wide := 1.2 * d.k
	if flat {
		wide = 1.6 * d.k
	}
	b.lines(fade(edge, 0.9), wide, Dashed, clip(d.field, edges...)...)
}

func (d *Drawing) outside(b *brush) {
	s := &d.paper.Style
	for _, o := range d.chart.Outside {
		x0, x1, ok := d.within(o, d.field)
		if !ok {
			continue
		}
		r := box{math.Round(x0), d.field.y0, math.Round(x1), d.field.y1}
		b.rect(fade(s.Faint, 0.10), r)
		b.hatch(fade(s.Faint, 0.30), r, 7*d.k, nil, nil)
		for _, x := range []float64{r.x0, r.x1} {
			if x > d.field.x0+1 && x < d.field.x1-1 {
				b.upright(fade(s.Faint, 0.8), x, r.y0, r.y1)
			}
		}
	}
}

func (d *Drawing) marks(b *brush) {
	s := &d.paper.Style
	for _, m := range d.chart.Marks {
		if x, ok := d.inX(m.X); ok {
			x = b.crisp(x)
			b.lines(s.Mark, b.hair(), Dashed, []point{at(x, d.field.y1), at(x, d.field.y0)})
		}
	}
	for _, l := range d.lanes { // up to what they say
		if !math.IsNaN(l.at) {
			b.upright(s.Mark, l.at, d.field.y0, math.Round(d.laneFoot(l.row)+3*d.k))
		}
	}
}

// laneFoot returns the line on which the text of a row over the field stands.
func (d *Drawing) laneFoot(row int) float64 {
	return d.field.y0 - (float64(row)*rowHeight+8)*d.k
}

// runs returns the pixels of a series, cut at gaps.
func (d *Drawing) runs(s *Series) [][]point {
	var out [][]point
	var run []point
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
			run = make([]point, 0, s.length()-i)
		}
		run = append(run, point{d.x.pixel(x), d.y.pixel(y)})
	}
	if len(run) > 0 {
		out = append(out, run)
	}
	return out
}

func (d *Drawing) series(b *brush, i int) {
	s, l := &d.chart.Series[i], d.looks[i]
	ink := l.color(&d.paper.Style)
	if s.Quiet {
		ink = fade(ink, 0.6)
	}
	wide := l.width * d.k
	switch s.Kind {
	case Area:
		d.area(b, s, ink)
	case Bars:
		d.bars(b, s, l, ink)
	case Stems:
		foot := d.y.pixel(max(min(0, d.y.max), d.y.min))
		if d.y.kind == Decibel {
			foot = d.field.y1
		}
		var sticks [][]point
		d.each(s, func(k int, p point) {
			y := foot
			if v, ok := s.low(k); ok {
				y = d.y.pixel(v)
			}
			sticks = append(sticks, []point{at(p.x, y), at(p.x, p.y)})
		})
		b.lines(ink, max(wide, b.hair()), Solid, clip(d.field, sticks...)...)
		d.signs(b, s, l, ink)
	case Points:
		d.signs(b, s, l, ink)
	default:
		d.strokes(b, s, ink, wide, l.dash)
	}
}

// strokes draws a Line or Steps.
func (d *Drawing) strokes(b *brush, s *Series, ink color.NRGBA, wide float64, dash Dash) {
	lines := d.runs(s)
	for i, run := range lines {
		if s.Kind == Steps {
			lines[i] = steps(run)
		}
		if len(run) == 1 && d.field.holds(run[0]) { // a point alone would not be seen
			b.sign(ink, 0, run[0].x, run[0].y, max(wide, 2*d.k))
		}
	}
	b.lines(ink, wide, dash, clip(d.field, lines...)...)
}

// holds reports whether p lies in r, to a pixel.
func (r box) holds(p point) bool {
	return p.x >= r.x0-1 && p.x <= r.x1+1 && p.y >= r.y0-1 && p.y <= r.y1+1
}

// each calls f with the place of each point of s.
func (d *Drawing) each(s *Series, f func(i int, p point)) {
	for i := range s.length() {
		if x, y, ok := s.point(i); ok && (d.x.kind != Frequency || x > 0) {
			f(i, point{d.x.pixel(x), d.y.pixel(y)})
		}
	}
}

func (d *Drawing) signs(b *brush, s *Series, l look, ink color.NRGBA) {
	r := 3.2 * d.k
	if s.Heavy {
		r = 4.2 * d.k
	}
	if s.Quiet {
		r = 2.2 * d.k
	}
	d.each(s, func(_ int, p point) {
		if d.field.holds(p) {
			b.sign(ink, l.sign, p.x, p.y, r)
		}
	})
}

// steps returns the corners of a run that keeps each value halfway to its
// neighbours.
func steps(run []point) []point {
	n := len(run)
	if n < 2 {
		return run
	}
	out := make([]point, 0, 2*n)
	from := run[0].x - (run[1].x-run[0].x)/2
	for i, p := range run {
		to := p.x + (p.x-run[max(i-1, 0)].x)/2
		if i+1 < n {
			to = (p.x + run[i+1].x) / 2
		}
		out = append(out, point{from, p.y}, point{to, p.y})
		from = to
	}
	return out
}

func (d *Drawing) area(b *brush, s *Series, ink color.NRGBA) {
	var high, low []point
	flush := func() {
		if len(high) > 1 {
			ring := append([]point{}, high...)
			for i := len(low) - 1; i >= 0; i-- {
				ring = append(ring, low[i])
			}
			b.fill(fade(ink, 0.28), clipRing(d.field, ring))
			b.lines(fade(ink, 0.7), b.hair(), Solid, clip(d.field, high, low)...)
		}
		high, low = nil, nil
	}
	for i := range s.length() {
		x, y, ok := s.point(i)
		l, has := s.low(i)
		if !ok || !has || d.x.kind == Frequency && x <= 0 {
			flush()
			continue
		}
		high = append(high, at(d.x.pixel(x), d.y.pixel(y)))
		low = append(low, at(d.x.pixel(x), d.y.pixel(l)))
	}
	flush()
}

// bar returns the rectangle of point i of the series that is number n of the
// bars.
func (d *Drawing) bar(s *Series, n, i int, p point) box {
	count := 0
	for _, l := range d.looks {
		count = max(count, l.bar+1)
	}
	slot := 0.0 // from this point to its neighbour
	switch m := s.length(); {
	case d.x.kind == Category:
		slot = d.field.dx() / (d.x.max - d.x.min)
	case i+1 < m:
		slot = math.Abs(d.x.pixel(s.X[i+1]) - p.x)
	case i > 0:
		slot = math.Abs(d.x.pixel(s.X[i-1]) - p.x)
	}
	if !(slot > 0) { // it has none, or stands on it
		slot = d.field.dx() / float64(max(s.length(), 8))
	}
	slot = min(slot*0.72, 90*d.k*float64(count))
	wide := slot / float64(count)
	x0 := p.x - slot/2 + float64(n)*wide
	foot := d.y.pixel(min(max(0, d.y.min), d.y.max))
	if d.y.kind == Decibel {
		foot = d.field.y1
	}
	if v, ok := s.low(i); ok {
		foot = d.y.pixel(v)
	}
	joint := min(d.k, wide/4)
	return box{x0 + joint, min(foot, p.y), x0 + wide - joint, max(foot, p.y)}
}

// meet returns the part of r inside q.
func (r box) meet(q box) (box, bool) {
	m := box{max(r.x0, q.x0), max(r.y0, q.y0), min(r.x1, q.x1), min(r.y1, q.y1)}
	return m, m.x1 > m.x0 && m.y1 >= m.y0
}

func (d *Drawing) bars(b *brush, s *Series, l look, ink color.NRGBA) {
	d.each(s, func(i int, p point) {
		r, ok := d.bar(s, l.bar, i, p).meet(d.field)
		if !ok {
			return
		}
		r = box{math.Round(r.x0), math.Round(r.y0), math.Round(r.x1), math.Round(r.y1)}
		if r.y1-r.y0 < 1 { // nothing is seen as something
			r.y0 = r.y1 - d.k
		}
		d.plate(b, r, l, ink)
	})
}

// plate fills a bar: every second series is hatched, so that they differ without
// colour.
func (d *Drawing) plate(b *brush, r box, l look, ink color.NRGBA) {
	if l.bar%2 == 0 {
		b.rect(ink, r)
		return
	}
	b.rect(fade(ink, 0.35), r)
	b.hatch(ink, r, 5*d.k, nil, nil)
	b.frame(ink, r)
}

// words writes all texts and the legend.
func (d *Drawing) words(b *brush) {
	s := &d.paper.Style
	for _, t := range d.texts {
		ink := s.Ink
		if t.soft {
			ink = s.Faint
		}
		b.text(ink, t)
	}
	for _, l := range d.lanes {
		ink := s.Faint
		if !math.IsNaN(l.at) {
			ink = s.Mark
		}
		b.text(ink, label{x: l.x, y: d.laneFoot(l.row), text: l.text, wide: l.wide, anchor: l.anchor})
	}
	for _, e := range d.legend {
		d.sample(b, e)
		x := e.x
		if e.series >= 0 || e.band >= 0 {
			x += (sample + 6) * d.k
		}
		b.text(s.Ink, label{x: x, y: e.y + foot*d.k, text: e.text, wide: e.wide})
	}
}

// sample draws what a legend's entry looks like in the field.
func (d *Drawing) sample(b *brush, e entry) {
	k := d.k
	r := box{math.Round(e.x), math.Round(e.y + 2.5*k), math.Round(e.x + sample*k), math.Round(e.y + 11.5*k)}
	half := b.crisp((r.y0 + r.y1) / 2)
	if e.band >= 0 {
		band := &d.chart.Bands[e.band]
		tint, edge := d.shades(band.Tone)
		b.rect(fade(tint, 1.4), r)
		if band.Tone == Unwanted {
			b.hatch(fade(edge, 0.6), r, 5*k, nil, nil)
		}
		for _, y := range []float64{b.crisp(r.y0), b.crisp(r.y1)} {
			b.lines(edge, 1.2*k, Dashed, []point{at(r.x0, y), at(r.x1, y)})
		}
		return
	}
	if e.series < 0 {
		return
	}
	s, l := &d.chart.Series[e.series], d.looks[e.series]
	ink := l.color(&d.paper.Style)
	switch s.Kind {
	case Area:
		b.rect(fade(ink, 0.28), r)
		for _, y := range []float64{b.crisp(r.y0), b.crisp(r.y1)} {
			b.lines(fade(ink, 0.7), b.hair(), Solid, []point{at(r.x0, y), at(r.x1, y)})
		}
	case Bars:
		d.plate(b, box{r.x0 + 5*k, r.y0, r.x1 - 5*k, r.y1}, l, ink)
	case Points:
		b.sign(ink, l.sign, (r.x0+r.x1)/2, half, 3.2*k)
	case Stems:
		x := (r.x0 + r.x1) / 2
		b.lines(ink, l.width*k, Solid, []point{at(x, r.y1+k), at(x, r.y0+2*k)})
		b.sign(ink, l.sign, x, r.y0+2*k, 3*k)
	default:
		b.lines(ink, l.width*k, l.dash, []point{at(r.x0, half), at(r.x1, half)})
	}
}
