// SPDX-License-Identifier: MIT

package place

import "slices"

// Sitter is who sits in one seat, and how far back.
type Sitter struct {
	Percentile float64 // of body size of adults, above 0 and below 100
	Age        int     // of a child, one of ChildAges, years; 0 is an adult
	Recline    float64 // radians behind upright
}

// Seated returns r with another sitter in seat i, counted from 0: ears, eyes and body,
// and the chair as it reclines then. All else is as it was, the main listening position
// and where loudspeakers aim too. i must be a seat of r.
func (r *Room) Seated(i int, who Sitter) *Room {
	out := *r
	out.Seats, out.Bodies = slices.Clone(r.Seats), slices.Clone(r.Bodies)
	out.Seats[i].Recline = who.Recline
	p, child := Child(r.Design, who.Age)
	if !child {
		p = PersonAt(r.Design, who.Percentile)
	}
	out.Bodies[i] = p.In(out.Seats[i])
	out.Parts = parts(r.Design, out.Seats, r.Speakers)
	return &out
}
