// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"math"
	"slices"

	"earline/project"
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

func newSet(r *place.Room, list *setout.List, o Options) *set {
	d := r.Design
	s := &set{room: r, design: d, list: list, metric: list.Units != project.Imperial, laser: list.Datum.Height,
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

// turnPlan turns plans so that the screen is at the left where that allows a larger
// scale; otherwise it is at the top, as people hold a plan. On paper too small for all
// dimensions at 1:50 it leaves out what other sheets tell again, as far as that makes the
// plan larger.
func (s *set) turnPlan() {
	const enough = 50
	p := s.newPage("")
	best := struct {
		ratio  float64
		lean   int
		turned bool
	}{ratio: math.Inf(1)}
	for s.lean = range 3 {
		for _, turned := range []bool{false, true} {
			s.turned = turned
			if r := s.planScale(p).Ratio; r < best.ratio {
				best.ratio, best.lean, best.turned = r, s.lean, turned
			}
		}
		if best.ratio <= enough {
			break
		}
	}
	s.planRatio, s.lean, s.turned = best.ratio, best.lean, best.turned
}

// planScale returns the largest scale at which plan and ceiling fit one on the other.
func (s *set) planScale(p *page) Scale {
	views := s.planViews()
	return largest(scales(s.metric), func(c Scale) bool {
		w, h, _ := together(p, views, c)
		return w <= p.area.Dx() && h <= p.area.Dy()
	})
}

func (s *set) planViews() []*view { return []*view{s.plan(), s.ceiling()} }

// together returns the paper that views of one outline take when they lie on each other.
func together(p *page, views []*view, c Scale) (w, h float64, beside [4]float64) {
	notes := 0
	for _, v := range views {
		_, _, b := v.need(p, c)
		for side := range beside {
			beside[side] = max(beside[side], b[side])
		}
		notes = max(notes, len(v.notes))
	}
	k := c.mm()
	w = k*(views[0].hi.X-views[0].lo.X) + beside[leftOf] + beside[rightOf]
	h = k*(views[0].hi.Y-views[0].lo.Y) + beside[below] + beside[above] + titleHeight + noteStep*float64(notes)
	return w, h, beside
}

// planSheets draws the plan and the ceiling at one scale and in one place of their
// sheets, so that one can be laid on the other.
func (s *set) planSheets() {
	scale := largest(scales(s.metric), func(c Scale) bool { return c.Ratio >= s.planRatio })
	views := s.planViews()
	w, h, beside := together(s.newPage(""), views, scale)
	for i, v := range views {
		p := s.newPage([]string{"Plan", "Ceiling (looking up)"}[i])
		s.screenArrow(p)
		v.drawBeside(p, scale, p.area.X0+max(p.area.Dx()-w, 0)/2, p.area.Y0+max(p.area.Dy()-h, 0)/2, w, h, beside)
		s.lost += p.placeLabels()
		s.pages = append(s.pages, composed{p, scale, fmt.Sprintf("S%d", i+1)})
	}
}

// scaleOf returns the largest scale at which every view fits onto a page by itself.
func (s *set) scaleOf(p *page, views ...*view) Scale {
	return largest(scales(s.metric), func(c Scale) bool {
		for _, v := range views {
			if w, h, _ := v.need(p, c); w > p.area.Dx() || h > p.area.Dy() {
				return false
			}
		}
		return true
	})
}

// fill puts views onto pages, row by row, all at the largest scale at which each fits.
func (s *set) fill(code, title string, views []*view) {
	if len(views) == 0 {
		return
	}
	p := s.newPage(title)
	scale := s.scaleOf(p, views...)
	pages := arrange(p, scale, views)
	for i, shelves := range pages {
		if i > 0 {
			p = s.newPage(title)
		}
		number := code
		if len(pages) > 1 {
			number = fmt.Sprintf("%s-%d", code, i+1)
			p.sheet.Title = fmt.Sprintf("%s, %d of %d", title, i+1, len(pages))
		}
		high := 0.0
		for _, sh := range shelves {
			high += sh.height
		}
		spare := max(p.area.Dy()-high, 0) / float64(len(shelves)+1)
		y := p.area.Y0 + spare
		for _, sh := range shelves {
			apart := max(p.area.Dx()-sh.width, 0) / float64(len(sh.views)+1)
			x := p.area.X0 + apart
			for _, v := range sh.views {
				w, h, _ := v.need(p, scale)
				// Titles of a shelf stand on one line.
				at := y + sh.height - h
				v.draw(p, scale, x, at)
				x += w + apart
			}
			y += sh.height + spare
		}
		s.lost += p.placeLabels()
		s.pages = append(s.pages, composed{p, scale, number})
	}
}

// shelf is a row of views on a page.
type shelf struct {
	views         []*view
	width, height float64
}

// arrange puts views in their order onto shelves, and shelves onto pages.
func arrange(p *page, scale Scale, views []*view) (pages [][]shelf) {
	var shelves []shelf
	for _, v := range views {
		w, h, _ := v.need(p, scale)
		n := len(shelves)
		if n > 0 && shelves[n-1].width+between+w <= p.area.Dx() {
			sh := &shelves[n-1]
			sh.views, sh.width, sh.height = append(sh.views, v), sh.width+between+w, max(sh.height, h)
			continue
		}
		shelves = append(shelves, shelf{[]*view{v}, w, h})
	}
	left := 0.0
	for _, sh := range shelves {
		if len(pages) == 0 || sh.height > left {
			pages, left = append(pages, nil), p.area.Dy()
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], sh)
		left -= sh.height + between
	}
	return pages
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
