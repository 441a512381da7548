// SPDX-License-Identifier: MIT

package theme

import (
	"image/color"

	"earline/project/sight"
	"earline/scene"
)

// Verdict returns how a verdict is shown: the colour of its plate, the ink that
// reads on it and its letter. The colours are the picture's (scene.Verdict),
// clear ones subdued so that what falls short stands out.
func Verdict(v sight.Verdict) (plate, ink color.NRGBA, letter string) {
	c := scene.Verdict(v)
	shade := func(k float32) color.NRGBA {
		return color.NRGBA{uint8(c.R * k * 255), uint8(c.G * k * 255), uint8(c.B * k * 255), 0xff}
	}
	switch v {
	case sight.Clear:
		return shade(0.42), color.NRGBA{0xdc, 0xea, 0xf4, 0xff}, "C"
	case sight.Tight:
		return shade(0.95), color.NRGBA{0x20, 0x19, 0x04, 0xff}, "T"
	case sight.Blocked:
		return shade(0.85), color.NRGBA{0xff, 0xff, 0xff, 0xff}, "B"
	}
	return color.NRGBA{0x2a, 0x31, 0x3a, 0xff}, Faint, "–"
}
