// SPDX-License-Identifier: MIT

package tour

import (
	"earline/project/light"
	"earline/scene/bake"
)

// Sequence is what plays in time: a Tour or an Entrance.
type Sequence interface {
	// Length returns how long it takes, seconds.
	Length() float64
	// Show returns where one is s seconds from the start, and how the layers of a model of
	// the same room are set then.
	Show(m *light.Model, s float64) (Pose, bake.Dimmed)
	// Next returns when the next part begins, seconds from the start; the end where there
	// is none.
	Next(s float64) float64
}

var (
	_ Sequence = (*Tour)(nil)
	_ Sequence = (*Entrance)(nil)
)

// Frames returns how many pictures a sequence of that length has at so many a second. The
// first is of the start; each counts for its time.
func Frames(length float64, fps int) int {
	const hair = 1e-9 // s
	return max(int(length*float64(fps)-hair)+1, 1)
}
