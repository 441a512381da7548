// SPDX-License-Identifier: MIT

package scene

import "earline/geometry"

// nosing draws the profile on the front edge of a step at x from y[0] to y[1], whose tread
// is at z: it stands a little before the riser, so that light under it is hidden from who
// sits above. It is drawn for a client alone; what is judged is the step without it.
func nosing(p pen, x float64, y [2]float64, z float64) {
	const (
		over = 0.014  // m before the riser
		high = 0.018  // m
		deep = 0.034  // m, on the tread
		lift = 0.0015 // m above it
	)
	v := func(x float64, side int, z float64) geometry.Vec { return geometry.Vec{X: x, Y: y[side], Z: z} }
	top, foot, front, back := z+lift, z-high, x-over, x+deep
	p.plain(v(front, 1, foot), v(front, 0, foot), v(front, 0, top), v(front, 1, top), bronze)
	p.plain(v(front, 0, top), v(back, 0, top), v(back, 1, top), v(front, 1, top), bronze)
	p.plain(v(front, 0, foot), v(front, 1, foot), v(x, 1, foot), v(x, 0, foot), bronze)
}
