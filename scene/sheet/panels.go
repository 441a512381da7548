// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
	"earline/scene/drawing"
)

// panelsOn returns the runs on a wall, counted from 1; of 0 under the ceiling.
func (s *set) panelsOn(wall int) (on []panel.Run) {
	for _, r := range s.hung {
		if r.Wall == wall {
			on = append(on, r)
		}
	}
	return on
}

// drawRun draws the panels of a run with their numbers, as the panel list has them, and
// joints with light in them. place gives the outline of a rectangle on the drawing.
func (d *drawn) drawRun(r *panel.Run, place func(panel.Rect) ([]drawing.Point, bool)) {
	for _, j := range r.Joints {
		if !j.Lit {
			continue
		}
		for _, q := range j.Pieces {
			if ring, ok := place(q); ok {
				d.lines(treatmentLayer, black, finest, closed(ring))
				d.lines(treatmentLayer, black, finest, []drawing.Point{ring[0], ring[2]})
			}
		}
	}
	for i := range r.Modules {
		m := &r.Modules[i]
		if m.Kind == project.BarePanel {
			continue
		}
		largest := panel.Rect{}
		for _, e := range m.Edges() {
			if ring, _ := place(e); len(ring) > 2 {
				d.dashed(treatmentLayer, black, thin, []drawing.Point{ring[0], ring[2]})
			}
		}
		for _, q := range m.Pieces {
			if q.Area() > largest.Area() {
				largest = q
			}
		}
		if ring, ok := place(largest); ok {
			d.labelIn(treatmentLayer, black, ring, 6, fmt.Sprint(m.Number), panel.Words(m.Kind))
		}
	}
}

// panelNote says what the numbers of panels and their joints are; empty without panels.
func (s *set) panelNote(wall int) string {
	on := s.panelsOn(wall)
	if len(on) == 0 {
		return ""
	}
	p := &s.design.Panels[on[0].Index]
	text := fmt.Sprintf("Panels are numbered as in the panel list, %s deep", s.length(float64(p.Depth)))
	lit, dark := 0, 0
	for _, j := range on[0].Joints {
		if j.Lit {
			lit++
		} else {
			dark++
		}
	}
	if dark > 0 {
		text += fmt.Sprintf(", %s between two", s.length(float64(p.Gap)))
	}
	if lit > 0 {
		text += fmt.Sprintf("; joints with a stroke across have light in them, %s wide", s.length(float64(p.LightGap)))
	}
	return text + "."
}

// drawCeilingPanels draws the panels under the ceiling.
func (s *set) drawCeilingPanels(d *drawn) {
	for _, r := range s.panelsOn(0) {
		d.drawRun(&r, func(q panel.Rect) ([]drawing.Point, bool) {
			return d.floor(geometry.Polygon{{X: q.From, Y: q.Low}, {X: q.To, Y: q.Low}, {X: q.To, Y: q.High}, {X: q.From, Y: q.High}}), q.Area() > 0
		})
	}
}

// onWall returns a rectangle on the wall as a treatment, which says where along it that is.
func onWall(q panel.Rect) project.Treatment {
	return project.Treatment{From: unit.Length(q.From), To: unit.Length(q.To), Low: unit.Length(q.Low), High: unit.Length(q.High)}
}
