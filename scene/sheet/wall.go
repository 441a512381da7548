// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
)

// elevation is a wall as one sees it who stands in the room and faces it.
type elevation struct {
	set      *set
	wall     int           // from 0
	from, to geometry.Vec2 // its ends, left and right
	right    geometry.Vec2
	inward   geometry.Vec2
	length   float64
	speakers []*place.Speaker // on it, or before it on the floor
	ids      []string         // theirs
}

// elevationOf returns wall i, from 0.
func (s *set) elevationOf(i int) *elevation {
	a, b := s.outline.Edge(i)
	n := s.outline.InwardNormal(i)
	e := &elevation{set: s, wall: i, inward: n, right: geometry.Vec2{X: -n.Y, Y: n.X}}
	if b.Sub(a).Dot(e.right) < 0 {
		a, b = b, a
	}
	e.from, e.to, e.length = a, b, a.Dist(b)
	for k := range s.room.Speakers {
		l := &s.room.Speakers[k]
		if s.wallOf(l) == i {
			e.speakers, e.ids = append(e.speakers, l), append(e.ids, s.ids[k])
		}
	}
	return e
}

// wallOf returns the wall beside which a loudspeaker hangs or stands; -1 for one on the
// ceiling.
func (s *set) wallOf(l *place.Speaker) int {
	at := geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)}
	switch l.Mount {
	case project.OnCeiling:
		return -1
	case project.BehindScreen:
		best, wall := math.Inf(1), -1
		for i := range s.outline {
			if s.design.Room.WallSide(i+1) != "screen" {
				continue
			}
			a, b := s.outline.Edge(i)
			if by := (geometry.Polygon{a, b}).Distance(at); by < best {
				best, wall = by, i
			}
		}
		if wall >= 0 {
			return wall
		}
	}
	wall, _ := s.outline.Nearest(at)
	return wall
}

// name returns the name of the wall as a title.
func (e *elevation) name() string {
	return capitalised(e.set.design.Room.WallName(e.wall + 1))
}

// toScreen says on which hand the screen is for one who faces the wall.
func (e *elevation) toScreen() string {
	switch { // the screen is towards -x
	case e.right.X > 0.5:
		return ", screen to the left"
	case e.right.X < -0.5:
		return ", screen to the right"
	}
	return ""
}

// of returns where a point is along the wall, metres from its left end, and how far it
// stands off it.
func (e *elevation) of(p geometry.Vec) (along, off float64) {
	q := geometry.Vec2{X: p.X, Y: p.Y}.Sub(e.from)
	return q.Dot(e.right), q.Dot(e.inward)
}

func (e *elevation) ceiling(along float64) float64 {
	q := e.from.Add(e.right.Mul(along))
	return e.set.design.Room.CeilingAt(q.X, q.Y)
}

// empty reports whether there is nothing on the wall to set out.
func (e *elevation) empty() bool {
	if len(e.speakers) > 0 {
		return false
	}
	for _, t := range e.set.design.Room.Treatments {
		if t.Wall == e.wall+1 {
			return false
		}
	}
	for _, f := range e.set.design.Room.Features {
		if o, ok := e.set.openingOf(f); ok && o.wall == e.wall && (f.Kind == project.Door || f.Kind == project.Window) {
			return false
		}
	}
	return true
}

// view returns the wall as a view.
func (e *elevation) view() *view {
	s := e.set
	v := &view{title: e.name() + " from inside" + e.toScreen(), right: vec(e.right, 0), up: geometry.Vec{Z: 1}, shows: setout.OnWall, wall: e.wall + 1}
	left := v.flat(vec(e.from, 0)).X
	high := max(e.ceiling(0), e.ceiling(e.length))
	v.lo, v.hi = geometry.Vec2{X: left - thick, Y: -thick}, geometry.Vec2{X: left + e.length + thick, Y: high + thick}
	v.room = [2]geometry.Vec2{{X: left}, {X: left + e.length, Y: high}}
	v.paint = func(d *drawn) { e.paint(d, left) }
	if len(e.speakers) > 0 {
		v.notes = []string{"Dimensions run from the left end and from the laser line: to the edges of cut-outs, to the middle of what stands free."}
	}

	// Edges of cut-outs: across from the left end, up from the laser line; each edge
	// once, and so each cut-out twice in either direction, never thrice.
	var across, upright []stop
	for _, l := range e.speakers {
		o := e.cutoutOf(l)
		if !o.hole { // what stands free has no edge that a tape finds: its middle is measured
			x, _ := e.of(l.At.Vec())
			across = append(across, stop{at: left + x, name: l.Name()})
			upright = append(upright, stop{at: float64(l.At.Z)})
			continue
		}
		across = append(across, stop{at: left + o.x0, name: l.Name()}, stop{at: left + o.x1, name: l.Name()})
		upright = append(upright, stop{at: o.z0}, stop{at: o.z1})
	}
	r, ok := running(s.metric, left, across)
	v.add(below, r, ok)
	r, ok = running(s.metric, s.laser, upright)
	r.signed = true
	v.add(leftOf, r, ok)

	built := stopsAt(left, left+e.length)
	for _, f := range s.design.Room.Features {
		if o, on := s.openingOf(f); on && o.wall == e.wall && (f.Kind == project.Door || f.Kind == project.Window) {
			a, _ := e.of(vec(o.a, 0))
			b, _ := e.of(vec(o.b, 0))
			built = append(built, stopsAt(left+max(a, 0), left+min(b, e.length))...)
		}
	}
	for _, t := range s.design.Room.Treatments {
		if t.Wall == e.wall+1 {
			a, b := e.treatment(t)
			built = append(built, stopsAt(left+a, left+b)...)
		}
	}
	if r, ok = chain(s.metric, built); len(r.stops) > 2 {
		v.add(below, r, ok)
	}
	r, ok = chain(s.metric, stopsAt(left, left+e.length))
	v.add(below, r, ok)

	heights := stopsAt(0, s.laser, e.ceiling(e.length))
	r, ok = chain(s.metric, heights)
	v.add(rightOf, r, ok)
	return v
}

// treatment returns where a panel is along the wall as one faces it.
func (e *elevation) treatment(t project.Treatment) (from, to float64) {
	first, _ := e.set.outline.Edge(e.wall)
	if first == e.from {
		return float64(t.From), float64(t.To)
	}
	return e.length - float64(t.To), e.length - float64(t.From)
}

// cutout is a rectangle on a wall, metres from its left end and over the floor.
type cutout struct {
	x0, x1, z0, z1 float64
	hole           bool // cut into the wall; else the outline of a box before it
}

// cutoutOf returns the cut-out of a loudspeaker, or the outline of its box.
func (e *elevation) cutoutOf(l *place.Speaker) cutout {
	m := l.Spec
	if m.Flush {
		w, h := float64(m.CutoutW), float64(m.CutoutH)
		if w == 0 || h == 0 {
			w, h = float64(m.Width), float64(m.Height)
		}
		x, _ := e.of(l.At.Vec())
		z := float64(l.At.Z)
		return cutout{x - w/2, x + w/2, z - h/2, z + h/2, true}
	}
	c := cutout{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1), false}
	for _, p := range boxCorners(l.Box) {
		x, _ := e.of(p)
		c.x0, c.x1, c.z0, c.z1 = min(c.x0, x), max(c.x1, x), min(c.z0, p.Z), max(c.z1, p.Z)
	}
	return c
}

func boxCorners(b geometry.Box) []geometry.Vec {
	var all []geometry.Vec
	for _, sx := range [2]float64{-1, 1} {
		for _, sy := range [2]float64{-1, 1} {
			for _, sz := range [2]float64{-1, 1} {
				all = append(all, b.Center.Add(b.Basis.World(geometry.Vec{X: sx * b.Half.X, Y: sy * b.Half.Y, Z: sz * b.Half.Z})))
			}
		}
	}
	return all
}

func (e *elevation) paint(d *drawn, left float64) {
	s := e.set
	pt := func(x, z float64) geometry.Vec2 { return geometry.Vec2{X: left + x, Y: z} }
	zl, zr := e.ceiling(0), e.ceiling(e.length)
	face := []geometry.Vec2{pt(0, 0), pt(e.length, 0), pt(e.length, zr), pt(0, zl)}
	outer := []geometry.Vec2{pt(-thick, -thick), pt(e.length+thick, -thick), pt(e.length+thick, zr+thick), pt(-thick, zl+thick)}
	d.hatch(hatchLayer, grey, 1.2, d.ring(face), d.ring(outer))
	d.bands(d.ring(face), d.ring(outer))
	box := func(x0, x1, z0, z1 float64) ([]drawing.Point, bool) {
		x0, x1 = max(x0, 0), min(x1, e.length)
		z0, z1 = max(z0, 0), min(z1, max(zl, zr))
		return d.ring([]geometry.Vec2{pt(x0, z0), pt(x1, z0), pt(x1, z1), pt(x0, z1)}), x1 > x0 && z1 > z0
	}
	// Platforms and what is built where it meets the wall.
	const meets = 0.05 // m
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
					words = append(words, "sill "+s.height(float64(f.At.Z)))
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
					name = append(name, "underside "+s.height(float64(f.At.Z)))
				}
				d.labelIn(featureLayer, black, ring, 4, name...)
			}
		}
	}
	for i, t := range s.design.Room.Treatments {
		if t.Wall != e.wall+1 {
			continue
		}
		a, b := e.treatment(t)
		if ring, ok := box(a, b, float64(t.Low), float64(t.High)); ok {
			d.dashed(treatmentLayer, black, thin, closed(ring))
			d.label(treatmentLayer, black, middleOf(ring), 0, 5, s.treatmentName(i), s.height(float64(t.Low))+" to", s.height(float64(t.High)))
		}
	}
	if math.Abs(e.right.X) > 0.7 {
		e.paintSeats(d)
	}
	s.paintScreenFront(d, e)
	d.lines(wallLayer, black, cut, closed(d.ring(face)))
	d.lines(wallLayer, black, thin, closed(d.ring(outer)))
	e.paintLaser(d, left)
	for i, l := range e.speakers {
		o := e.cutoutOf(l)
		ring := d.ring([]geometry.Vec2{pt(o.x0, o.z0), pt(o.x1, o.z0), pt(o.x1, o.z1), pt(o.x0, o.z1)})
		b := around(ring)
		// Guides to the dimensions.
		base, side := d.on(pt(0, 0)), d.on(pt(0, 0))
		guides := [][]drawing.Point{{d.at(l.At.Vec()), drawing.Pt(d.at(l.At.Vec()).X, base.Y)}, {d.at(l.At.Vec()), drawing.Pt(side.X, d.at(l.At.Vec()).Y)}}
		if o.hole {
			guides = [][]drawing.Point{
				{{X: b.X0, Y: b.Y1}, {X: b.X0, Y: base.Y}}, {{X: b.X1, Y: b.Y1}, {X: b.X1, Y: base.Y}},
				{{X: b.X0, Y: b.Y0}, {X: side.X, Y: b.Y0}}, {{X: b.X0, Y: b.Y1}, {X: side.X, Y: b.Y1}}}
		}
		d.lines(dimensionLayer, pale, finest, guides...)
		if o.hole {
			d.lines(cutoutLayer, blue, cut, closed(ring))
			d.lines(cutoutLayer, blue, finest, []drawing.Point{ring[0], ring[2]}, []drawing.Point{ring[1], ring[3]})
			d.dashed(speakerLayer, blue, thin, closed(d.outline(l.Box)))
		} else {
			d.lines(speakerLayer, blue, edge, closed(d.outline(l.Box)))
			c := d.at(l.At.Vec())
			d.lines(speakerLayer, blue, thin, []drawing.Point{{X: c.X - 1.2, Y: c.Y}, {X: c.X + 1.2, Y: c.Y}}, []drawing.Point{{X: c.X, Y: c.Y - 1.2}, {X: c.X, Y: c.Y + 1.2}})
		}
		d.solids = append(d.solids, grown(b, 0.3))
		words := []string{l.Name(), plainName(l.Label)}
		const worth = 0.15 // m before the wall, that one must be told of
		if _, off := e.of(l.At.Vec()); off > worth {
			words = append(words, "front "+s.length(off)+" off wall")
		}
		d.label(speakerLayer, blue, middleOf(ring), min(b.Dx(), b.Dy())/2, 1, words...)
		d.naming(e.ids[i])
	}
}

// touching returns where along the wall a box meets it, metres.
func (e *elevation) touching(b geometry.Box, within float64) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	least := math.Inf(1)
	for _, p := range boxCorners(b) {
		x, off := e.of(p)
		least = min(least, off)
		from, to = min(from, x), max(to, x)
	}
	return from, to, least <= within && least > -1.5 && to > 0.01 && from < e.length-0.01
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
		e.set.paintChair(d, &e.set.room.Seats[i])
	}
}

// paintChair draws a chair as it is seen, for orientation.
func (s *set) paintChair(d *drawn, seat *place.Seat) {
	for _, p := range seat.ChairParts() {
		if p.Box != nil {
			d.lines(sightLayer, pale, finest, closed(d.outline(*p.Box)))
		}
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
	lower := [2]drawing.Point{{X: box.X0, Y: box.Y1}, {X: box.X1, Y: box.Y1}}
	upper := [2]drawing.Point{{X: box.X0, Y: box.Y0}, {X: box.X1, Y: box.Y0}}
	d.onLine(screenLayer, black, upper[0], upper[1], 4, "picture "+s.length(2*r.Y)+" × "+s.length(2*u.Z)+", upper edge "+s.height(c.Z+u.Z))
	d.onLine(screenLayer, black, lower[0], lower[1], 4, "lower edge "+s.height(c.Z-u.Z))
}

// paintLaser draws the laser line along the wall.
func (e *elevation) paintLaser(d *drawn, left float64) {
	a, b := d.on(geometry.Vec2{X: left - thick, Y: e.set.laser}), d.on(geometry.Vec2{X: left + e.length + thick, Y: e.set.laser})
	d.chained(laserLayer, red, edge, []drawing.Point{a, b})
	d.solids = append(d.solids, drawing.Rect(a.X, a.Y-0.4, b.X, b.Y+0.4))
	d.onLine(laserLayer, red, a, b, 2, "laser line ±0")
}
