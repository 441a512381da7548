// SPDX-License-Identifier: MIT

package layout

import (
	"fmt"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/practice"
	"earline/project/solve"
	"earline/project/system"
)

// Wish is what a room is to hold. The zero value asks for as many seats as there are,
// and the system that is there.
type Wish struct {
	Seats int // 0: as many as there are, stools at a bar not counted
	Rows  int // 0: as many as suit the room
	// System is the name of a list of channels, or the letter of a published one; ""
	// is the design's own.
	System string
	// Aspect and Width are the picture's; 0 leaves them free.
	Aspect float64
	Width  unit.Length
	Keep
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	// People widens the range of people for whom the result holds.
	solve.People
	solve.Progress
}

// Keep says what stays as it is.
type Keep struct{ Screen, Rows, Loudspeakers bool }

// KeepNames are the words for what can be kept.
func KeepNames() []string { return []string{"screen", "rows", "loudspeakers"} }

// ParseKeep reads words as KeepNames has them, with commas between.
func ParseKeep(text string) (k Keep, err error) {
	for _, w := range strings.Split(text, ",") {
		switch strings.ToLower(strings.TrimSpace(w)) {
		case "screen":
			k.Screen = true
		case "rows":
			k.Rows = true
		case "loudspeakers":
			k.Loudspeakers = true
		default:
			return Keep{}, fmt.Errorf("found %q, allowed: %s, with commas between", text, strings.Join(KeepNames(), ", "))
		}
	}
	return k, nil
}

// The limits of a wish.
const (
	maxSeats             = 100
	minAspect, maxAspect = 1.0, 4.0
	minWidth, maxWidth   = 0.2, 20.0 // m, of a picture
)

// fill sets what is left open from d, and returns what is wrong with the rest.
func (w *Wish) fill(d *project.Design) error {
	bad := func(field, found, allowed string) error {
		return &project.Fault{Field: "layout " + field, Found: found, Allowed: allowed}
	}
	if w.Keep.Rows || w.Seats == 0 {
		w.Seats, w.Rows = 0, 0
		for _, r := range d.Seating.Rows {
			if w.Keep.Rows || !atBar(d, r) {
				w.Seats += r.Seats
				w.Rows++
			}
		}
		if !w.Keep.Rows {
			w.Seats, w.Rows = max(w.Seats, 1), 0
		}
	}
	if w.Seats < 1 || w.Seats > maxSeats {
		return bad("seats", fmt.Sprint(w.Seats), fmt.Sprintf("1 to %d", maxSeats))
	}
	if w.Rows < 0 || w.Rows > w.Seats {
		return bad("rows", fmt.Sprint(w.Rows), fmt.Sprintf("1 to %d", w.Seats))
	}
	if w.Aspect != 0 && !(w.Aspect >= minAspect && w.Aspect <= maxAspect) {
		return bad("aspect", fmt.Sprint(w.Aspect), fmt.Sprintf("%g to %g", minAspect, maxAspect))
	}
	if w.Width != 0 && !(w.Width >= minWidth && w.Width <= maxWidth) {
		return bad("width", w.Width.String(), fmt.Sprintf("%g m to %g m", minWidth, maxWidth))
	}
	if _, ok := w.system(d); !ok {
		return bad("system", fmt.Sprintf("%q", w.System), strings.Join(system.Names(), ", "))
	}
	return nil
}

// usualSystem is meant where nothing says which.
const usualSystem = "7.1.4"

// system returns the list of channels that is meant.
func (w *Wish) system(d *project.Design) (system.System, bool) {
	if w.System != "" {
		return system.Named(w.System)
	}
	if s, ok := system.Of(d); ok {
		return s, true
	}
	return system.Named(usualSystem)
}
