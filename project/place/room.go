// SPDX-License-Identifier: MIT

package place

import (
	"earline/geometry"
	"earline/project"
)

// Room is a design with everything in its place, worked out once for all who
// ask. Everything is in the order of the design: seats row by row from the front
// and from the left, loudspeakers as listed. It is not changed after.
type Room struct {
	Design   *project.Design
	Main     geometry.Vec // the main listening position
	Seats    []Seat
	Bodies   []Body // the listener in each seat
	Speakers []Speaker
	Parts    []Part // what can stand in the way of sight; see Parts
	Floor    Floor
}

// Of returns d with everything in its place. It keeps d, which must not change
// after.
func Of(d *project.Design) *Room {
	r := &Room{Design: d, Main: MainPoint(d), Seats: Seats(d), Floor: FloorOf(d)}
	r.Speakers = speakers(d, r.Main)
	r.Parts = parts(d, r.Seats, r.Speakers)
	listener := PersonAt(d, d.Seating.Sitters.Listener)
	r.Bodies = make([]Body, len(r.Seats))
	for i, s := range r.Seats {
		r.Bodies[i] = listener.In(s)
	}
	return r
}
