// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"math"

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
	u := d.Units
	x0, x1, y := b.X0+in, b.X1-in, b.Y0+in
	wide := x1 - x0
	p.text(x0, y+6, 6.2, drawing.Start, true, dark, p.fitted(it.Name, 6.2, wide))
	p.text(x0, y+12, normal, drawing.Start, false, warm, it.Place)
	y += 15
	p.rule(x0, x1, y)

	// The hole with the line, not to scale.
	c := it.Cutout
	hole := drawing.Rect(x0+20, y+13, x1-20, y+41)
	p.box(hole, dark, 0.5)
	mid := drawing.Pt((hole.X0+hole.X1)/2, (hole.Y0+hole.Y1)/2)
	p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: hair, Width: 0.2, Dash: []float64{4, 1, 0.6, 1}}, Lines: [][]drawing.Point{
		{drawing.Pt(mid.X, hole.Y0-3), drawing.Pt(mid.X, hole.Y1+3)}, {drawing.Pt(hole.X0-3, mid.Y), drawing.Pt(hole.X1+3, mid.Y)}}})
	p.text(mid.X, hole.Y0-4, normal, drawing.Middle, true, dark, signed(c.Upper, u))
	p.text(mid.X, hole.Y1+6.5, normal, drawing.Middle, true, dark, signed(c.Lower, u))
	p.text(hole.X0-2, mid.Y+5.5, normal, drawing.End, true, dark, plainLength(c.Left, u))
	p.text(hole.X1+2, mid.Y+5.5, normal, drawing.Start, true, dark, plainLength(c.Right, u))
	p.text(mid.X, mid.Y-2, small, drawing.Middle, false, soft, plainLength(c.Width, u)+" × "+plainLength(c.Height, u))
	y = hole.Y1 + 10
	from := "Edges: left and right from " + c.LeftRightFrom
	if c.LowerUpperFrom == "line" {
		from += ", upper and lower from the laser line (+ above it)"
	} else {
		from += ", upper and lower from " + c.LowerUpperFrom
	}
	y = p.para(x0, y, wide, 2.8, false, soft, from+". Not to scale.") + 2
	line := func(what, text string) {
		if text != "" {
			p.para(x0, y, 22, small, false, soft, what)
			y = p.para(x0+22, y, wide-22, small, false, dark, text) + 0.4
		}
	}
	line("middle", signed(it.Height, u)+" to the line; "+offsets(it, u))
	if it.Aim != nil {
		line("aim", it.Aim.Words(it.On))
	}
	if it.Tolerance != nil {
		line("may be off", it.Tolerance.Words(it.On, u))
	}
	if k, ok := cables[it.ID]; ok {
		line("cable", fmt.Sprintf("%s; 2 × %g mm², %s with its spare", k.Way, k.Area, unit.Length(k.Length).Format(u != project.Imperial)))
	} else {
		line("cable", "where the rack stands is not known yet")
	}
	if it.Mass > 0 {
		line("mass", fmt.Sprintf("%g kg", it.Mass))
	}
	line("mind", it.Caution)
	p.text(x0, b.Y1-6, 2.6, drawing.Start, false, soft, p.fitted(d.Name, 2.6, wide*0.6))
	p.text(x1, b.Y1-6, 2.6, drawing.End, false, soft, "line at "+unit.Length(l.Datum.Given).Format(u != project.Imperial))
}

// offsets says where the middle of an item is along and out from what it is on.
func offsets(it setout.Item, u project.Units) string {
	text := ""
	for i, o := range it.Offsets {
		if i > 0 {
			text += ", "
		}
		text += plainLength(o.Distance, u) + " from " + o.From
	}
	return text
}

// plainLength prints a length as it is set out: millimetres, or feet and inches to a
// sixteenth.
func plainLength(v float64, u project.Units) string {
	if u == project.Imperial {
		return unit.Length(v).Format(false)
	}
	return fmt.Sprintf("%.0f mm", math.Round(v*1000)+0) // never minus zero
}

// signed is plainLength with its sign.
func signed(v float64, u project.Units) string {
	text := plainLength(v, u)
	if v >= 0 {
		return "+" + text
	}
	return text
}
