// SPDX-License-Identifier: MIT

package sheet

import (
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
)

// Options say how a set of sheets is drawn.
type Options struct {
	// Paper is used with its long side across; the zero Paper is A3, or Tabloid for a
	// list in feet.
	Paper drawing.Paper
	// File and Fingerprint say in the title block of which file and design the sheets
	// are; both may be empty.
	File, Fingerprint string
	Typeface          *drawing.Typeface // nil: the Go font
}

// Of returns the sheets of a room: plan, ceiling, walls, sections, cut-outs, set-out
// list and checks, in that order. The list is that of the same room.
func Of(r *place.Room, list *setout.List, o Options) []drawing.Sheet { return Draw(r, list, o).Sheets }

// Drawings are the sheets of a room, with where on them the items of its list are.
type Drawings struct {
	Sheets []drawing.Sheet
	Spots  []Spot // in the order of the list
}

// Draw returns what Of returns, and where everything is.
func Draw(r *place.Room, list *setout.List, o Options) *Drawings {
	s := newSet(r, list, o)
	d := &Drawings{Sheets: s.sheets()}
	for i := range list.Items {
		d.Spots = append(d.Spots, s.spot(&list.Items[i]))
	}
	return d
}

// Unmasked returns sheets without the white areas under their words and loudspeakers,
// for exchange: other programs draw them in black.
func Unmasked(sheets []drawing.Sheet) []drawing.Sheet {
	out := slices.Clone(sheets)
	for i := range out {
		out[i].Views = slices.Clone(out[i].Views)
		for k := range out[i].Views {
			v := &out[i].Views[k]
			v.Marks = slices.DeleteFunc(slices.Clone(v.Marks), func(m drawing.Mark) bool {
				a, ok := m.(drawing.Area)
				return ok && a.Layer == maskLayer
			})
		}
	}
	return out
}

// set is a room on its way onto sheets.
type set struct {
	room    *place.Room
	design  *project.Design
	outline geometry.Polygon
	lo, hi  geometry.Vec2
	metric  bool
	list    *setout.List
	hung    []panel.Run
	ids     []string // of the loudspeakers, as the list has them
	laser   float64  // height over the finished floor, metres
	turned  bool     // plans have the screen at their left, not at the top

	paper             drawing.Paper
	face              *drawing.Typeface
	file, fingerprint string
	planRatio         float64
	lean              int // what plans leave out: 1 names of dimensions and what is told twice, 2 loudspeakers
	pages             []composed
	bars              []bar // of all sheets
	lost              int   // labels that found no place
}

func newSet(r *place.Room, list *setout.List, o Options) *set {
	d := r.Design
	s := &set{room: r, design: d, list: list, hung: panel.Of(d), metric: list.Units != project.Imperial, laser: list.Datum.Height,
		outline: d.Room.Polygon(), face: o.Typeface, file: o.File, fingerprint: o.Fingerprint}
	s.lo, s.hi = s.outline.Bounds()
	named := d.Clone()
	named.Identify()
	for _, l := range named.Speakers {
		s.ids = append(s.ids, l.ID)
	}
	if s.face == nil {
		s.face = drawing.NewTypeface(nil)
	}
	s.paper = o.Paper
	if s.paper == (drawing.Paper{}) {
		name := "A3"
		if !s.metric {
			name = "Tabloid"
		}
		s.paper, _ = drawing.PaperNamed(name)
	}
	s.paper = s.paper.Landscape()
	return s
}

// composed is a page that waits for its number.
type composed struct {
	page   *page
	scale  Scale
	number string
}

func (s *set) sheets() []drawing.Sheet {
	s.compose()
	out := make([]drawing.Sheet, len(s.pages))
	for i, c := range s.pages {
		s.finish(c.page, c.scale, c.number, i+1, len(s.pages))
	}
	s.link()
	for i, c := range s.pages {
		out[i] = c.page.sheet
	}
	return out
}

// compose makes the pages.
func (s *set) compose() {
	s.turnPlan()
	s.planSheets()
	var walls []*view
	for i := range s.outline {
		if e := s.elevationOf(i); e.length > 0.3 || !e.empty() {
			walls = append(walls, e.view())
		}
	}
	s.fill("S3", "Walls from inside", walls)
	s.fill("S4", "Sections", slices.DeleteFunc(s.sections(), func(v *view) bool { return v == nil }))
	s.fill("S5", "Cut-outs", s.cutouts(s.newPage("")))
	s.listSheets()
	s.checkSheets()
}

// link makes names on drawings lead to their line in the list, and lines of the list to
// the drawing.
func (s *set) link() {
	inList, onDrawing := map[string]string{}, map[string]string{}
	for _, c := range s.pages {
		for _, w := range c.page.wants {
			if _, ok := inList[w.item]; !ok {
				inList[w.item] = c.page.sheet.Number
			}
		}
		for _, n := range c.page.named {
			onDrawing[n.item] = c.page.sheet.Number // walls and sections come after the plan
		}
	}
	for _, c := range s.pages {
		sheet := &c.page.sheet
		for _, n := range c.page.named {
			if to := inList[n.item]; to != "" {
				sheet.Links = append(sheet.Links, drawing.Link{Box: n.box, To: to})
			}
		}
		for _, w := range c.page.wants {
			if to := onDrawing[w.item]; to != "" {
				sheet.Links = append(sheet.Links, drawing.Link{Box: w.box, To: to})
			}
		}
	}
}

func (s *set) length(metres float64) string { return measure(s.metric, metres) }
