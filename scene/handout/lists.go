// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"

	"earline/project"
	"earline/project/lists"
	"earline/scene/drawing"
)

// Lists returns the lists of a room as pages: equipment, cables, masses, outlets, air,
// panels, stages of the work, each with its notes and its caution. The stages have boxes
// to tick.
func Lists(d *project.Design, t *drawing.Typeface) []drawing.Sheet {
	w := lister{d: d, face: t, paper: paperFor(d).Landscape()}
	for _, table := range lists.All(d) {
		w.table(&table)
	}
	out := make([]drawing.Sheet, len(w.pages))
	for i, p := range w.pages {
		p.text(margin, w.paper.Height-7, 2.8, drawing.Start, false, soft, d.Name)
		p.text(w.paper.Width-margin, w.paper.Height-7, 2.8, drawing.End, false, soft, fmt.Sprintf("%d of %d", i+1, len(w.pages)))
		out[i] = p.Sheet
	}
	return out
}

// lister writes tables on pages.
type lister struct {
	d     *project.Design
	face  *drawing.Typeface
	paper drawing.Paper
	pages []*page
	p     *page
	y     float64
}

// begin begins a page of a list.
func (w *lister) begin(title string) {
	w.p = newPage(fmt.Sprintf("%d", len(w.pages)+1), title, w.paper, w.face)
	w.pages = append(w.pages, w.p)
	w.p.text(margin, margin+6, 7, drawing.Start, false, dark, title)
	w.p.rule(margin, w.paper.Width-margin, margin+9)
	w.y = margin + 11
}

const (
	cellSize = 2.9 // mm, of type
	cellStep = 4.1 // mm, from line to line
	cellGap  = 3.0 // mm, between columns
)

// table writes a list, over as many pages as it takes.
func (w *lister) table(t *lists.Table) {
	w.begin(t.Title)
	shares := w.shares(t)
	foot := w.paper.Height - margin - 2
	row := func(cells []string, bold, box bool) {
		high := 0.0
		var lines [][]string
		for i, c := range cells {
			l := w.p.lines(c, cellSize, shares[i]-cellGap, bold)
			lines = append(lines, l)
			high = max(high, cellStep*float64(len(l)))
		}
		if w.y+high > foot {
			w.begin(t.Title + ", continued")
		}
		x := float64(margin)
		for i, l := range lines {
			for n, text := range l {
				w.p.text(x, w.y+cellStep*float64(n)+3.1, cellSize, drawing.Start, bold, dark, text)
			}
			if box && i == len(lines)-1 {
				w.p.box(drawing.Rect(x, w.y+0.6, x+3, w.y+3.6), soft, 0.2)
			}
			x += shares[i]
		}
		w.y += high + 0.9
		w.p.rule(margin, w.paper.Width-margin, w.y-0.4)
	}
	row(t.Columns, true, false)
	for _, cells := range t.Rows {
		row(cells, false, t.Name == "stages")
	}
	if t.Sums != nil {
		row(t.Sums, true, false)
	}
	if len(t.Rows) == 0 {
		w.y = w.p.para(margin, w.y, w.paper.Width-2*margin, cellSize, false, soft, "Nothing in the plan belongs to this list.")
	}
	for _, note := range append(append([]string{}, t.Notes...), t.Caution) {
		if note == "" {
			continue
		}
		if w.y+3*cellStep > foot {
			w.begin(t.Title + ", continued")
		}
		ink := soft
		if note == t.Caution {
			ink = alarm
		}
		w.y = w.p.para(margin, w.y+1, w.paper.Width-2*margin, cellSize, false, ink, note)
	}
}

// shares returns how wide each column is: as wide as its longest text, as long as there
// is room for all; else the wide ones give way.
func (w *lister) shares(t *lists.Table) []float64 {
	all := w.paper.Width - 2*margin
	wide := make([]float64, len(t.Columns))
	rows := append([][]string{t.Columns}, t.Rows...)
	if t.Sums != nil {
		rows = append(rows, t.Sums)
	}
	for n, row := range rows {
		for i, c := range row {
			wide[i] = max(wide[i], w.p.width(c, cellSize, n == 0 || n > len(t.Rows))+cellGap+0.2)
		}
	}
	// The least cap at which all fit.
	lo, hi := 14.0, all
	fit := func(limit float64) (sum float64) {
		for _, v := range wide {
			sum += min(v, limit)
		}
		return sum
	}
	if fit(hi) > all {
		for range 40 {
			if mid := (lo + hi) / 2; fit(mid) > all {
				hi = mid
			} else {
				lo = mid
			}
		}
		for i := range wide {
			wide[i] = min(wide[i], lo)
		}
	}
	return wide
}
