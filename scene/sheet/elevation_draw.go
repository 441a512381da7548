// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
	"earline/project/place"
	"earline/scene/drawing"
)

// meets is how near what is built in must be to a wall to be drawn on it, metres.
const meets = 0.05

func (e *elevation) paint(d *drawn, left float64) {
	s := e.set
	pt := func(x, z float64) geometry.Vec2 { return geometry.Vec2{X: left + x, Y: z} }
	top := e.top()
	high := highest(top)
	face, outer := under(top, left)
	d.hatch(hatchLayer, grey, 1.2, d.ring(face), d.ring(outer))
	d.bands(d.ring(face), d.ring(outer))
	box := func(x0, x1, z0, z1 float64) ([]drawing.Point, bool) {
		x0, x1 = max(x0, 0), min(x1, e.length)
		z0, z1 = max(z0, 0), min(z1, high)
		return d.ring([]geometry.Vec2{pt(x0, z0), pt(x1, z0), pt(x1, z1), pt(x0, z1)}), x1 > x0 && z1 > z0
	}
	e.paintBuilt(d, box)
	e.paintTreatments(d, box)
	for _, r := range s.panelsOn(e.wall + 1) {
		d.drawRun(&r, func(q panel.Rect) ([]drawing.Point, bool) {
			a, b := e.treatment(onWall(q))
			return box(a, b, q.Low, q.High)
		})
	}
	if math.Abs(e.right.X) > 0.7 {
		e.paintSeats(d)
	}
	s.paintScreenFront(d, e)
	e.paintPictures(d)
	d.lines(wallLayer, black, cut, closed(d.ring(face)))
	d.lines(wallLayer, black, thin, closed(d.ring(outer)))
	s.drawLaser(d, left, left+e.length)
	e.paintSpeakers(d, pt)
}

// paintBuilt draws platforms and what is built in, where it meets the wall. box returns
// the part of a rectangle - along the wall from and to, low and high - that is on it.
func (e *elevation) paintBuilt(d *drawn, box func(x0, x1, z0, z1 float64) ([]drawing.Point, bool)) {
	s := e.set
	for _, b := range s.room.Floor {
		if x0, x1, ok := e.touching(b, meets); ok {
			if ring, ok := box(x0, x1, 0, 2*b.Half.Z); ok {
				d.lines(rowLayer, black, edge, closed(ring))
				if 2*b.Half.Z > 0.05 && x1-x0 > 0.3 {
					d.labelIn(rowLayer, black, ring, 5, signed(s.metric, 2*b.Half.Z)+" over floor")
				}
			}
		}
	}
	for _, f := range s.design.Room.Features {
		b := f.Box()
		o, on := s.openingOf(f)
		switch {
		case f.Kind == project.Door || f.Kind == project.Window:
			if !on || o.wall != e.wall {
				continue
			}
			a, _ := e.of(vec(o.a, 0))
			c, _ := e.of(vec(o.b, 0))
			if ring, ok := box(a, c, float64(f.At.Z), float64(f.At.Z+f.Height)); ok {
				d.lines(featureLayer, black, edge, closed(ring))
				if f.Kind == project.Door {
					d.lines(featureLayer, grey, finest, []drawing.Point{ring[3], ring[1]}, []drawing.Point{ring[0], ring[2]})
				} else {
					m0, m1 := drawing.Pt((ring[0].X+ring[1].X)/2, ring[0].Y), drawing.Pt((ring[0].X+ring[1].X)/2, ring[2].Y)
					d.lines(featureLayer, grey, finest, []drawing.Point{m0, m1})
				}
				words := []string{f.Words(), s.length(c-a) + " × " + s.length(float64(f.Height))}
				if f.At.Z > 0.01 {
					words = append(words, "sill "+d.height(float64(f.At.Z)))
				}
				d.labelIn(featureLayer, black, ring, 3, words...)
			}
		default:
			if x0, x1, ok := e.touching(b, meets); ok {
				ring, ok := box(x0, x1, b.Center.Z-b.Half.Z, b.Center.Z+b.Half.Z)
				if !ok {
					continue
				}
				d.lines(featureLayer, black, edge, closed(ring))
				d.hatch(hatchLayer, pale, 2.5, ring)
				name := []string{f.Words()}
				if f.Kind.Overhead() {
					name = append(name, "underside "+d.height(float64(f.At.Z)))
				}
				d.labelIn(featureLayer, black, ring, 4, name...)
			}
		}
	}
}

// paintTreatments draws the panels on the wall.
func (e *elevation) paintTreatments(d *drawn, box func(x0, x1, z0, z1 float64) ([]drawing.Point, bool)) {
	s := e.set
	for i, t := range s.design.Room.Treatments {
		if t.Wall != e.wall+1 {
			continue
		}
		a, b := e.treatment(t)
		if ring, ok := box(a, b, float64(t.Low), float64(t.High)); ok {
			d.dashed(treatmentLayer, black, thin, closed(ring))
			d.labelIn(treatmentLayer, black, ring, 5, s.treatmentName(i), d.height(float64(t.Low))+" to", d.height(float64(t.High)))
		}
	}
}

// paintSpeakers draws cut-outs, and what stands free, with guides to their dimensions.
func (e *elevation) paintSpeakers(d *drawn, pt func(x, z float64) geometry.Vec2) {
	s := e.set
	for i, l := range e.speakers {
		o := e.cutoutOf(l)
		ring := d.ring([]geometry.Vec2{pt(o.x0, o.z0), pt(o.x1, o.z0), pt(o.x1, o.z1), pt(o.x0, o.z1)})
		b := around(ring)
		corner, front := d.on(pt(0, 0)), d.at(l.At.Vec())
		guides := [][]drawing.Point{{front, {X: front.X, Y: corner.Y}}, {front, {X: corner.X, Y: front.Y}}}
		if o.hole {
			guides = [][]drawing.Point{
				{{X: b.X0, Y: b.Y1}, {X: b.X0, Y: corner.Y}}, {{X: b.X1, Y: b.Y1}, {X: b.X1, Y: corner.Y}},
				{{X: b.X0, Y: b.Y0}, {X: corner.X, Y: b.Y0}}, {{X: b.X0, Y: b.Y1}, {X: corner.X, Y: b.Y1}}}
		}
		d.lines(dimensionLayer, pale, finest, guides...)
		if o.hole {
			d.lines(cutoutLayer, blue, cut, closed(ring))
			d.lines(cutoutLayer, blue, finest, []drawing.Point{ring[0], ring[2]}, []drawing.Point{ring[1], ring[3]})
			d.dashed(speakerLayer, blue, thin, closed(d.outline(l.Box)))
		} else {
			d.lines(speakerLayer, blue, edge, closed(d.outline(l.Box)))
			d.cross(speakerLayer, blue, thin, front, 1.2)
		}
		d.dear = append(d.dear, grown(b, 0.3))
		words := []string{l.Name(), plainName(l.Label)}
		const worth = 0.15 // m before the wall, that one must be told of
		if _, off := e.of(l.At.Vec()); off > worth {
			words = append(words, d.roomy(s.length(off)+" off the wall"))
		}
		d.label(speakerLayer, blue, middleOf(ring), min(b.Dx(), b.Dy())/2, 1, words...)
		d.naming(e.ids[i])
	}
}

// paintSeats draws the chairs beside the wall as seen from the side, for orientation:
// the nearest of every row.
func (e *elevation) paintSeats(d *drawn) {
	nearest := map[int]int{}
	for i, seat := range e.set.room.Seats {
		_, off := e.of(seat.Ref)
		if k, ok := nearest[seat.Row]; ok {
			if _, other := e.of(e.set.room.Seats[k].Ref); other <= off {
				continue
			}
		}
		nearest[seat.Row] = i
	}
	for row := 1; row <= len(e.set.design.Seating.Rows); row++ {
		i, ok := nearest[row]
		if !ok {
			continue
		}
		const far = 2.5 // m: what is farther off says nothing about the wall
		if x, off := e.of(e.set.room.Seats[i].Ref); x < 0 || x > e.length || off > far {
			continue
		}
		if p, ok := place.Platform(e.set.design, row-1); ok {
			if _, _, touches := e.touching(p, meets); !touches { // an island
				d.lines(sightLayer, pale, finest, closed(d.outline(p)))
			}
		}
		e.set.paintChair(d, &e.set.room.Seats[i])
	}
}

// paintScreenFront draws the picture on the wall behind it.
func (s *set) paintScreenFront(d *drawn, e *elevation) {
	if s.design.Room.WallSide(e.wall+1) != "screen" {
		return
	}
	c, r, u := s.design.Screen.Picture()
	if x, _ := e.of(c); x < 0 || x > e.length {
		return
	}
	a, b := d.at(c.Sub(r).Sub(u)), d.at(c.Add(r).Add(u))
	box := drawing.Rect(a.X, b.Y, b.X, a.Y)
	d.rect(screenLayer, black, edge, box)
	for i, q := range closed(corners(box))[1:] {
		d.solids = append(d.solids, grown(around([]drawing.Point{corners(box)[i], q}), 0.1))
	}
	lower := [2]drawing.Point{{X: box.X0, Y: box.Y1}, {X: box.X1, Y: box.Y1}}
	upper := [2]drawing.Point{{X: box.X0, Y: box.Y0}, {X: box.X1, Y: box.Y0}}
	d.onLine(screenLayer, black, upper[0], upper[1], 4, "picture "+s.length(2*r.Y)+" × "+s.length(2*u.Z), "upper edge "+d.height(c.Z+u.Z))
	d.onLine(screenLayer, black, lower[0], lower[1], 4, "lower edge "+d.height(c.Z-u.Z))
}

// drawLaser draws the laser line from one wall to another, metres along the view.
func (s *set) drawLaser(d *drawn, from, to float64) {
	a, b := d.on(geometry.Vec2{X: from - thick, Y: s.laser}), d.on(geometry.Vec2{X: to + thick, Y: s.laser})
	d.chained(laserLayer, red, edge, []drawing.Point{a, b})
	const half = 0.15 // mm
	d.solids = append(d.solids, drawing.Rect(a.X, a.Y-half, b.X, b.Y+half))
	d.onLine(laserLayer, red, a, b, 2, "laser line ±0")
}
