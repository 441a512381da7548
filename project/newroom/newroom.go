// SPDX-License-Identifier: MIT

package newroom

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/layout"
)

// Wish is what a new room is to be.
type Wish struct {
	Length, Width, Height unit.Length
	Seats                 int
	Rows                  int // 0: as many as suit the room
	System                string
	Units                 project.Units
}

// Usual returns the wish that is offered first.
func Usual() Wish {
	return Wish{Length: 6, Width: 4.5, Height: 2.7, Seats: 4, System: "7.1.4", Units: project.Metric}
}

// The limits of a wish, metres.
const (
	minLength, maxLength = 2.5, 20
	minWidth, maxWidth   = 2, 15
	minHeight, maxHeight = 2.1, 6
	maxSeats             = 60
)

func (w Wish) validate() error {
	show := func(v unit.Length) string { return v.Format(w.Units != project.Imperial) }
	size := func(field string, v, lo, hi unit.Length) error {
		if !(v >= lo && v <= hi) {
			return &project.Fault{Field: field, Found: show(v), Allowed: show(lo) + " to " + show(hi)}
		}
		return nil
	}
	for _, err := range []error{size("length", w.Length, minLength, maxLength), size("width", w.Width, minWidth, maxWidth),
		size("height", w.Height, minHeight, maxHeight)} {
		if err != nil {
			return err
		}
	}
	if w.Seats < 1 || w.Seats > maxSeats {
		return &project.Fault{Field: "seats", Found: fmt.Sprint(w.Seats), Allowed: fmt.Sprintf("1 to %d", maxSeats)}
	}
	if w.Rows < 0 || w.Rows > w.Seats {
		return &project.Fault{Field: "rows", Found: fmt.Sprint(w.Rows), Allowed: fmt.Sprintf("1 to %d", w.Seats)}
	}
	if !slices.Contains(SystemNames(), strings.TrimSpace(w.System)) {
		return &project.Fault{Field: "system", Found: fmt.Sprintf("%q", w.System), Allowed: strings.Join(SystemNames(), ", ")}
	}
	return nil
}

// Design returns a room as wished for. It returns a *project.Fault for a wish outside
// its limits, and for more seats than the room holds.
func Design(w Wish) (*project.Design, error) {
	if err := w.validate(); err != nil {
		return nil, err
	}
	shell := layout.Shell(w.Length, w.Width, w.Height, w.Units)
	return layout.Fill(context.Background(), shell, layout.Wish{Seats: w.Seats, Rows: w.Rows, System: channelsOf(w.System)})
}
