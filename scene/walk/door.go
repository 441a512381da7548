// SPDX-License-Identifier: MIT

package walk

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Ajar returns the door, a feature of the design, that stands open before who stands on
// foot and looks along az, as of geometry.Direction, and by what share, from 0 to 1: the
// more, the nearer they are and the straighter they look at it. It is wholly open before
// they come to where its leaf turns. door is -1 where none is.
func (g *Ground) Ajar(foot geometry.Vec, az float64) (door int, share float64) {
	const (
		begins = 0.9              // m, before it is wholly open
		closed = 75 * unit.Degree // beside the middle of the door one does not mean it
		meant  = 45 * unit.Degree
	)
	door = -1
	for i, f := range g.room.Design.Room.Features {
		if f.Kind != project.Door {
			continue
		}
		box := f.Box()
		wide := 2 * max(box.Half.X, box.Half.Y)
		to := box.Center.Sub(foot)
		far := math.Hypot(to.X, to.Y)
		aside := math.Abs(math.Remainder(math.Atan2(-to.Y, -to.X)-az, 2*math.Pi))
		near := (wide + body + begins - far) / begins
		looks := (closed - aside) / (closed - meant)
		if s := min(near, looks, 1); s > share && math.Abs(foot.Z-float64(f.At.Z)) <= climb {
			door, share = i, s
		}
	}
	return door, share
}
