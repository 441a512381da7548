// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"

	"earline/scene/drawing"
)

// column is a column of a table.
type column struct {
	head  string
	share float64 // of the width
	right bool    // numbers end at its right edge
}

// line is a row of a table.
type line struct {
	cells []string
	item  string // to whose drawing it leads; may be empty
	head  bool   // heads the lines that follow it
	ink   color.NRGBA
	box   bool // a box to tick stands before it
}

// table writes lines onto as many pages as they take. Cells that are too long are
// broken into lines; only names that nobody reads are longer than most of them. first is how many sheets of that code there are already.
func (s *set) table(code string, first int, title, note string, columns []column, lines []line) {
	var pages []*page
	var p *page
	y := 0.0
	const step, pad = 1.5 * small, 2.0
	const most = 10 // lines of a cell
	var x []float64
	newPage := func() {
		p = s.newPage(title)
		pages = append(pages, p)
		x = x[:0]
		at := p.area.X0
		for _, c := range columns {
			x = append(x, at)
			at += c.share * p.area.Dx()
		}
		x = append(x, p.area.X1)
		y = p.area.Y0
		for _, n := range p.wrapped(note, small, p.area.Dx()) {
			p.text(textLayer, black, p.area.X0, y+small, small, drawing.Start, n)
			y += step
		}
		y += 1.5
		most := 1
		for i, c := range columns {
			for k, h := range p.wrapped(c.head, small, x[i+1]-x[i]-2*pad) {
				most = max(most, k+1)
				if c.right {
					p.text(textLayer, grey, x[i+1]-pad, y+small+step*float64(k), small, drawing.End, h)
					continue
				}
				p.text(textLayer, grey, x[i]+pad/2, y+small+step*float64(k), small, drawing.Start, h)
			}
		}
		y += step*float64(most) + 0.8
		p.lines(textLayer, black, edge, []drawing.Point{{X: p.area.X0, Y: y}, {X: p.area.X1, Y: y}})
	}
	newPage()
	wrapped := make([][][]string, len(lines))
	tall := make([]float64, len(lines))
	for n, l := range lines {
		wrapped[n] = make([][]string, len(columns))
		high := 1
		for i := range columns {
			if i < len(l.cells) {
				room := x[i+1] - x[i] - 2*pad
				if l.head {
					room = p.area.Dx()
				}
				if l.box && i == 0 {
					room -= 4
				}
				wrapped[n][i] = p.wrapped(l.cells[i], small, room)
				if len(wrapped[n][i]) > most {
					wrapped[n][i] = append(wrapped[n][i][:most-1], "…")
				}
				high = max(high, len(wrapped[n][i]))
			}
		}
		tall[n] = step*float64(high) + 1.6
	}
	for n, l := range lines {
		cells := wrapped[n]
		need := tall[n]
		if l.head && n+1 < len(lines) { // a heading stays with the line it heads
			need += tall[n+1]
		}
		if y+need > p.area.Y1 && n > 0 {
			newPage()
		}
		ink := l.ink
		if ink == (color.NRGBA{}) {
			ink = black
		}
		for i, c := range columns {
			for k, text := range cells[i] {
				base := y + 1 + small + step*float64(k)
				left := x[i] + pad/2
				if l.box && i == 0 {
					left += 4
				}
				if c.right && !l.head {
					p.text(textLayer, ink, x[i+1]-pad, base, small, drawing.End, text)
				} else {
					p.text(textLayer, ink, left, base, small, drawing.Start, text)
				}
			}
		}
		if l.box {
			p.rect(textLayer, black, thin, drawing.Rect(x[0]+pad/2, y+0.9, x[0]+pad/2+2.7, y+0.9+2.7))
		}
		if l.item != "" {
			p.wants = append(p.wants, named{l.item, drawing.Rect(p.area.X0, y, x[1], y+tall[n])})
		}
		y += tall[n]
		width, shade := finest, pale
		if l.head {
			width, shade = thin, black
		}
		p.lines(textLayer, shade, width, []drawing.Point{{X: p.area.X0, Y: y}, {X: p.area.X1, Y: y}})
	}
	for i, p := range pages {
		number := code
		if len(pages) > 1 {
			p.sheet.Title = partOf(title, i, len(pages))
		}
		if len(pages) > 1 || first > 0 {
			number = numbered(code, first+i)
		}
		s.pages = append(s.pages, composed{p, Scale{}, number})
	}
}
