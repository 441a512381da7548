// SPDX-License-Identifier: MIT

package scene

import (
	"slices"

	"earline/project"
	"earline/project/place"
)

// SameSeat returns a camera c that is in a seat of d, counted from 0, as it is in the seat
// of that row and number in other, looking the same way; and which seat that is. Where c is
// in no seat, or other has none such, it returns c as it is, and None.
func SameSeat(d, other *project.Design, seat int, c Camera) (Camera, int) {
	i := sameSeat(d, other, seat)
	if i == None {
		return c, None
	}
	eye := World(place.Listener(other, place.Seats(other)[i]).Eye())
	c.At = c.At.Add(eye.Sub(c.Eye))
	c.Eye = eye
	return c, i
}

// sameSeat returns which seat of b has the row and the number of a seat of a.
func sameSeat(a, b *project.Design, seat int) int {
	all := place.Seats(a)
	if seat < 0 || seat >= len(all) {
		return None
	}
	return slices.IndexFunc(place.Seats(b), func(o place.Seat) bool { return o.Row == all[seat].Row && o.Number == all[seat].Number })
}
