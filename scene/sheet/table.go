// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"

	"earline/scene/drawing"
)

// table is a list that goes on over as many pages as it takes.
type table struct {
	set     *set
	title   string
	note    string // over the first line of every page
	columns []column
	lines   []line

	pages []*page
	edges []float64 // of the columns
	y     float64   // where the next line begins
}

// column is a column of a table.
type column struct {
	head  string
	share float64 // of the width
	right bool    // numbers end at its right edge
}

// line is a line of a table.
type line struct {
	cells []string
	item  string // to whose drawing it leads; may be empty
	head  bool   // heads the lines that follow it
	ink   color.NRGBA
	box   bool // a box to tick stands before it
}

// Of tables, in millimetres.
const (
	cellStep = 1.5 * small // from line to line in a cell
	cellPad  = 2.0         // between columns
	cellGap  = 1.6         // between lines of the table
	tick     = 2.7         // side of a box to tick
	tickRoom = 4.0
)

// table adds the pages of a table. first is how many sheets of that code there are
// already.
func (s *set) table(code string, first int, title, note string, columns []column, lines []line) {
	t := &table{set: s, title: title, note: note, columns: columns, lines: lines}
	t.begin()
	texts := make([][][]string, len(lines))
	tall := make([]float64, len(lines))
	for n := range lines {
		texts[n], tall[n] = t.broken(&lines[n])
	}
	for n := range lines {
		need := tall[n]
		if lines[n].head && n+1 < len(lines) { // a heading stays with the line it heads
			need += tall[n+1]
		}
		if t.y+need > t.page().area.Y1 && n > 0 {
			t.begin()
		}
		t.write(&lines[n], texts[n], tall[n])
	}
	for i, p := range t.pages {
		number := code
		if len(t.pages) > 1 {
			p.sheet.Title = partOf(title, i, len(t.pages))
		}
		if len(t.pages) > 1 || first > 0 {
			number = numbered(code, first+i)
		}
		s.pages = append(s.pages, composed{p, Scale{}, number})
	}
}

func (t *table) page() *page { return t.pages[len(t.pages)-1] }

// begin begins a page, with note and heads.
func (t *table) begin() {
	p := t.set.newPage(t.title)
	t.pages = append(t.pages, p)
	t.edges = t.edges[:0]
	x := p.area.X0
	for _, c := range t.columns {
		t.edges = append(t.edges, x)
		x += c.share * p.area.Dx()
	}
	t.edges = append(t.edges, p.area.X1)
	t.y = p.area.Y0
	for _, n := range p.wrapped(t.note, small, p.area.Dx()) {
		p.text(textLayer, black, p.area.X0, t.y+small, small, drawing.Start, n)
		t.y += cellStep
	}
	t.y += cellPad
	high := 1
	for i, c := range t.columns {
		lines := p.wrapped(c.head, small, t.room(i))
		t.cell(i, grey, c.right, 0, lines)
		high = max(high, len(lines))
	}
	t.y += cellStep*float64(high) + cellGap
	p.lines(textLayer, black, edge, []drawing.Point{{X: p.area.X0, Y: t.y}, {X: p.area.X1, Y: t.y}})
}

// room returns how wide the text of a column may be.
func (t *table) room(i int) float64 { return t.edges[i+1] - t.edges[i] - 2*cellPad }

// broken returns the cells of a line, broken into lines of text, and how high it is.
// Only names that nobody would read are longer than the most that a cell takes.
func (t *table) broken(l *line) (cells [][]string, tall float64) {
	const most = 10 // lines of text
	high := 1
	for i, text := range l.cells {
		room := t.room(i)
		if l.head {
			room = t.page().area.Dx()
		}
		if l.box && i == 0 {
			room -= tickRoom
		}
		lines := t.page().wrapped(text, small, room)
		if len(lines) > most {
			lines = append(lines[:most-1], "…")
		}
		cells, high = append(cells, lines), max(high, len(lines))
	}
	return cells, cellStep*float64(high) + cellGap
}

// write writes a line.
func (t *table) write(l *line, cells [][]string, tall float64) {
	p := t.page()
	ink := l.ink
	if ink == (color.NRGBA{}) {
		ink = black
	}
	for i, lines := range cells {
		in := 0.0
		if l.box && i == 0 {
			in = tickRoom
		}
		t.cell(i, ink, t.columns[i].right && !l.head, in, lines)
	}
	if l.box {
		x, y := t.edges[0]+cellPad/2, t.y+(cellStep+cellGap-tick)/2
		p.rect(textLayer, black, thin, drawing.Rect(x, y, x+tick, y+tick))
	}
	if l.item != "" {
		p.wants = append(p.wants, named{l.item, drawing.Rect(p.area.X0, t.y, t.edges[1], t.y+tall)})
	}
	t.y += tall
	width, shade := finest, pale
	if l.head {
		width, shade = thin, black
	}
	p.lines(textLayer, shade, width, []drawing.Point{{X: p.area.X0, Y: t.y}, {X: p.area.X1, Y: t.y}})
}

// cell writes the lines of a cell, in millimetres further to the right.
func (t *table) cell(i int, ink color.NRGBA, right bool, in float64, lines []string) {
	for k, text := range lines {
		base := t.y + 1 + small + cellStep*float64(k)
		if right {
			t.page().text(textLayer, ink, t.edges[i+1]-cellPad, base, small, drawing.End, text)
			continue
		}
		t.page().text(textLayer, ink, t.edges[i]+cellPad/2+in, base, small, drawing.Start, text)
	}
}
