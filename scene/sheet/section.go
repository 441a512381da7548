// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene/drawing"
)

// section is a cut through the room by an upright plane, and what one sees behind it.
type section struct {
	set *set
	// along is the way from left to right on paper, into the way one looks.
	along, into geometry.Vec
	at          float64 // where the plane is, metres along into
	title       string
}

// sections returns the long section through the middle of the picture, towards the
// right wall, and the cross section at the main position, towards the screen.
func (s *set) sections() []*view {
	c, _, _ := s.design.Screen.Picture()
	long := &section{s, geometry.Vec{X: 1}, geometry.Vec{Y: 1}, c.Y, "Long section through the middle of the picture, towards the right wall"}
	x := s.room.Main.X + 0.05
	if !(x > s.lo.X+0.2 && x < s.hi.X) {
		x = (s.lo.X + s.hi.X) / 2
	}
	cross := &section{s, geometry.Vec{Y: 1}, geometry.Vec{X: -1}, -x, "Cross section at the main position, towards the screen"}
	return []*view{long.view(), cross.view()}
}

// spans returns where the plane is inside the room, metres along.
func (c *section) spans() [][2]float64 {
	a := c.along
	in := geometry.Vec2{X: c.into.X, Y: c.into.Y}
	run := geometry.Vec2{X: a.X, Y: a.Y}
	far := c.set.hi.Sub(c.set.lo).Len() + 1
	lo := min(c.set.lo.Dot(run), c.set.hi.Dot(run)) - 1
	from := run.Mul(lo).Add(in.Mul(c.at))
	var out [][2]float64
	for _, part := range clipTo(c.set.outline, from, from.Add(run.Mul(far+2))) {
		p, q := part[0].Dot(run), part[1].Dot(run)
		if n := len(out); n > 0 && math.Abs(out[n-1][1]-p) < 1e-6 {
			out[n-1][1] = q
			continue
		}
		out = append(out, [2]float64{p, q})
	}
	return out
}

// top returns the edge of the ceiling in the plane from one place to another: metres from
// the first, and over the floor.
func (c *section) top(from, to float64) []geometry.Vec2 {
	at := func(along float64) geometry.Vec2 {
		p := c.along.Mul(along).Add(c.into.Mul(c.at))
		return geometry.Vec2{X: p.X, Y: p.Y}
	}
	return c.set.design.Room.Slopes().Edge(at(from), at(to))
}

func (c *section) view() *view {
	s := c.set
	v := &view{set: s, title: c.title, right: c.along, up: geometry.Vec{Z: 1}}
	spans := c.spans()
	if len(spans) == 0 {
		return nil
	}
	from, to := spans[0][0], spans[len(spans)-1][1]
	top := c.top(from, to)
	high, left, right := highest(top), top[0].Y, top[len(top)-1].Y
	v.lo, v.hi = geometry.Vec2{X: from - thick, Y: -thick}, geometry.Vec2{X: to + thick, Y: high + thick}
	v.room = [2]geometry.Vec2{{X: from}, {X: to, Y: high}}
	v.paint = func(d *drawn) { c.paint(d, spans) }

	stops := stopsAt(from, to)
	mid, r, u := s.design.Screen.Picture()
	if c.along.X > 0 {
		stops = append(stops, stopsAt(float64(s.design.Screen.Distance))...)
		for _, row := range s.design.Seating.Rows {
			stops = append(stops, stopsAt(float64(row.Distance))...)
		}
	} else {
		stops = append(stops, stopsAt(mid.Y-r.Y, mid.Y+r.Y)...)
	}
	inside := stops[:0]
	for _, st := range stops {
		if st.at > from-1e-6 && st.at < to+1e-6 {
			inside = append(inside, st)
		}
	}
	s.parts(v, below, inside)
	s.chain(v, below, stopsAt(from, to))
	s.chain(v, rightOf, stopsAt(0, s.laser, right, high))
	s.runs(v, leftOf, s.laser, true, stopsAt(0, mid.Z-u.Z, mid.Z+u.Z, left, high))
	return v
}

func (c *section) paint(d *drawn, spans [][2]float64) {
	s := c.set
	for _, in := range spans {
		inner, beyond := under(c.top(in[0], in[1]), in[0])
		face, outer := d.ring(inner), d.ring(beyond)
		d.hatch(hatchLayer, grey, 1.2, face, outer)
		d.bands(face, outer)
		d.lines(wallLayer, black, cut, closed(face))
		d.lines(wallLayer, black, thin, closed(outer))
	}
	c.drawBackdrops(d)
	// What is behind the plane, then what is cut.
	for i := range s.room.Seats {
		if c.shows(i) {
			s.paintChair(d, &s.room.Seats[i])
			c.paintHead(d, &s.room.Bodies[i])
		}
	}
	for i := range s.room.Speakers {
		l := &s.room.Speakers[i]
		if c.depth(l.At.Vec()) < -1e-3 {
			continue
		}
		ring := d.outline(l.Box)
		box := around(ring)
		d.lines(speakerLayer, blue, edge, closed(ring))
		d.dear = append(d.dear, grown(box, 0.2))
		d.label(speakerLayer, blue, middleOf(ring), min(box.Dx(), box.Dy())/2, 1, l.Name())
	}
	c.drawProjector(d)
	for _, b := range s.room.Floor {
		c.paintCut(d, spans, b, rowLayer, "")
	}
	for _, f := range s.design.Room.Features {
		if f.Kind == project.Door || f.Kind == project.Window || f.Kind == project.Light || f.Kind == project.Vent {
			continue
		}
		c.paintCut(d, spans, f.Box(), featureLayer, f.Words())
	}
	m, r, u := s.design.Screen.Picture()
	if c.along.X > 0 {
		d.lines(screenLayer, black, heavier, []drawing.Point{d.at(m.Sub(u)), d.at(m.Add(u))})
		q := d.at(m)
		d.solids = append(d.solids, drawing.Rect(q.X-0.5, d.at(m.Add(u)).Y, q.X+0.5, d.at(m.Sub(u)).Y))
		d.label(screenLayer, black, d.at(m.Add(u.Mul(0.8))), 0.5, 3, "picture")
	} else {
		a, b := d.at(m.Sub(r).Sub(u)), d.at(m.Add(r).Add(u))
		d.rect(screenLayer, black, edge, drawing.Rect(a.X, b.Y, b.X, a.Y))
	}
	for i := range s.design.Seating.Rows {
		if p, ok := place.Platform(s.design, i); ok && c.along.X > 0 {
			d.labelIn(rowLayer, black, d.outline(p), 4, "platform "+signed(s.metric, 2*p.Half.Z)+" over floor")
		}
	}
	s.drawLaser(d, spans[0][0], spans[len(spans)-1][1])
}

// depth returns how far behind the plane a point is.
func (c *section) depth(p geometry.Vec) float64 { return p.Dot(c.into) - c.at }

// paintHead draws the head of who sits, for orientation.
func (c *section) paintHead(d *drawn, b *place.Body) {
	at, k := d.at(b.Head.Center), d.scale.mm()
	wide := b.Head.Radii.X
	if c.along.Y != 0 {
		wide = b.Head.Radii.Y
	}
	ring := arc(drawing.Pt(0, 0), 1, 0, 2*math.Pi, 24)
	for j, q := range ring {
		ring[j] = drawing.Pt(at.X+k*wide*q.X, at.Y+k*b.Head.Radii.Z*q.Y)
	}
	d.lines(sightLayer, pale, finest, ring)
}

// shows reports whether seat i is drawn: in a long section of every row the nearest
// behind the plane, in a cross section the row in the plane.
func (c *section) shows(i int) bool {
	s := c.set
	by := c.depth(s.room.Seats[i].Ref)
	if c.along.Y != 0 {
		return by > -0.3 && by < 0.6
	}
	const half = 0.01 // m: a seat that the plane cuts in the middle is seen
	if by < -half {
		return false
	}
	for k := range s.room.Seats {
		if o := c.depth(s.room.Seats[k].Ref); s.room.Seats[k].Row == s.room.Seats[i].Row && o >= -half && o < by-1e-9 {
			return false
		}
	}
	return true
}

// paintCut draws a box hatched where the plane cuts it, else, behind the plane, its edges.
func (c *section) paintCut(d *drawn, spans [][2]float64, b geometry.Box, layer, name string) {
	near, far := math.Inf(1), math.Inf(-1)
	for _, p := range boxCorners(b) {
		near, far = min(near, c.depth(p)), max(far, c.depth(p))
	}
	if far <= 0 {
		return
	}
	// What of it lies beyond the walls is not there.
	box := around(d.outline(b))
	left, right := d.on(geometry.Vec2{X: spans[0][0]}).X, d.on(geometry.Vec2{X: spans[len(spans)-1][1]}).X
	box.X0, box.X1 = max(box.X0, left), min(box.X1, right)
	if box.X0 >= box.X1 {
		return
	}
	ring := corners(box)
	if near < 0 {
		d.fill(maskLayer, white, ring)
		d.hatch(hatchLayer, grey, 1.2, ring)
		d.lines(layer, black, cut, closed(ring))
	} else {
		d.lines(layer, grey, thin, closed(ring))
	}
	if name != "" {
		d.labelIn(layer, black, ring, 5, name)
	}
}
