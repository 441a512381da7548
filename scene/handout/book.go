// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"image"

	"earline/project"
	"earline/project/compare"
	"earline/project/practice"
	"earline/project/sight"
	"earline/scene/drawing"
)

// Shoot takes a still of a design, as a client sees it, from a view that scene.Named
// knows; paper is on white ground.
type Shoot func(d *project.Design, view string, w, h int, paper bool) (image.Image, error)

// Stills is how wide stills are taken, pixels: 150 to an inch on the page.
const stills = 1600

// Book returns the room book: cover, the room from above with the facts, the view from
// each row, the room as found beside the plan where the file keeps it, and the options
// beside each other.
func Book(d *project.Design, shoot Shoot, t *drawing.Typeface) ([]drawing.Sheet, error) {
	b := book{d: d, r: sight.Audit(d), shoot: shoot, face: t, paper: paperFor(d).Landscape()}
	b.cover()
	b.above()
	for i := range d.Seating.Rows {
		b.row(i)
	}
	if i := d.AsFound(); i >= 0 {
		b.before(&d.Variants[i])
	}
	b.options()
	b.last()
	if b.err != nil {
		return nil, b.err
	}
	out := make([]drawing.Sheet, len(b.pages))
	for i, p := range b.pages {
		if i > 0 {
			p.text(b.paper.Width-margin, b.paper.Height-7, small, drawing.End, false, soft, fmt.Sprintf("%d", i+1))
			p.text(margin, b.paper.Height-7, small, drawing.Start, false, soft, d.Name)
		}
		out[i] = p.Sheet
	}
	return out, nil
}

// Stills returns how many stills Book takes of d.
func Stills(d *project.Design) int {
	n := 2 // cover, from above
	for i := range d.Seating.Rows {
		if d.Seating.Rows[i].Seats > 0 {
			n++
		}
	}
	if d.AsFound() >= 0 {
		n += 2
	}
	if others := optionsOf(d); len(others) > 0 {
		n += len(beside(d, others))
	}
	return n
}

// optionsOf returns the options that are kept beside a plan.
func optionsOf(d *project.Design) (others []*project.Design) {
	for i := range d.Variants {
		if d.Variants[i].Variant.Role == project.Option {
			others = append(others, &d.Variants[i])
		}
	}
	return others
}

// beside returns the plan and as many of its options as a page has room for.
func beside(d *project.Design, others []*project.Design) []*project.Design {
	const most = 4
	all := append([]*project.Design{d}, others...)
	return all[:min(len(all), most)]
}

const margin = 14 // mm, round every page

type book struct {
	d     *project.Design
	r     *sight.Result
	shoot Shoot
	face  *drawing.Typeface
	paper drawing.Paper
	pages []*page
	err   error // the first of a still
}

func (b *book) page(name string) *page {
	p := newPage(fmt.Sprintf("%d", len(b.pages)+1), name, b.paper, b.face)
	b.pages = append(b.pages, p)
	return p
}

// headed begins a page under a heading and returns where what follows may begin.
func (b *book) headed(name string) (*page, float64) {
	p := b.page(name)
	p.text(margin, margin+title, title, drawing.Start, false, dark, name)
	p.rule(margin, b.paper.Width-margin, margin+title+5)
	return p, margin + title + 10
}

// still shows a still of d in at; a fault is kept, and the frame left empty.
func (b *book) still(p *page, d *project.Design, view string, at drawing.Box, paper bool) {
	if b.err != nil {
		return
	}
	// A still as many pixels to the millimetre as one that is as wide as the page.
	w := int(stills * at.Dx() / b.paper.Width)
	img, err := b.shoot(d, view, w, int(float64(w)*at.Dy()/at.Dx()), paper)
	if err != nil {
		b.err = fmt.Errorf("room book: %s: %w", view, err)
		return
	}
	p.Marks.Add(drawing.Picture{Layer: "stills", Box: at, Image: img})
}

func (b *book) cover() {
	p := b.page("Cover")
	const band = 42 // mm
	w, h := b.paper.Width, b.paper.Height
	b.still(p, b.d, "overview", drawing.Rect(0, 0, w, h-band), false)
	p.text(margin, h-band+17, 11, drawing.Start, false, dark, p.fitted(b.d.Name, 11, w-2*margin))
	p.text(margin, h-band+27, large, drawing.Start, false, warm, "The room book")
	job := b.d.Job
	text := job.Reference
	if job.Revision != "" {
		text += "   revision " + job.Revision
	}
	if job.RevisedOn != "" {
		text += "   " + string(job.RevisedOn)
	}
	p.text(w-margin, h-band+27, normal, drawing.End, false, soft, text)
}

// fitted shortens text until it fits.
func (p *page) fitted(text string, size, wide float64) string {
	r := []rune(text)
	for len(r) > 1 && p.width(string(r), size, false) > wide {
		r = append(r[:len(r)-2], '…')
	}
	return string(r)
}

func (b *book) above() {
	p, y := b.headed("Your room")
	w, h := b.paper.Width, b.paper.Height
	const facing = 92 // mm, of the facts
	at := drawing.Rect(margin, y, w-margin-facing-8, h-margin-4)
	b.still(p, b.d, "plan", at, true)
	x := at.X1 + 8
	for _, f := range facts(b.d, b.r) {
		y = p.para(x, y, facing, normal, false, dark, f) + 2.5
	}
	y += 2
	p.para(x, y, facing, small, false, soft, ForWhom(b.d.Seating.Sitters))
}

func (b *book) row(i int) {
	row := b.d.Seating.Rows[i]
	if row.Seats == 0 {
		return
	}
	name := fmt.Sprintf("From row %d", i+1)
	switch {
	case len(b.d.Seating.Rows) == 1:
		name = "From your seats"
	case i == 0:
		name = "From the front row"
	case i == len(b.d.Seating.Rows)-1:
		name = "From the back row"
	}
	p, y := b.headed(name)
	w, h := b.paper.Width, b.paper.Height
	seat := (row.Seats + 1) / 2
	foot := 17.0
	at := drawing.Rect(margin, y, w-margin, h-margin-foot)
	b.still(p, b.d, fmt.Sprintf("seat:%d.%d", i+1, seat), at, false)
	whole, straight, n := 0, 0, 0
	for s := range b.r.Seats {
		if b.r.Seats[s].Row != i+1 {
			continue
		}
		n++
		if b.r.Views[s].Verdict != sight.Blocked {
			whole++
		}
		heard := true
		for k := range b.r.Speakers {
			heard = heard && b.r.Pair(s, k).Verdict != sight.Blocked
		}
		if heard {
			straight++
		}
	}
	p.para(margin, at.Y1+1, w-2*margin, normal, false, dark, fmt.Sprintf(
		"The whole picture is seen from %s seats of this row; every loudspeaker is heard straight from %s.", of(whole, n), of(straight, n)))
}

func (b *book) before(found *project.Design) {
	p, y := b.headed("Before and after")
	w := b.paper.Width
	half := (w - 2*margin - 8) / 2
	high := half * 0.62
	for k, d := range []*project.Design{found, b.d} {
		x := margin + float64(k)*(half+8)
		b.still(p, d, "overview", drawing.Rect(x, y, x+half, y+high), false)
		name := "As it will be"
		r := b.r
		if k == 0 {
			name, r = "As it is", sight.Audit(found)
		}
		p.text(x, y+high+8, large, drawing.Start, false, warm, name)
		yy := y + high + 10
		for _, f := range facts(d, r)[1:] {
			yy = p.para(x, yy, half, small+0.3, false, dark, f) + 1
		}
	}
}

// options sets the plan and the options that are kept beside it side by side.
func (b *book) options() {
	others := optionsOf(b.d)
	if len(others) == 0 {
		return
	}
	p, y := b.headed("What you can choose")
	all := beside(b.d, others)
	gap := 6.0
	wide := (b.paper.Width - 2*margin - gap*float64(len(all)-1)) / float64(len(all))
	for k, d := range all {
		x := margin + float64(k)*(wide+gap)
		b.still(p, d, "overview", drawing.Rect(x, y, x+wide, y+wide*0.62), false)
		name := d.Variant.Name
		if name == "" {
			name = "The plan"
		}
		p.text(x, y+wide*0.62+8, large, drawing.Start, false, warm, p.fitted(name, large, wide))
		yy := y + wide*0.62 + 10
		for _, f := range facts(d, sight.Audit(d)) {
			yy = p.para(x, yy, wide, small+0.3, false, dark, f) + 1
		}
		if k > 0 {
			r := compare.Of(b.d, d, practice.Of(d))
			n := r.Count()
			yy = p.para(x, yy+2, wide, small+0.3, false, soft, fmt.Sprintf("Beside the plan: %d moved, %d new, %d left out.", n[compare.Moves], n[compare.New], n[compare.Goes]))
			_ = yy
		}
	}
}

func (b *book) last() {
	p, y := b.headed("What this book is")
	wide := b.paper.Width - 2*margin
	for _, text := range []string{
		"The stills are computed from the plan: colours, fabrics and lamps stand for what will be chosen, places and sizes are those of the plan.",
		ForWhom(b.d.Seating.Sitters) + " Who is much taller, or sits far forward, can still be in somebody's way.",
		"Steps, rails and the way out in the dark, electrical work, loads on walls and ceiling, and the fire class of fabrics are decided by local code and by licensed trades, on drawings of their own.",
		"Loud sound can harm hearing: how loud the room may play, and for how long, is for you to decide with whoever sets it up.",
	} {
		y = p.para(margin, y, wide, normal, false, dark, text) + 4
	}
}
