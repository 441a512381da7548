// SPDX-License-Identifier: MIT

package lesson

import (
	"fmt"
	"reflect"
	"slices"

	"earline/project"
)

// keeps is what a room must keep while it is mended.
type keeps struct {
	seats, loudspeakers int
	start               *project.Design // nil where only the counts are known
}

func keepsOf(d *project.Design) keeps {
	return keeps{seats: seats(d), loudspeakers: len(d.Speakers), start: d}
}

func seats(d *project.Design) (n int) {
	for _, r := range d.Seating.Rows {
		n += r.Seats
	}
	return n
}

// lost says what d has no longer.
func (k keeps) lost(d *project.Design) (lines []string) {
	if n := seats(d); n < k.seats {
		lines = append(lines, fmt.Sprintf("%d seats of %d are left", n, k.seats))
	}
	if n := len(d.Speakers); n < k.loudspeakers {
		lines = append(lines, fmt.Sprintf("%d loudspeakers of %d are left", n, k.loudspeakers))
	}
	if k.start == nil {
		return lines
	}
	if labels(d) != labels(k.start) && len(d.Speakers) >= k.loudspeakers {
		lines = append(lines, "loudspeakers have other labels")
	}
	if !reflect.DeepEqual(d.Room.Footprint, k.start.Room.Footprint) || !reflect.DeepEqual(d.Room.Ceiling, k.start.Room.Ceiling) {
		lines = append(lines, "the room has another shape")
	}
	if d.Seating.Sitters != k.start.Seating.Sitters {
		lines = append(lines, "it is checked for other people")
	}
	if d.Criteria != k.start.Criteria || !reflect.DeepEqual(d.System, k.start.System) {
		lines = append(lines, "it is judged by other limits")
	}
	return lines
}

// labels returns the labels of all loudspeakers, in order, as one text.
func labels(d *project.Design) string {
	var all []string
	for _, l := range d.Speakers {
		all = append(all, l.Name())
	}
	slices.Sort(all)
	return fmt.Sprint(all)
}
