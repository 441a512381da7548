// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/lists"
	"earline/project/setout"
	"earline/scene/drawing"
)

// Cards returns a card for every cut-out, four to a page, to be cut apart and taken to
// the wall: what goes there, where its edges are, how far it may be off, where its cable
// comes from.
func Cards(d *project.Design, l *setout.List, t *drawing.Typeface) []drawing.Sheet {
	paper := paperFor(d).Portrait()
	cables := map[string]lists.Cable{}
	for _, c := range lists.Cables(d) {
		cables[c.ID] = c
	}
	var out []drawing.Sheet
	var p *page
	n := 0
	for _, it := range l.Items {
		if it.Cutout == nil {
			continue
		}
		if n%4 == 0 {
			if p != nil {
				out = append(out, p.Sheet)
			}
			p = newPage(fmt.Sprintf("%d", n/4+1), fmt.Sprintf("Hole cards %d", n/4+1), paper, t)
			mid := drawing.Pt(paper.Width/2, paper.Height/2)
			p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: hair, Width: 0.2, Dash: []float64{2, 2}}, Lines: [][]drawing.Point{
				{drawing.Pt(mid.X, 0), drawing.Pt(mid.X, paper.Height)}, {drawing.Pt(0, mid.Y), drawing.Pt(paper.Width, mid.Y)}}})
		}
		w, h := paper.Width/2, paper.Height/2
		x, y := float64(n%2)*w, float64(n%4/2)*h
		p.card(drawing.Rect(x, y, x+w, y+h), d, l, it, cables)
		n++
	}
	if p != nil {
		out = append(out, p.Sheet)
	}
	return out
}

// card draws one card in b.
func (p *page) card(b drawing.Box, d *project.Design, l *setout.List, it setout.Item, cables map[string]lists.Cable) {
	const in = 9.0 // mm, from the edges
	x0, x1, y := b.X0+in, b.X1-in, b.Y0+in
	wide := x1 - x0
	p.text(x0, y+6, 6.2, drawing.Start, true, dark, p.fitted(it.Name, 6.2, wide))
	p.text(x0, y+12, normal, drawing.Start, false, warm, it.Place)
	y += 15
	p.rule(x0, x1, y)

	c := it.Cutout
	hole := p.hole(drawing.Rect(x0, y, x1, y+51), l, c)
	foot := b.Y1 - 6
	y = p.para(x0, hole.Y1+8, wide, 2.8, false, soft, "Edges: "+l.ShowEdges(c)+". Not to scale.") + 2
	rows := [][2]string{{"middle", l.ShowHeight(it.Height) + " to the line; " + offsets(l, it)}}
	row := func(what, text string) {
		if text != "" {
			rows = append(rows, [2]string{what, text})
		}
	}
	row("mind", it.Caution)
	if it.Aim != nil {
		row("aim", it.Aim.Words(it.On))
	}
	if it.Tolerance != nil {
		row("may be off", it.Tolerance.Words(it.On, d.Units))
	}
	if k, ok := cables[it.ID]; ok {
		row("cable", fmt.Sprintf("%s; 2 × %g mm², %s with its spare", k.Way, k.Area, unit.Length(k.Length).Format(d.Units != project.Imperial)))
	} else {
		row("cable", "where the rack stands is not known yet")
	}
	if it.Mass > 0 {
		row("mass", fmt.Sprintf("%g kg", it.Mass))
	}
	p.rows(x0, y, x1, foot-3.5, rows)
	p.text(x0, foot, 2.6, drawing.Start, false, soft, p.fitted(d.Name, 2.6, wide*0.4))
	p.text(x1, foot, 2.6, drawing.End, false, soft, "line "+l.Show(l.Datum.Given)+" above the "+string(l.Datum.From))
}

// hole draws a cut-out in b, in proportion, with its edges, and returns the hole.
func (p *page) hole(b drawing.Box, l *setout.List, c *setout.Cutout) drawing.Box {
	mid := drawing.Pt((b.X0+b.X1)/2, (b.Y0+b.Y1)/2)
	const side, above = 24.0, 12.0 // mm, for the figures
	w, h := (b.X1-b.X0)/2-side, (b.Y1-b.Y0)/2-above
	if c.Width > 0 && c.Height > 0 {
		scale := min(w/c.Width, h/c.Height)
		w, h = c.Width*scale, c.Height*scale
	}
	hole := drawing.Rect(mid.X-w, mid.Y-h, mid.X+w, mid.Y+h)
	p.box(hole, dark, 0.5)
	p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: hair, Width: 0.2, Dash: []float64{4, 1, 0.6, 1}}, Lines: [][]drawing.Point{
		{drawing.Pt(mid.X, hole.Y0-3), drawing.Pt(mid.X, hole.Y1+3)}, {drawing.Pt(hole.X0-3, mid.Y), drawing.Pt(hole.X1+3, mid.Y)}}})
	upper, lower := l.ShowHeight(c.Upper), l.ShowHeight(c.Lower)
	if c.LowerUpperFrom != setout.Line {
		upper, lower = "front "+l.Show(c.Upper), "back "+l.Show(c.Lower)
	}
	p.text(mid.X, hole.Y0-4, normal, drawing.Middle, true, dark, upper)
	p.text(mid.X, hole.Y1+6.5, normal, drawing.Middle, true, dark, lower)
	p.text(hole.X0-2, mid.Y+5.5, normal, drawing.End, true, dark, l.Show(math.Abs(c.Left)))
	p.text(hole.X1+2, mid.Y+5.5, normal, drawing.Start, true, dark, l.Show(math.Abs(c.Right)))
	p.text(hole.X0-2, mid.Y-2, small, drawing.End, false, soft, l.Show(c.Width)+" wide,")
	p.text(hole.X1+2, mid.Y-2, small, drawing.Start, false, soft, l.Show(c.Height)+" high")
	return hole
}

// rows writes words with what they are before them, as large as goes between y and y1.
func (p *page) rows(x0, y, x1, y1 float64, rows [][2]string) {
	const name, least = 22.0, 2.0 // mm
	size := small
	write := func(draw bool) (end float64) {
		end = y
		for _, r := range rows {
			if draw {
				p.para(x0, end, name, size, false, soft, r[0])
				p.para(x0+name, end, x1-x0-name, size, false, dark, r[1])
			}
			end += size*leading*float64(len(p.lines(r[1], size, x1-x0-name, false))) + 0.4
		}
		return end
	}
	for size > least && write(false) > y1 {
		size -= 0.1
	}
	write(true)
}

// offsets says where the middle of an item is along and out from what it is on.
func offsets(l *setout.List, it setout.Item) string {
	var all []string
	for _, o := range it.Offsets {
		all = append(all, l.ShowOffset(o))
	}
	return strings.Join(all, ", ")
}
