// SPDX-License-Identifier: MIT

package sheet

import (
	"earline/geometry"
	"earline/project/setout"
	"earline/scene/drawing"
)

// view is a drawing of the room: how it is looked at, what is in it, and what is
// dimensioned beside it.
type view struct {
	set   *set
	title string
	// right and up are the directions of the room that run right and up on paper.
	right, up geometry.Vec
	// lo and hi bound what is drawn, in metres along right and up.
	lo, hi geometry.Vec2
	notes  []string         // under the title
	room   [2]geometry.Vec2 // lo and hi of the room in it, where labels had better stay
	rows   [4][]row         // of dimensions, at each side, from the inside out
	shows  setout.Surface   // whose items it is the drawing of; empty for none
	wall   int              // which, of walls, counted from 1
	paint  func(*drawn)
}

// The sides of a view.
const (
	below = iota
	leftOf
	above
	rightOf
)

// drawn is a view in its place on a page.
type drawn struct {
	*page
	set   *set
	view  *view
	scale Scale
	// at0 is where the origin of the room would be on paper.
	at0 drawing.Point
}

// flat returns a point of the room along right and up, metres.
func (v *view) flat(p geometry.Vec) geometry.Vec2 {
	return geometry.Vec2{X: p.Dot(v.right), Y: p.Dot(v.up)}
}

// on returns where a point in metres along right and up is on paper.
func (d *drawn) on(q geometry.Vec2) drawing.Point {
	k := d.scale.mm()
	return drawing.Pt(d.at0.X+k*q.X, d.at0.Y-k*q.Y)
}

// at returns where a point of the room is on paper.
func (d *drawn) at(p geometry.Vec) drawing.Point { return d.on(d.view.flat(p)) }

// ring returns an outline on paper.
func (d *drawn) ring(outline []geometry.Vec2) []drawing.Point {
	out := make([]drawing.Point, len(outline))
	for i, q := range outline {
		out[i] = d.on(q)
	}
	return out
}

// floor returns the outline of a part of the floor on paper, seen from above.
func (d *drawn) floor(outline geometry.Polygon) []drawing.Point {
	out := make([]drawing.Point, len(outline))
	for i, q := range outline {
		out[i] = d.at(geometry.Vec{X: q.X, Y: q.Y})
	}
	return out
}

// outline returns the outline on paper of a box of the room.
func (d *drawn) outline(b geometry.Box) []drawing.Point {
	var all []drawing.Point
	for _, sx := range [2]float64{-1, 1} {
		for _, sy := range [2]float64{-1, 1} {
			for _, sz := range [2]float64{-1, 1} {
				all = append(all, d.at(b.Center.Add(b.Basis.World(geometry.Vec{X: sx * b.Half.X, Y: sy * b.Half.Y, Z: sz * b.Half.Z}))))
			}
		}
	}
	return hull(all)
}

// box returns the part of paper that the view draws on, without dimensions.
func (d *drawn) box() drawing.Box {
	a, b := d.on(d.view.lo), d.on(d.view.hi)
	return drawing.Rect(a.X, b.Y, b.X, a.Y)
}

const (
	titleHeight = 9.0 // mm under a view and its dimensions
	noteStep    = 1.6 * small
	between     = 6.0 // mm from view to view
)

// need returns the paper that the view takes at a scale: in all, and beside what is
// drawn.
func (v *view) need(p *page, s Scale) (w, h float64, beside [4]float64) {
	for side := range v.rows {
		beside[side] = 2
		for i := range v.rows[side] {
			beside[side] += v.rows[side][i].depth(p, v, s, side)
		}
	}
	for side := range v.rows { // rows that are longer than the view
		for i := range v.rows[side] {
			r := &v.rows[side][i]
			if side == below || side == above {
				low, high := r.overflow(p, s, v.lo.X, v.hi.X)
				beside[leftOf], beside[rightOf] = max(beside[leftOf], low), max(beside[rightOf], high)
				continue
			}
			low, high := r.overflow(p, s, v.lo.Y, v.hi.Y)
			beside[below], beside[above] = max(beside[below], low), max(beside[above], high)
		}
	}
	k := s.mm()
	w = k*(v.hi.X-v.lo.X) + beside[leftOf] + beside[rightOf]
	h = k*(v.hi.Y-v.lo.Y) + beside[below] + beside[above] + titleHeight + noteStep*float64(len(v.notes))
	for _, n := range v.notes {
		w = max(w, p.width(n, small)+2)
	}
	return max(w, p.width(v.titleAt(s), medium)+2), h, beside
}

func (v *view) titleAt(s Scale) string { return v.title + "   " + s.Name }

// draw draws the view with its upper left corner at x, y.
func (v *view) draw(p *page, s Scale, x, y float64) {
	w, h, beside := v.need(p, s)
	v.drawBeside(p, s, x, y, w, h, beside)
}

// drawBeside is draw with so much paper beside what is drawn, on each side.
func (v *view) drawBeside(p *page, s Scale, x, y, w, h float64, beside [4]float64) {
	k := s.mm()
	slack := w - k*(v.hi.X-v.lo.X) - beside[leftOf] - beside[rightOf]
	d := &drawn{page: p, set: v.set, view: v, scale: s, at0: drawing.Pt(
		x+slack/2+beside[leftOf]-k*v.lo.X,
		y+beside[above]+k*v.hi.Y)}
	model := &model{origin: d.at0, scale: 1 / s.Ratio}
	paper := p.canvas
	p.cell = drawing.Rect(x, y, x+w, y+h)
	p.inner = drawing.Box{}
	if v.room != ([2]geometry.Vec2{}) {
		a, b := d.on(v.room[0]), d.on(v.room[1])
		p.inner = drawing.Rect(a.X, b.Y, b.X, a.Y)
	}
	for side := range v.rows {
		if len(v.rows[side]) > 0 { // labels had better leave the dimensions alone
			b := d.box()
			p.solids = append(p.solids, [4]drawing.Box{
				below: drawing.Rect(b.X0, b.Y1, b.X1, b.Y1+beside[below]), above: drawing.Rect(b.X0, b.Y0-beside[above], b.X1, b.Y0),
				leftOf: drawing.Rect(b.X0-beside[leftOf], b.Y0, b.X0, b.Y1), rightOf: drawing.Rect(b.X1, b.Y0, b.X1+beside[rightOf], b.Y1)}[side])
		}
	}
	p.canvas = model
	defer func() {
		p.canvas = paper
		p.drawn = append(p.drawn, placed{v.title, model, d})
	}()
	v.paint(d)
	for side := range v.rows {
		depth := 2.0
		for i := range v.rows[side] {
			r := &v.rows[side][i]
			r.draw(d, side, depth)
			depth += r.depth(p, v, s, side)
		}
	}
	bottom := y + h - 3 - noteStep*float64(len(v.notes))
	d.underline(x+w/2, bottom)
	for i, n := range v.notes {
		d.text(textLayer, black, x+w/2, bottom+1+noteStep*float64(i+1)-1, small, drawing.Middle, n)
	}
}

// underline writes the title of the view.
func (d *drawn) underline(x, y float64) {
	title := d.view.titleAt(d.scale)
	w := d.width(title, medium)
	d.text(textLayer, black, x, y-1.6, medium, drawing.Middle, title)
	d.lines(textLayer, black, edge, []drawing.Point{{X: x - w/2 - 1, Y: y}, {X: x + w/2 + 1, Y: y}})
}
