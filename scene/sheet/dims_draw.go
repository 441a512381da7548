// SPDX-License-Identifier: MIT

package sheet

import (
	"earline/scene/drawing"
)

// gutter is the paper beside a view.
type gutter struct {
	d    *drawn
	side int
}

// at returns the point of the paper that is so far along the side (metres) and so far
// away from the view (mm).
func (g gutter) at(along, away float64) drawing.Point {
	return g.off(g.along(along), away)
}

// along returns where a length along the side is on paper, mm.
func (g gutter) along(metres float64) float64 {
	if g.side == below || g.side == above {
		return g.d.at0.X + g.d.scale.mm()*metres
	}
	return g.d.at0.Y - g.d.scale.mm()*metres
}

// off is at, but with mm along the side.
func (g gutter) off(along, away float64) drawing.Point {
	b := g.d.box()
	switch g.side {
	case below:
		return drawing.Pt(along, b.Y1+away)
	case above:
		return drawing.Pt(along, b.Y0-away)
	case leftOf:
		return drawing.Pt(b.X0-away, along)
	}
	return drawing.Pt(b.X1+away, along)
}

// draw draws the row, depth mm away from the view.
func (r *row) draw(d *drawn, side int, depth float64) {
	g := gutter{d, side}
	if r.running {
		r.drawRunning(g, depth)
		return
	}
	r.drawChain(g, depth)
}

func (r *row) drawRunning(g gutter, depth float64) {
	d := g.d
	line := depth + 1.5
	from, to := r.zero, r.zero
	want, sep := make([]float64, len(r.stops)), make([]float64, len(r.stops))
	for i, s := range r.stops {
		from, to = min(from, s.at), max(to, s.at)
		want[i], sep[i] = g.along(s.at), pitch
	}
	places := spread(want, sep)
	strokes := [][]drawing.Point{{g.at(from, line), g.at(to, line)}}
	for i, s := range r.stops {
		end := g.off(places[i], line+lead)
		strokes = append(strokes, []drawing.Point{g.at(s.at, 1), g.at(s.at, line+1), g.off(places[i], line+lead-1), end})
		d.dot(dimensionLayer, black, g.at(s.at, line), 0.45)
		switch g.side {
		case below:
			d.textUp(dimensionLayer, black, end.X+small/2, end.Y+0.6, small, drawing.End, r.word(i))
		case above:
			d.textUp(dimensionLayer, black, end.X+small/2, end.Y-0.6, small, drawing.Start, r.word(i))
		case leftOf:
			d.text(dimensionLayer, black, end.X-0.6, end.Y+small/2, small, drawing.End, r.word(i))
		default:
			d.text(dimensionLayer, black, end.X+0.6, end.Y+small/2, small, drawing.Start, r.word(i))
		}
	}
	d.lines(dimensionLayer, black, thin, strokes...)
	d.circle(dimensionLayer, black, thin, g.at(r.zero, line), 1) // where the tape is hooked on
}

func (r *row) drawChain(g gutter, depth float64) {
	d := g.d
	flat := g.side == below || g.side == above
	// The text stands over the line as one reads it: from below, or from the right.
	line := depth + lineRoom - 1.2
	if g.side == above || g.side == leftOf {
		line = depth + 1.2
	}
	narrow := r.narrow(d.page, d.scale)
	var strokes [][]drawing.Point
	var want, sep []float64
	var which []int
	for i, n := range narrow {
		a, b := r.stops[i].at, r.stops[i+1].at
		middle := g.at((a+b)/2, line)
		away := max(line-lineRoom, 1)
		if !n {
			turn := 90.0
			box := d.upBox(middle.X-0.8, middle.Y, r.word(i))
			if flat {
				turn, box = 0, d.levelBox(middle.X, middle.Y-0.8, r.word(i))
			}
			d.words = append(d.words, word{r.word(i), box})
			d.dimension(g.at(a, away), g.at(b, away), middle, turn, r.word(i))
			continue
		}
		strokes = append(strokes, []drawing.Point{g.at(a, line), g.at(b, line)})
		for _, at := range [2]float64{a, b} {
			q := g.at(at, line)
			strokes = append(strokes,
				[]drawing.Point{{X: q.X - arrow, Y: q.Y + arrow}, {X: q.X + arrow, Y: q.Y - arrow}},
				[]drawing.Point{g.at(at, away+1), g.at(at, line+1)})
		}
		which = append(which, i)
		want = append(want, g.along((a+b)/2))
		sep = append(sep, d.width(r.word(i), small)+1.6)
	}
	// Text without room stands on the far side of the line, or over the text that has it.
	clear := 1.0 // mm from the line
	if g.side == above || g.side == leftOf {
		clear = small + 1.5
	}
	for k, at := range spread(want, sep) {
		i := which[k]
		q := g.off(at, line+clear)
		switch g.side {
		case below:
			d.text(dimensionLayer, black, q.X, q.Y+small, small, drawing.Middle, r.word(i))
		case above:
			d.text(dimensionLayer, black, q.X, q.Y-drop*size(small), small, drawing.Middle, r.word(i))
		case leftOf:
			d.textUp(dimensionLayer, black, q.X-drop*size(small), q.Y, small, drawing.Middle, r.word(i))
		default:
			d.textUp(dimensionLayer, black, q.X+small, q.Y, small, drawing.Middle, r.word(i))
		}
		strokes = append(strokes, []drawing.Point{g.at((r.stops[i].at+r.stops[i+1].at)/2, line), q})
	}
	d.lines(dimensionLayer, black, thin, strokes...)
}

// dimension draws a dimension that has room for its text, as one that stays a dimension
// where it is kept in a view.
func (p *page) dimension(a, b, line drawing.Point, turn float64, text string) {
	d := drawing.Dimension{Layer: dimensionLayer, Ink: black, A: a, B: b, Line: line, Turn: turn, Text: text, Size: size(small)}
	if m, ok := p.canvas.(*model); ok {
		d.A, d.B, d.Line = m.point(a), m.point(b), m.point(line)
		m.marks.Add(d)
	}
}
