// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"

	"earline/project"
	"earline/project/lesson"
	"earline/scene/drawing"
)

// Result returns the result sheet of a lesson: the points, each fault with what became
// of it and why it is one. It is one page for most lessons.
func Result(d *project.Design, m *lesson.Mark, t *drawing.Typeface) []drawing.Sheet {
	const (
		size = 3.2 // mm, of type
		head = 24  // mm, for what became of a fault
		gap  = 3   // mm, before an item
	)
	paper := paperFor(d).Portrait()
	wide := paper.Width - 2*margin
	var pages []*page
	var p *page
	y := 0.0
	begin := func() {
		p = newPage(fmt.Sprint(len(pages)+1), "Result of a lesson", paper, t)
		pages = append(pages, p)
		p.text(margin, margin+6, 7, drawing.Start, false, dark, p.fitted(d.Name, 7, wide-40))
		p.text(paper.Width-margin, margin+6, normal, drawing.End, false, warm, "Result")
		p.rule(margin, paper.Width-margin, margin+9)
		y = margin + 11
	}
	begin()
	y = p.para(margin, y, wide, normal, true, dark, m.Sentence())
	y = p.para(margin, y+1, wide, size, false, soft, "Two points for a fault that is mended, one for one that is found; one less for each that was made and each thing lost.")
	y += 5
	p.text(margin, y, size, drawing.Start, false, soft, "Name")
	p.rule(margin+12, margin+90, y+0.8)
	p.text(margin+98, y, size, drawing.Start, false, soft, "Date")
	p.rule(margin+108, paper.Width-margin, y+0.8)
	y += 2
	for _, l := range m.Lines() {
		x, bold, ink := float64(margin), false, dark
		before := 0.0
		typed := size
		switch l.Kind {
		case lesson.Heading:
			before, typed, ink = gap+1, normal, warm
		case lesson.Item:
			x, before, bold = margin+head, gap-1, true
		case lesson.More:
			x = margin + head
		case lesson.Aside:
			before, ink = gap, soft
		}
		lines := p.lines(l.Text, typed, paper.Width-margin-x, bold)
		if y+before+float64(len(lines))*typed*leading > paper.Height-margin-4 {
			begin()
		}
		y += before
		foot := y
		if l.Head != "" {
			foot = p.para(margin, y, head-2, size, true, soft, l.Head)
		}
		y = max(p.para(x, y, paper.Width-margin-x, typed, bold, ink, l.Text), foot)
	}
	out := make([]drawing.Sheet, len(pages))
	for i, p := range pages {
		p.text(paper.Width-margin, paper.Height-7, 2.8, drawing.End, false, soft, fmt.Sprintf("%d of %d", i+1, len(pages)))
		out[i] = p.Sheet
	}
	return out
}
