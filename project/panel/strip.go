// SPDX-License-Identifier: MIT

package panel

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Strip is a stretch of a light strip.
type Strip struct {
	Path []geometry.Vec // 2 points or more
	Aim  geometry.Vec   // the unit vector along which the middle of its light leaves
}

// Length returns how long s is, metres.
func (s *Strip) Length() (l float64) {
	for i := 1; i < len(s.Path); i++ {
		l += s.Path[i].Dist(s.Path[i-1])
	}
	return l
}

// StripLength returns how long all of them are, metres.
func StripLength(all []Strip) (l float64) {
	for i := range all {
		l += all[i].Length()
	}
	return l
}

// Strips returns where the strips of a light group lie: along its path, in the lit joints
// of a run of panels, or under the nosings. runs are those of Of(d). None for other kinds.
func Strips(d *project.Design, runs []Run, g *project.LightGroup) []Strip {
	switch {
	case g.Kind != project.Strip:
		return nil
	case g.Panels != "":
		return inJoints(d, runs, g.Panels)
	case g.Nosings:
		var out []Strip
		for _, edge := range place.Nosings(d) {
			out = append(out, Strip{edge[:], g.Aim()})
		}
		return out
	}
	path := make([]geometry.Vec, len(g.Path))
	for i, p := range g.Path {
		path[i] = p.Vec()
	}
	return []Strip{{path, g.Aim()}}
}

// inJoints returns the strips in the lit joints of the run with that ID: at the bottom of
// each joint, in its middle.
func inJoints(d *project.Design, runs []Run, id string) (out []Strip) {
	const off = 0.01 // m, before the wall
	l := layer{d: d, poly: d.Room.Polygon()}
	for _, r := range runs {
		if r.Index >= len(d.Panels) || d.Panels[r.Index].ID != id {
			continue
		}
		at, aim, ok := l.before(r.Wall, off)
		if !ok {
			continue
		}
		for _, j := range r.Joints {
			if !j.Lit {
				continue
			}
			for _, q := range j.Pieces {
				u, v := (q.From+q.To)/2, (q.Low+q.High)/2
				from, to := at(u, q.Low), at(u, q.High)
				if q.To-q.From > q.High-q.Low {
					from, to = at(q.From, v), at(q.To, v)
				}
				if from.Dist(to) > 2*off {
					out = append(out, Strip{[]geometry.Vec{from, to}, aim})
				}
			}
		}
	}
	return out
}

// before returns how a place on a wall, or under the ceiling for 0, becomes one in the room
// so far before it, and the way off it.
func (l *layer) before(wall int, off float64) (at func(u, v float64) geometry.Vec, aim geometry.Vec, ok bool) {
	if wall == 0 {
		return func(u, v float64) geometry.Vec {
			return geometry.Vec{X: u, Y: v, Z: l.d.Room.CeilingAt(u, v) - off}
		}, geometry.Vec{Z: -1}, true
	}
	if wall > len(l.poly) {
		return nil, aim, false
	}
	a, b := l.poly.Edge(wall - 1)
	in := l.poly.InwardNormal(wall - 1)
	along := b.Sub(a).Mul(1 / max(a.Dist(b), 1e-9))
	return func(u, v float64) geometry.Vec {
		return geometry.Vec{X: a.X + along.X*u + in.X*off, Y: a.Y + along.Y*u + in.Y*off, Z: v}
	}, geometry.Vec{X: in.X, Y: in.Y}, true
}
