// SPDX-License-Identifier: MIT

package fit

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// FrameIn returns how far the frame of a flush loudspeaker reaches into a feature that is
// built against its wall or ceiling, metres; 0 where that is no more than touch, and for
// what l is let into itself. Its box cannot tell: it lies behind the face, where the
// feature is not. Doors and windows, lights and vents are judged by the box.
func FrameIn(ft project.Feature, l *place.Speaker, touch float64) float64 {
	at, out := l.At.Vec(), l.Front.W
	const clear = 3 * flushSlack // m, out of the face of what carries it
	carries := ft.Holds(at, flushSlack) && !ft.Holds(at.Add(out.Mul(clear)), flushSlack)
	if !l.Spec.Flush || opening(ft.Kind) || fitting(ft.Kind) || carries {
		return 0
	}
	before := func(deep float64) geometry.Box {
		b := l.Box
		b.Half.Z = deep / 2
		b.Center = at.Add(out.Mul(deep / 2))
		return b
	}
	// What does not meet the frame, which stands out by lip, is some way off the wall.
	// The way out of what does is along the wall, so the space before it is taken deep.
	const lip, deep = 0.005, 0.5 // m
	if ft.Overlap(before(lip)) <= touch {
		return 0
	}
	if in := ft.Overlap(before(deep)); in > touch {
		return in
	}
	return 0
}
