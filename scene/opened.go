// SPDX-License-Identifier: MIT

package scene

import "earline/project/place"

// opened outlines what is open for editing: features, treatments, sub zones, the
// projector.
func (s *painter) opened() {
	l := &Lines{Name: "opened", OnTop: true}
	for _, it := range s.o.Opened {
		switch {
		case it.Index < 0:
		case it.Kind == place.FeatureItem && it.Index < len(s.d.Room.Features):
			rims(l, s.d.Room.Features[it.Index], s.ink.Selected)
		case it.Kind == place.TreatmentItem && it.Index < len(s.d.Room.Treatments):
			t := s.d.Room.Treatments[it.Index]
			if c, ok := s.carrier(t.Wall); ok {
				u0, u1, v0, v1 := float64(t.From), float64(t.To), float64(t.Low), float64(t.High)
				l.loop(s.ink.Selected, c.at(u0, v0, panelDeep), c.at(u1, v0, panelDeep), c.at(u1, v1, panelDeep), c.at(u0, v1, panelDeep))
			}
		case it.Kind == place.ProjectorItem:
			if box, ok := place.Cabinet(s.d); ok {
				edges(l, box, s.ink.Selected)
			}
		case it.Kind == place.ZoneItem && it.Index < len(s.d.SubZones):
			l.loop(s.ink.Selected, s.zone(it.Index)...)
		}
	}
	s.addLines(l)
}
