// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/scene/drawing"
)

// drawLamps draws the light groups that are overhead: downlights as crossed circles, strips
// and stars as lines, each named once. Lamps at steps and low on walls are for the plan of
// who wires them.
func (s *set) drawLamps(d *drawn) {
	for i := range s.design.LightGroups {
		g := &s.design.LightGroups[i]
		name := s.design.LightName(i)
		switch g.Kind {
		case project.Downlight:
			named := false
			for _, p := range g.At {
				if !s.within(p) {
					continue
				}
				c := d.at(p.Vec())
				s.crossed(d, c)
				if !named {
					d.label(featureLayer, black, c, lampRadius, 2, name, d.height(float64(p.Z)))
				}
				named = true
			}
		case project.Strip:
			var run []drawing.Point
			for _, p := range g.Path {
				run = append(run, d.at(p.Vec()))
			}
			if len(g.Path) > 0 && s.within(g.Path[0]) && s.overhead(g.Path[0]) {
				d.dashed(featureLayer, black, edge, run)
				d.label(featureLayer, black, run[0], 0.5, 2, name, d.height(float64(g.Path[0].Z)))
			}
		case project.Stars:
			var outline geometry.Polygon
			for _, c := range g.Area {
				outline = append(outline, geometry.Vec2{X: float64(c.X), Y: float64(c.Y)})
			}
			if ring := d.floor(outline); len(ring) > 0 && s.within(project.Point{X: g.Area[0].X, Y: g.Area[0].Y}) {
				d.dashed(featureLayer, grey, thin, closed(ring))
				d.label(featureLayer, grey, ring[0], 0.5, 2, name)
			}
		}
	}
}

// lampRadius is how large a lamp is on paper, whatever the scale, millimetres.
const lampRadius = 1.2

// crossed draws the sign of a lamp.
func (s *set) crossed(d *drawn, c drawing.Point) {
	const n, r, clear = 16, lampRadius, 1 // mm: a name over a lamp hides it
	ring := make([]drawing.Point, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		ring[i] = drawing.Pt(c.X+r*cos, c.Y+r*sin)
	}
	h := r / math.Sqrt2
	d.lines(featureLayer, black, thin, closed(ring), []drawing.Point{{X: c.X - h, Y: c.Y - h}, {X: c.X + h, Y: c.Y + h}}, []drawing.Point{{X: c.X - h, Y: c.Y + h}, {X: c.X + h, Y: c.Y - h}})
	d.dear = append(d.dear, grown(around(ring), clear))
}

// within reports whether something is in the room as the plan shows it: what is not is told
// among what cannot be built.
func (s *set) within(p project.Point) bool {
	return s.outline.Contains(geometry.Vec2{X: float64(p.X), Y: float64(p.Y)})
}

// overhead reports whether something is nearer to the ceiling than a hanging thing reaches.
func (s *set) overhead(p project.Point) bool {
	const under = 0.6 // m, as what hangs from a ceiling at most
	return s.design.Room.CeilingAt(float64(p.X), float64(p.Y))-float64(p.Z) < under
}
