// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project/picture"
	"earline/scene/drawing"
)

// pictured is a rectangle in the plane of the screen: a shape of picture, or a box that a
// mask moves out of.
type pictured struct {
	name                   string
	left, right, low, high geometry.Vec // the middles of its edges
	box                    bool
}

// pictures returns the shapes of picture that are not the screen's own, and the boxes of
// the masks, where e is the wall behind the screen.
func (e *elevation) pictures() (out []pictured) {
	d := e.set.design
	c, r, u := d.Screen.Picture()
	if x, _ := e.of(c); d.Room.WallSide(e.wall+1) != "screen" || x < 0 || x > e.length {
		return nil
	}
	add := func(name string, middle geometry.Vec, half, high float64, box bool) {
		y, z := geometry.Vec{Y: half}, geometry.Vec{Z: high}
		out = append(out, pictured{name, middle.Sub(y), middle.Add(y), middle.Sub(z), middle.Add(z), box})
	}
	frames, names := picture.Frames(d)
	for i, f := range frames {
		const same = 0.0005 // m, half of what a tape tells
		if math.Abs(f.Width-2*r.Y) >= same || math.Abs(f.Height-2*u.Z) >= same {
			add(names[i], geometry.Vec{X: c.X, Y: f.Across, Z: f.Middle}, f.Width/2, f.Height/2, false)
		}
	}
	for _, m := range d.MaskingBoxes() {
		add("masking box", m.Center, m.Half.Y, m.Half.Z, true)
	}
	return out
}

// dimPictures adds the edges of the picture, of each further shape and of the boxes: across
// from the left end, up from the laser line. One shape without masks is dimensioned enough
// by its own words.
func (e *elevation) dimPictures(v *view, left float64) {
	all := e.pictures()
	if len(all) == 0 {
		return
	}
	var across, upright []stop
	edge := func(p geometry.Vec) {
		x, _ := e.of(p)
		across = append(across, stop{at: left + x})
	}
	c, r, u := e.set.design.Screen.Picture()
	edge(c.Sub(r))
	edge(c.Add(r))
	upright = append(upright, stop{at: c.Z - u.Z}, stop{at: c.Z + u.Z})
	for _, p := range all {
		edge(p.left)
		edge(p.right)
		upright = append(upright, stop{at: p.low.Z}, stop{at: p.high.Z})
	}
	e.set.runs(v, above, left, false, across)
	e.set.runs(v, rightOf, e.set.laser, true, upright)
	v.notes = append(v.notes, "Above and to the right: edges of the picture, of its further shapes and of the masks' boxes.")
}

// paintPictures draws the further shapes, dashed, and the boxes of the masks.
func (e *elevation) paintPictures(d *drawn) {
	for _, p := range e.pictures() {
		a := d.at(geometry.Vec{X: p.low.X, Y: p.left.Y, Z: p.low.Z})
		b := d.at(geometry.Vec{X: p.low.X, Y: p.right.Y, Z: p.high.Z})
		ring := closed(corners(drawing.Rect(min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y))))
		if p.box {
			d.lines(screenLayer, black, thin, ring)
			d.labelIn(screenLayer, black, ring[:4], 6, p.name)
			continue
		}
		d.dashed(screenLayer, black, thin, ring)
		d.onLine(screenLayer, black, a, drawing.Pt(a.X, b.Y), 5, p.name)
	}
}
