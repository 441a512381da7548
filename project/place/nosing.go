// SPDX-License-Identifier: MIT

package place

import (
	"earline/geometry"
	"earline/project"
)

// Nosings returns where a strip lies under the front edge of each platform and step that
// faces the screen: just before its riser and just under its tread, within the room.
func Nosings(d *project.Design) (out [][2]geometry.Vec) {
	const (
		off   = 0.006 // m before the riser
		under = 0.03  // m
		hair  = 1e-6  // m: a face on a wall still finds the room
		least = 0.05  // m
	)
	poly := d.Room.Polygon()
	edge := func(b geometry.Box) {
		x, z := b.Center.X-b.Half.X, b.Center.Z+b.Half.Z
		if z < 2*under {
			return
		}
		for _, y := range poly.Spans(x - hair) {
			from, to := max(y[0], b.Center.Y-b.Half.Y), min(y[1], b.Center.Y+b.Half.Y)
			if to-from > least {
				out = append(out, [2]geometry.Vec{{X: x - off, Y: from, Z: z - under}, {X: x - off, Y: to, Z: z - under}})
			}
		}
	}
	for i := range d.Seating.Rows {
		if box, ok := Platform(d, i); ok {
			edge(box)
		}
		for _, fl := range Flights(d, i) {
			for _, box := range fl.Boxes {
				edge(box)
			}
		}
	}
	return out
}
