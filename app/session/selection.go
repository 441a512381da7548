// SPDX-License-Identifier: MIT

package session

import (
	"slices"

	"earline/project"
	"earline/project/practice"
	"earline/scene"
)

// None is no seat and no loudspeaker of a Selection.
const None = scene.None

// Selection is what is selected: a value, changed by Session.Choose alone.
type Selection struct {
	// Item is what was opened to be edited; the zero value leaves what is open.
	Item scene.Item
	// Seat and Speaker are marked in the picture, counted from 0; None for none.
	Seat, Speaker int
	// Path is whether the camera looks along the path from Seat to Speaker, or to
	// the picture where that is None, all other paths left out.
	Path bool
	// Remark is drawn in the picture; nil for none. See Session.Marked.
	Remark *practice.Remark
}

// Nothing is the selection of nothing.
func Nothing() Selection { return Selection{Seat: None, Speaker: None} }

// within returns what there is of the selection in d.
func (c Selection) within(d *project.Design) Selection {
	if c.Seat >= seats(d) {
		c.Seat = None
		c.Path = false
	}
	if c.Speaker >= len(d.Speakers) {
		c.Speaker = None
		c.Path = false
	}
	n := 1 // of those of which there is one
	switch c.Item.Kind {
	case scene.HitSpeaker:
		n = len(d.Speakers)
	case scene.HitRow:
		n = len(d.Seating.Rows)
	case scene.HitFeature:
		n = len(d.Room.Features)
	case scene.HitTreatment:
		n = len(d.Room.Treatments)
	case scene.HitZone:
		n = len(d.SubZones)
	}
	if c.Item.Index >= n {
		c.Item = scene.Item{}
	}
	return c
}

// Choose selects something else. What is not in the design is not selected.
func (s *Session) Choose(c Selection) {
	c = c.within(s.Design())
	if c == s.Chosen {
		return
	}
	s.Chosen = c
	s.changed(SelectionChanged)
}

// Marked returns the chosen remark as it reads now, found again among what the
// rules find in the present design; nil when none is chosen, or it is mended.
func (s *Session) Marked() *practice.Remark {
	if s.Chosen.Remark == nil {
		return nil
	}
	r, _ := s.Known.Practice.Get()
	if r == nil {
		return nil
	}
	return again(r, s.Chosen.Remark)
}

// again finds the remark that is about the same thing as m, whatever was measured:
// the same places, else the same loudspeakers and rows, where another seat is the
// worst now; nil when there is none.
func again(r *practice.Result, m *practice.Remark) *practice.Remark {
	var near *practice.Remark
	for i := range r.Remarks {
		o := &r.Remarks[i]
		switch {
		case o == m:
			return o
		case o.Rule != m.Rule || o.OK != m.OK || !slices.Equal(o.Speakers, m.Speakers) || !slices.Equal(o.Rows, m.Rows):
		case slices.Equal(o.Seats, m.Seats):
			return o
		case near == nil && len(m.Speakers)+len(m.Rows) > 0:
			near = o
		}
	}
	return near
}
