// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/scene/drawing"
)

// The frame of ISO 5457 (memory): 20 mm to file the sheet by, 10 mm elsewhere.
const (
	filing  = 20.0
	margin  = 10.0
	block   = 21.0 // mm, height of the title block
	padding = 4.0  // mm between the frame and what is drawn
)

// newPage returns an empty page of that paper.
func (s *set) newPage(title string) *page {
	p := &page{face: s.face}
	p.sheet.Title, p.sheet.Paper = title, s.paper
	p.canvas = &p.sheet.Marks
	p.area = drawing.Rect(filing+padding, margin+padding, s.paper.Width-margin-padding, s.paper.Height-margin-block-padding)
	p.cell = p.area
	return p
}

// finish puts frame and title block on a page, and the views into its sheet.
func (s *set) finish(p *page, scale Scale, number string, n, of int) {
	p.canvas = &p.sheet.Marks
	p.sheet.Number = number
	for _, v := range p.drawn {
		p.sheet.Views = append(p.sheet.Views, drawing.View{Name: v.name, Scale: v.model.scale, Origin: v.model.origin, Marks: v.model.marks})
	}
	w, h := s.paper.Width, s.paper.Height
	frame := drawing.Rect(filing, margin, w-margin, h-margin)
	p.rect(sheetLayer, black, heavier, frame)
	top := frame.Y1 - block
	p.lines(sheetLayer, black, heavier, []drawing.Point{{X: frame.X0, Y: top}, {X: frame.X1, Y: top}})
	shares := []float64{0.23, 0.20, 0.22, 0.20, 0.15}
	x := frame.X0
	job, d := s.design.Job, s.design
	for i, share := range shares {
		wide := share * frame.Dx()
		if i > 0 {
			p.lines(sheetLayer, black, edge, []drawing.Point{{X: x, Y: top}, {X: x, Y: frame.Y1}})
		}
		c := &titleCell{p, x + 1.8, top, wide - 3.6}
		switch i {
		case 0:
			c.head("project")
			c.line(9.2, large, d.Name)
			c.line(14.2, small, strings.TrimSpace(job.Reference))
			c.line(18.8, small, revision(job))
		case 1:
			c.head("drawing")
			c.line(8.6, medium, p.sheet.Title)
			c.line(14.2, small, fmt.Sprintf("%s, sheet %d of %d", number, n, of))
			c.line(18.8, small, s.paper.Name+" printed at 100 %")
		case 2:
			if scale.Ratio > 0 {
				c.head("scale")
				c.line(8.6, medium, scale.Name)
				s.scaleBar(p, scale, c.x, top+13, c.wide)
			} else {
				c.head("scale")
				c.line(8.6, medium, "none")
			}
		case 3:
			c.head("datum")
			c.line(7.2, small, "laser line ±0 = "+s.length(s.laser))
			c.line(11.2, small, s.overFloor())
			c.line(15.2, small, "across from "+s.across())
			c.line(19.2, small, s.unitNote())
		case 4:
			c.line(6, small, "DO NOT SCALE")
			c.line(10.4, small, "read the dimensions")
			if s.fingerprint != "" {
				c.line(15.2, tiny, "design "+s.fingerprint)
			}
			if s.file != "" {
				c.line(18.8, tiny, s.file)
			}
		}
		x += wide
	}
}

func revision(j project.Job) string {
	switch {
	case j.Revision == "" && j.RevisedOn == "":
		return "revision –"
	case j.RevisedOn == "":
		return "revision " + j.Revision
	case j.Revision == "":
		return "revision – of " + j.RevisedOn
	}
	return "revision " + j.Revision + " of " + j.RevisedOn
}

func (s *set) overFloor() string {
	if s.list.Datum.Assumed {
		return "over finished floor (assumed)"
	}
	return "over finished floor"
}

func (s *set) across() string {
	if s.list.Datum.Across == "" {
		return project.CentreLine
	}
	return s.list.Datum.Across
}

func (s *set) unitNote() string {
	if s.metric {
		return "dimensions in millimetres"
	}
	return "feet, inches, sixteenths"
}

// titleCell is a cell of the title block.
type titleCell struct {
	p            *page
	x, top, wide float64
}

func (c *titleCell) head(text string) {
	c.p.text(sheetLayer, grey, c.x, c.top+1.2+tiny, tiny, drawing.Start, text)
}

// line writes text that far under the top, smaller if it must be, then shortened.
func (c *titleCell) line(y, height float64, text string) {
	for height > 2 && c.p.width(text, height) > c.wide {
		height -= 0.25
	}
	c.p.text(sheetLayer, black, c.x, c.top+y, height, drawing.Start, c.p.fitted(text, height, c.wide))
}

// scaleBar draws a bar of a whole number of metres or feet that measures true.
func (s *set) scaleBar(p *page, scale Scale, x, y, wide float64) {
	steps, one, word := []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50}, 1.0, " m"
	if !s.metric {
		steps, one, word = []float64{0.25, 0.5, 1, 2, 4, 5, 10, 20, 50, 100}, float64(unit.Foot), " ft"
	}
	k := scale.mm() * one
	long := steps[0]
	for _, v := range steps {
		if v*k <= wide-14 {
			long = v
		}
	}
	const parts, high = 5, 1.6
	for i := range parts {
		a, b := x+1+k*long*float64(i)/parts, x+1+k*long*float64(i+1)/parts
		box := drawing.Rect(a, y, b, y+high)
		if i%2 == 0 {
			p.fill(sheetLayer, black, corners(box))
		}
	}
	p.rect(sheetLayer, black, thin, drawing.Rect(x+1, y, x+1+k*long, y+high))
	p.text(sheetLayer, black, x+1, y+high+0.8+small, small, drawing.Middle, "0")
	p.text(sheetLayer, black, x+1+k*long, y+high+0.8+small, small, drawing.Middle, fmt.Sprintf("%g%s", long, word))
	s.bars = append(s.bars, bar{p.sheet.Number, drawing.Rect(x+1, y, x+1+k*long, y+high), long * one})
}

// bar is a scale bar: what it measures on paper and in the room.
type bar struct {
	sheet  string
	box    drawing.Box
	metres float64
}

// screenArrow draws an arrow to the screen in the upper right corner of a plan's sheet.
func (s *set) screenArrow(p *page) {
	c := drawing.Pt(p.area.X1-9, p.area.Y0+11)
	const r = 6.5
	to := drawing.Pt(c.X, c.Y-r)
	from := drawing.Pt(c.X, c.Y+r)
	if s.turned {
		to, from = drawing.Pt(c.X-r, c.Y), drawing.Pt(c.X+r, c.Y)
	}
	p.circle(sheetLayer, black, thin, c, r)
	p.arrow(sheetLayer, black, from, to)
	p.solids = append(p.solids, drawing.Rect(c.X-r, c.Y-r, c.X+r, c.Y+r))
	p.text(sheetLayer, black, c.X, c.Y+r+1+small, small, drawing.Middle, "screen")
}
