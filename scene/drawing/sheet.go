// SPDX-License-Identifier: MIT

package drawing

import "strings"

// Sheet is one page of a set. The same sheets go to every back end.
type Sheet struct {
	Number string // of the sheet in its set, "P-02": links and files name it
	Title  string // "Plan, loudspeakers"
	Paper  Paper
	// Views are drawings to scale, in the order of drawing.
	Views []View
	// Marks are what lies on the paper itself, over the views: frame, title block,
	// tables, charts. In millimetres from its upper left corner, y down.
	Marks Marks
	Links []Link
}

// View is a drawing of a model to scale. Its marks are in millimetres of the model,
// y down as everywhere: what stands z high in an elevation is drawn at -z. On paper
// they come out to scale; in exchange files in full size, with y up.
type View struct {
	Name   string  // "Plan"
	Scale  float64 // mm of the paper to one of the model: 1.0/25
	Origin Point   // where on the paper the model's origin lies, mm
	// Window is the part of the paper that the view may cover; the zero Box is all.
	Window Box
	Marks  Marks
}

// Link is a part of a sheet that leads to another sheet.
type Link struct {
	Box Box
	To  string // its Number
}

// Name returns number and title in one.
func (s *Sheet) Name() string { return strings.TrimSpace(s.Number + " " + s.Title) }

// Draw draws the sheet on a canvas of millimetres. A view is cut at its window.
func (s *Sheet) Draw(c Canvas, t *Typeface) {
	for i := range s.Views {
		v := &s.Views[i]
		on := c
		if v.Window != (Box{}) {
			on = Clipped(c, v.Window)
		}
		v.Marks.Draw(on, v.Origin, v.Scale, t)
	}
	s.Marks.Draw(c, Pt(0, 0), 1, t)
}

// OnPaper returns where a point of the model lies on the paper.
func (v *View) OnPaper(p Point) Point {
	return pose{at: v.Origin, scale: v.Scale}.point(p)
}

// Paper is a size of paper, in millimetres.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers returns the sizes that there are, upright: A4 and A3 by ISO 216, Letter and
// Tabloid (8 1/2 by 11 and 11 by 17 inches) by ASME Y14.1 sizes A and B. The sizes
// are from memory, neither standard was at hand.
func Papers() []Paper {
	const inch = 25.4
	return []Paper{
		{"A4", 210, 297},
		{"A3", 297, 420},
		{"Letter", 8.5 * inch, 11 * inch},
		{"Tabloid", 11 * inch, 17 * inch},
	}
}

// PaperNamed returns the paper of that name, upright, and whether there is one.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers() {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// Landscape returns p with its long side level.
func (p Paper) Landscape() Paper {
	p.Width, p.Height = max(p.Width, p.Height), min(p.Width, p.Height)
	return p
}

// Portrait returns p with its long side upright.
func (p Paper) Portrait() Paper {
	p.Width, p.Height = min(p.Width, p.Height), max(p.Width, p.Height)
	return p
}
