// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
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

// top returns the upper edge of the wall: metres along it, and over the floor.
func (e *elevation) top() []geometry.Vec2 { return e.set.design.Room.Slopes().Edge(e.from, e.to) }

// highest returns how high the highest of an edge is.
func highest(edge []geometry.Vec2) float64 {
	high := 0.0
	for _, q := range edge {
		high = max(high, q.Y)
	}
	return high
}

// under returns the outline of what is under an upper edge, from x metres along on, and
// that outline by thick larger.
func under(edge []geometry.Vec2, x float64) (face, outer []geometry.Vec2) {
	n := len(edge)
	a, b := x+edge[0].X, x+edge[n-1].X
	face = []geometry.Vec2{{X: a}, {X: b}}
	outer = []geometry.Vec2{{X: a - thick, Y: -thick}, {X: b + thick, Y: -thick}}
	for i := n - 1; i >= 0; i-- {
		p := geometry.Vec2{X: x + edge[i].X, Y: edge[i].Y}
		face = append(face, p)
		switch i {
		case 0:
			p.X -= thick
		case n - 1:
			p.X += thick
		}
		p.Y += thick
		outer = append(outer, p)
	}
	return face, outer
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
	if len(e.set.panelsOn(e.wall+1)) > 0 {
		return false
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
	v := &view{set: s, title: e.name() + " from inside" + e.toScreen(), right: vec(e.right, 0), up: geometry.Vec{Z: 1}, shows: setout.OnWall, wall: e.wall + 1}
	left := v.flat(vec(e.from, 0)).X
	top := e.top()
	high := highest(top)
	v.lo, v.hi = geometry.Vec2{X: left - thick, Y: -thick}, geometry.Vec2{X: left + e.length + thick, Y: high + thick}
	v.room = [2]geometry.Vec2{{X: left}, {X: left + e.length, Y: high}}
	v.paint = func(d *drawn) { e.paint(d, left) }
	if len(e.speakers) > 0 {
		v.notes = []string{"Dimensions run from the left end and from the laser line: to the edges of cut-outs, to the middle of what stands free."}
	}

	if note := s.panelNote(e.wall + 1); note != "" {
		v.notes = append(v.notes, note)
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
	s.runs(v, below, left, false, across)
	s.runs(v, leftOf, s.laser, true, upright)

	e.dimPictures(v, left)

	built := stopsAt(left, left+e.length)
	for _, q := range top {
		built = append(built, stopsAt(left+q.X)...)
	}
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
	for _, r := range s.panelsOn(e.wall + 1) {
		for _, m := range r.Modules {
			a, b := e.treatment(onWall(m.Rect))
			built = append(built, stopsAt(left+a, left+b)...)
		}
	}
	s.parts(v, below, built)
	s.chain(v, below, stopsAt(left, left+e.length))
	s.chain(v, rightOf, stopsAt(0, s.laser, top[len(top)-1].Y, high))
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
