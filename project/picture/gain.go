// SPDX-License-Identifier: MIT

package picture

import "earline/project"

// gainAt returns the gain of the screen of d seen so many degrees off its normal, in
// straight lines between the points of its curve and level beyond the last.
func gainAt(d *project.Design, degrees float64) float64 {
	at, gain := 0.0, d.Screen.Gain
	for _, g := range d.Picture.Gains {
		next := float64(g.Angle)
		if degrees <= next {
			return gain + (g.Gain-gain)*(degrees-at)/(next-at)
		}
		at, gain = next, g.Gain
	}
	return gain
}
