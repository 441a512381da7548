// SPDX-License-Identifier: MIT

package session

import (
	"earline/project/place"
	"earline/project/sight"
)

// trial is another sitter in one seat: a question, not an edit.
type trial struct {
	seat    int
	who     place.Sitter
	of, got *sight.Result // the audit without and with who; nil until it is asked for
}

// TrySitter seats another sitter in a seat as long as it is selected. Who is as the
// design has them ends the trial.
func (s *Session) TrySitter(seat int, who place.Sitter) {
	if seat != s.Chosen.Seat || seat < 0 || seat >= seats(s.Design()) {
		return
	}
	s.trial = &trial{seat: seat, who: who}
	if planned, ok := s.Planned(seat); ok && who == planned {
		s.trial = nil
	}
	s.changed(SelectionChanged)
}

// Sitter returns who is in the selected seat, tried or as the design has them, and
// whether it is a trial. ok is false where no seat is selected, or nothing is known yet.
func (s *Session) Sitter() (who place.Sitter, tried, ok bool) {
	if t := s.trying(); t != nil {
		return t.who, true, true
	}
	who, ok = s.Planned(s.Chosen.Seat)
	return who, false, ok
}

// Planned returns the sitter that the design has in a seat.
func (s *Session) Planned(seat int) (who place.Sitter, ok bool) {
	r := s.Result()
	if r == nil || seat < 0 || seat >= len(r.Seats) {
		return who, false
	}
	return place.Sitter{Percentile: r.Design.Seating.Sitters.Listener, Recline: r.Seats[seat].Recline}, true
}

// trying returns the trial under way, nil for none: it ends when its seat is no longer
// selected.
func (s *Session) trying() *trial {
	if s.trial != nil && s.trial.seat != s.Chosen.Seat {
		s.trial = nil
	}
	return s.trial
}

// Tried returns the audit with the sitter that is tried; Result where none is.
func (s *Session) Tried() *sight.Result {
	r, t := s.Result(), s.trying()
	if t == nil || r == nil {
		return r
	}
	if t.of != r {
		t.of, t.got = r, sight.Try(r, t.seat, t.who)
	}
	return t.got
}
