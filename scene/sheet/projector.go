// SPDX-License-Identifier: MIT

package sheet

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene/drawing"
)

// drawProjector draws the cabinet and the middle of the front lens seen from above: broken
// where it hangs, but on the ceiling plan, which alone says how high the lens is.
func (s *set) drawProjector(d *drawn, ceiling bool) {
	ring, lens, ok := s.cabinet(d)
	if !ok || ceiling && s.design.Projector.Mount != project.CeilingMount {
		return
	}
	if ceiling {
		d.fill(maskLayer, white, ring)
		d.lines(projectorLayer, blue, edge, closed(ring))
	} else {
		d.dashed(projectorLayer, blue, thin, closed(ring))
	}
	s.lensMark(d, lens)
	box := around(ring)
	d.dear = append(d.dear, grown(box, 0.3))
	words := []string{"projector"}
	if ceiling {
		words = append(words, "lens "+d.height(float64(s.design.Projector.At.Z)))
	}
	d.label(projectorLayer, blue, middleOf(ring), min(box.Dx(), box.Dy())/2, 1, words...)
	d.naming(project.ProjectorID)
}

// drawProjector draws the cabinet, the lens and the pole seen from the side, behind the
// plane.
func (c *section) drawProjector(d *drawn) {
	s := c.set
	ring, lens, ok := s.cabinet(d)
	at := s.design.Projector.At.Vec()
	const half = 0.5 // m: a projector on the plane is seen
	if !ok || c.depth(at) < -half {
		return
	}
	box, _ := place.Cabinet(s.design)
	if s.design.Projector.Mount == project.CeilingMount {
		top := box.Center.Add(geometry.Vec{Z: box.Half.Z})
		under := top
		if under.Z = s.design.Room.CeilingAt(top.X, top.Y); under.Z > top.Z {
			d.lines(projectorLayer, blue, thin, []drawing.Point{d.at(top), d.at(under)})
		}
	}
	d.fill(maskLayer, white, ring)
	d.lines(projectorLayer, blue, edge, closed(ring))
	s.lensMark(d, lens)
	b := around(ring)
	d.dear = append(d.dear, grown(b, 0.2))
	d.label(projectorLayer, blue, middleOf(ring), min(b.Dx(), b.Dy())/2, 1, "projector")
	d.naming(project.ProjectorID)
}

// cabinet returns the outline of the projector on paper, and the middle of its lens.
func (s *set) cabinet(d *drawn) (ring []drawing.Point, lens drawing.Point, ok bool) {
	box, ok := place.Cabinet(s.design)
	if !ok {
		return nil, lens, false
	}
	return d.outline(box), d.at(s.design.Projector.At.Vec()), true
}

// lensMark draws a cross at the middle of the lens, from where it is measured.
func (s *set) lensMark(d *drawn, at drawing.Point) {
	const arm = 1.2 // mm
	d.lines(projectorLayer, blue, thin, []drawing.Point{{X: at.X - arm, Y: at.Y}, {X: at.X + arm, Y: at.Y}}, []drawing.Point{{X: at.X, Y: at.Y - arm}, {X: at.X, Y: at.Y + arm}})
}
