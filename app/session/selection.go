// SPDX-License-Identifier: MIT

package session

import (
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
)

// None is no seat and no loudspeaker of a Selection.
const None = -1

// Selection is what is selected: a value, changed by Session.Choose alone.
type Selection struct {
	// Item is what was opened to be edited; the zero value leaves what is open.
	Item place.Item
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

// within returns what there is of the selection in d. A path of which one end is
// gone leaves nothing.
func (c Selection) within(d *project.Design) Selection {
	seatGone, speakerGone := c.Seat >= seats(d), c.Speaker >= len(d.Speakers)
	if c.Path && (seatGone || speakerGone || c.Seat < 0) {
		return Nothing()
	}
	if seatGone {
		c.Seat = None
	}
	if speakerGone {
		c.Speaker = None
	}
	n := 1 // of those of which there is one
	switch c.Item.Kind {
	case place.SpeakerItem:
		n = len(d.Speakers)
	case place.RowItem:
		n = len(d.Seating.Rows)
	case place.FeatureItem:
		n = len(d.Room.Features)
	case place.TreatmentItem:
		n = len(d.Room.Treatments)
	case place.ZoneItem:
		n = len(d.SubZones)
	case place.ProjectorItem:
		if !d.Projector.Given() {
			n = 0
		}
	}
	if c.Item.Index >= n {
		c.Item = place.Item{}
	}
	return c
}

// Choose selects something else, and shows it though it may be what is selected
// already. What is not in the design is not selected.
func (s *Session) Choose(c Selection) {
	s.Chosen = c.within(s.Design())
	s.changed(SelectionChanged)
}

// keepChosen drops from the selection what an edit has taken out of the design.
func (s *Session) keepChosen() {
	if c := s.Chosen.within(s.Design()); c != s.Chosen {
		c.Item = place.Item{} // what is open stays
		s.Choose(c)
	}
}

// Marked returns the chosen remark as it reads now, found again among what the
// rules find in the present design; nil when none is chosen, or its rule is off.
func (s *Session) Marked() *practice.Remark {
	if s.Chosen.Remark == nil {
		return nil
	}
	r, _ := s.Known.Practice.Get()
	return r.Find(s.Chosen.Remark)
}

// ChooseSpeaker selects a loudspeaker and opens it.
func (s *Session) ChooseSpeaker(k int) {
	s.Choose(Selection{Seat: None, Speaker: k, Item: place.Item{Kind: place.SpeakerItem, Index: k}})
}

// ChooseSeat selects a seat and opens its row.
func (s *Session) ChooseSeat(i int) { s.Choose(Selection{Seat: i, Speaker: None, Item: s.RowOf(i)}) }

// LookAlong selects the path from a seat to a loudspeaker, or to the picture where
// that is None.
func (s *Session) LookAlong(seat, speaker int) {
	if s.Result() != nil {
		s.Choose(Selection{Seat: seat, Speaker: speaker, Path: true})
	}
}

// RowOf returns the row of a seat of the audit; the zero Item where there is no such
// seat.
func (s *Session) RowOf(seat int) place.Item {
	r := s.Result()
	if r == nil || seat < 0 || seat >= len(r.Seats) {
		return place.Item{}
	}
	return place.Item{Kind: place.RowItem, Index: r.Seats[seat].Row - 1}
}

// PathSentence says what the audit found for the path from a seat to a loudspeaker,
// or to the picture where that is None. It is empty for a path that does not exist.
func (s *Session) PathSentence(seat, speaker int) string {
	r, u := s.Tried(), s.Design().Units
	switch {
	case r == nil || seat < 0 || seat >= len(r.Seats) || speaker < None || speaker >= len(r.Speakers):
		return ""
	case speaker == None:
		return r.PictureSentence(seat, u)
	}
	return r.Sentence(seat, speaker, u)
}

// Unmark takes the mark of a remark out of the picture, and the selection with it;
// false when there is none.
func (s *Session) Unmark() bool {
	if s.Marked() == nil {
		return false
	}
	s.Choose(Nothing())
	return true
}
