// SPDX-License-Identifier: MIT

package panel

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// face is a wall or the ceiling with the coordinates of what hangs on it.
type face struct {
	room         project.Room
	poly         geometry.Polygon
	wall         int
	start, along geometry.Vec2 // where its first coordinate is 0, and its way
	in           geometry.Vec2 // into the room; of no length under the ceiling
	long         float64
	first, far   float64 // under the ceiling the least x and the greatest y
}

func (l *layer) faceOf(wall int) (face, bool) {
	f := face{room: l.d.Room, poly: l.poly, wall: wall, long: l.d.Room.PanelLength(wall)}
	if !(f.long > 0) {
		return f, false
	}
	if wall == 0 {
		lo, hi := l.poly.Bounds()
		f.first, f.far = lo.X, hi.Y
		return f, true
	}
	a, b := l.poly.Edge(wall - 1)
	f.start, f.along, f.in = a, b.Sub(a).Mul(1/f.long), l.poly.InwardNormal(wall-1)
	return f, true
}

// upright returns the rectangle between two places along f, from the panels' lower edge
// to their upper or to the ceiling.
func (f *face) upright(from, to float64, p *project.Panels) Rect {
	top := f.far
	if f.wall > 0 {
		top = f.ceiling(from, to)
	}
	if p.High > 0 {
		top = min(top, float64(p.High))
	}
	return Rect{from, to, float64(p.Low), max(top, float64(p.Low))}
}

// holds reports whether r lies on f: the ceiling ends where the room does.
func (f *face) holds(r Rect) bool {
	if f.wall > 0 {
		return true
	}
	const hair = 1e-6 // m2
	on := f.poly.Clip(geometry.Vec2{X: r.From, Y: r.Low}, geometry.Vec2{X: r.To, Y: r.High})
	return math.Abs(on.Area()) >= r.Area()-hair
}

// shadow returns the rectangle of f before or behind which the points lie, and how far
// off f the nearest and the farthest of them are.
func (f *face) shadow(points []geometry.Vec) (r Rect, near, far float64) {
	r = Rect{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	near, far = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		q := geometry.Vec2{X: p.X, Y: p.Y}.Sub(f.start)
		u, v, off := q.Dot(f.along), p.Z, q.Dot(f.in)
		if f.wall == 0 {
			u, v, off = p.X, p.Y, f.room.CeilingAt(p.X, p.Y)-p.Z
		}
		r = Rect{min(r.From, u), max(r.To, u), min(r.Low, v), max(r.High, v)}
		near, far = min(near, off), max(far, off)
	}
	return r, near, far
}

// obstacle is what panels give way to.
type obstacle struct {
	Rect
	name    string
	speaker bool
}

// Distances kept; common practice, no source.
const (
	besideFrame   = 0.06  // m: the architrave of a door, the frame of a window or a vent
	besideSpeaker = 0.005 // m: a cut-out is a little larger than the box
	reveal        = 0.45  // m: how far an opening may lie in its wall, as in package shell
)

// obstacles returns what stands in the way of panels on f.
func (l *layer) obstacles(f *face, p *project.Panels) []obstacle {
	var out []obstacle
	add := func(name string, box geometry.Box, into, beside float64, speaker bool) {
		c := box.Corners()
		r, near, far := f.shadow(c[:])
		const hair = 1e-6 // m
		if near > float64(p.Depth)+hair || far < -into-hair {
			return // before the panels, or behind the wall
		}
		out = append(out, obstacle{Rect{r.From - beside, r.To + beside, r.Low - beside, r.High + beside}, name, speaker})
	}
	for i := range l.d.Room.Features {
		ft := &l.d.Room.Features[i]
		switch ft.Kind {
		case project.Door, project.Window, project.Light, project.Vent:
			add(ft.Words(), ft.Box(), reveal, besideFrame, false)
		default:
			add(ft.Words(), ft.Box(), 0, 0, false)
		}
	}
	for i := range l.speakers {
		s := &l.speakers[i]
		into := 0.0
		if s.Spec.Flush {
			into = 0.03 // m: a flush front may sit so far in, as in package sight
		}
		add(s.Name(), s.Box, into, besideSpeaker, true)
	}
	if f.wall > 0 {
		for i := range l.floor {
			add("platform or step", l.floor[i], 0, 0, false)
		}
	}
	add("screen", l.d.Screen.Sheet(), 0, 0, false)
	for i := range l.d.Room.Treatments {
		if t := &l.d.Room.Treatments[i]; t.Wall == f.wall {
			name := t.Name
			if name == "" {
				name = "treatment"
			}
			out = append(out, obstacle{Rect{float64(t.From), float64(t.To), float64(t.Low), float64(t.High)}, name, false})
		}
	}
	for i := range l.laid {
		if r := &l.laid[i]; r.Wall == f.wall {
			for _, m := range r.Modules {
				for _, q := range m.Pieces {
					out = append(out, obstacle{q, "other panels", false})
				}
			}
		}
	}
	return out
}
