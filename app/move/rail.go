// SPDX-License-Identifier: MIT

package move

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/scene"
)

// rail is what a flush loudspeaker slides along: its wall, the ceiling, the
// floor, or the plane behind the screen.
type rail struct {
	d     *project.Design
	mount project.Mount
	start geometry.Vec
	// Of a wall: the direction along it, and how far the loudspeaker may go that
	// way before its box meets a corner.
	along  geometry.Vec
	lo, hi float64
	above  float64 // of a ceiling: how far it stands above it, mostly 0
}

// railOf returns what l slides along; nil when it hangs or stands free.
func railOf(d *project.Design, l project.Loudspeaker) *rail {
	spec, ok := d.Model(l.Model)
	if !ok || !spec.Flush {
		return nil
	}
	at := l.At.Vec()
	r := &rail{d: d, mount: l.Mount, start: at, lo: math.Inf(-1), hi: math.Inf(1)}
	switch l.Mount {
	case project.OnCeiling:
		r.above = at.Z - d.Room.CeilingAt(at.X, at.Y)
	case project.OnWall:
		poly := d.Room.Polygon()
		if len(poly) < 3 {
			return nil
		}
		edge, foot := poly.Nearest(geometry.Vec2{X: at.X, Y: at.Y})
		a, b := poly.Edge(edge)
		u, ok := geometry.V(b.X-a.X, b.Y-a.Y, 0).Unit()
		if !ok {
			return nil
		}
		r.along = u
		before, behind := foot.Dist(a), foot.Dist(b)
		half := float64(spec.Width) / 2
		r.lo, r.hi = min(half-before, 0), max(behind-half, 0)
	}
	return r
}

// straight is how nearly a wall must run along an axis to be dragged by that
// axis.
const straight = 1 - 1e-9

// axes returns those of a that the rail leaves free and that can be had one by
// one.
func (r *rail) axes(a scene.Axes) scene.Axes {
	switch r.mount {
	case project.OnCeiling, project.OnFloor:
		a.Z = false
	case project.BehindScreen:
		a.X = false
	default:
		a.X = a.X && math.Abs(r.along.X) > straight
		a.Y = a.Y && math.Abs(r.along.Y) > straight
	}
	return a
}

// hold brings the place to back onto the rail. Along a wall that runs along
// neither axis it works out the way from the pull by, which the drawing shows
// along axes.
func (r *rail) hold(to, by geometry.Vec, step float64, axes scene.Axes) geometry.Vec {
	switch r.mount {
	case project.OnCeiling:
		to.Z = r.d.Room.CeilingAt(to.X, to.Y) + r.above
		return to
	case project.OnFloor, project.BehindScreen:
		return to
	}
	way := to.Sub(r.start).Dot(r.along)
	if math.Abs(r.along.X) <= straight && math.Abs(r.along.Y) <= straight {
		const least = 0.2 // of a wall's run that a section must show to pull along it
		switch {
		case axes.X && axes.Y:
			way = by.X*r.along.X + by.Y*r.along.Y
		case axes.X && math.Abs(r.along.X) > least:
			way = by.X / r.along.X
		case axes.Y && math.Abs(r.along.Y) > least:
			way = by.Y / r.along.Y
		}
		way = math.Round(way/step) * step
	}
	way = min(max(way, r.lo), r.hi)
	return geometry.V(r.start.X+r.along.X*way, r.start.Y+r.along.Y*way, to.Z)
}
