// SPDX-License-Identifier: MIT

package setout

import (
	"earline/app/session"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
)

// thingOf returns what in a design has an ID of the list; the zero Item for nothing.
func thingOf(d *project.Design, id string) place.Item {
	if id == setout.ScreenID {
		return place.Item{Kind: place.ScreenItem}
	}
	if id == project.ProjectorID && d != nil && d.Projector.Given() {
		return place.Item{Kind: place.ProjectorItem}
	}
	if d == nil || id == "" {
		return place.Item{}
	}
	for i := range d.Speakers {
		if d.Speakers[i].ID == id {
			return place.Item{Kind: place.SpeakerItem, Index: i}
		}
	}
	for i := range d.Seating.Rows {
		if d.Seating.Rows[i].ID == id {
			return place.Item{Kind: place.RowItem, Index: i}
		}
	}
	for i := range d.Room.Features {
		if d.Room.Features[i].ID == id {
			return place.Item{Kind: place.FeatureItem, Index: i}
		}
	}
	for i := range d.Room.Treatments {
		if d.Room.Treatments[i].ID == id {
			return place.Item{Kind: place.TreatmentItem, Index: i}
		}
	}
	return place.Item{}
}

// selection selects a thing.
func selection(thing place.Item) session.Selection {
	c := session.Nothing()
	c.Item = thing
	if thing.Kind == place.SpeakerItem {
		c.Speaker = thing.Index
	}
	return c
}

// selected returns the thing that is selected; false for none.
func selected(s *session.Session, c session.Selection) (place.Item, bool) {
	switch {
	case c.Speaker >= 0:
		return place.Item{Kind: place.SpeakerItem, Index: c.Speaker}, true
	case c.Seat >= 0:
		row := s.RowOf(c.Seat)
		return row, row != place.Item{}
	}
	return c.Item, c.Item != place.Item{}
}
