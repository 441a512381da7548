// SPDX-License-Identifier: MIT

package project

import (
	"slices"
	"strconv"
	"strings"
)

// Limits of measured responses.
const (
	MaxResponses = 64
	// MaxPoints is of one response: 48 to the octave, from 10 Hz to 40 kHz.
	MaxPoints = 577
)

// Response is the level that was measured at a seat over frequency. It alters nothing of
// the plan.
type Response struct {
	// Seat is the id of the row, a point and the number of the seat from the listener's
	// left: "r1.2"; see Row.SeatID.
	Seat string `json:"seat"`
	// Of is what played: the id of a loudspeaker, or AllSubwoofers.
	Of          string    `json:"of"`
	Frequencies []float64 `json:"frequencies_hz"` // increasing
	// Level is at each of Frequencies, dB; against what does not matter as long as it is
	// the same at all seats.
	Level     []float64 `json:"level_db"`
	Smoothing string    `json:"smoothing,omitempty"` // as measured, in words
	Source    string    `json:"source,omitempty"`    // where it is from
}

// SeatID returns what refers to seat n of r, counted from 1.
func (r Row) SeatID(n int) string { return r.ID + "." + strconv.Itoa(n) }

// SeatOf returns the row and the number of a seat by its id, both counted from 1; ok is
// false for a seat that d has not.
func (d *Design) SeatOf(id string) (row, number int, ok bool) {
	name, digits, _ := strings.Cut(id, ".") // an id of a row has no point
	n, err := strconv.Atoi(digits)
	if err != nil || strconv.Itoa(n) != digits {
		return 0, 0, false
	}
	i := slices.IndexFunc(d.Seating.Rows, func(r Row) bool { return r.ID != "" && r.ID == name })
	if i < 0 || n < 1 || n > d.Seating.Rows[i].Seats {
		return 0, 0, false
	}
	return i + 1, n, true
}

// plays reports whether d has what a response is of.
func (d *Design) plays(of string) bool {
	return of == AllSubwoofers || slices.ContainsFunc(d.Speakers, func(l Loudspeaker) bool { return l.ID != "" && l.ID == of })
}

// heard reports whether d has the seat and what played.
func (d *Design) heard(r Response) bool {
	_, _, ok := d.SeatOf(r.Seat)
	return ok && d.plays(r.Of)
}

// SetResponse puts r in the place of the one of the same seat and loudspeaker in all, or
// behind them; replaced says which.
func SetResponse(all []Response, r Response) (out []Response, replaced bool) {
	i := slices.IndexFunc(all, func(o Response) bool { return o.Seat == r.Seat && o.Of == r.Of })
	if i < 0 {
		return append(slices.Clip(all), r), false
	}
	out = slices.Clone(all)
	out[i] = r
	return out, true
}

// forgetGone takes out responses of seats and loudspeakers that d has no more.
func (m *MeasuredSound) forgetGone(d *Design) {
	if len(m.Responses) == 0 {
		return
	}
	m.Responses = slices.DeleteFunc(m.Responses, func(r Response) bool { return !d.heard(r) })
	if len(m.Responses) == 0 {
		m.Responses = nil
	}
}

func cloneResponses(all []Response) []Response {
	all = slices.Clone(all)
	for i := range all {
		all[i].Frequencies, all[i].Level = slices.Clone(all[i].Frequencies), slices.Clone(all[i].Level)
	}
	return all
}
