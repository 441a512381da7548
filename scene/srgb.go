// SPDX-License-Identifier: MIT

package scene

import "math"

// Linear returns the red, green and blue light that a display makes of c, where 1 is that
// of its white (IEC 61966-2-1:1999, clause 5.2, from memory; the numbers are those that the
// web standard CSS Color 4, clause 10.2, quotes).
func (c RGB) Linear() [3]float32 { return [3]float32{decoded(c.R), decoded(c.G), decoded(c.B)} }

// Displayed returns the colour that a display shows as that light: the inverse of
// RGB.Linear. Light beyond 0 to 1 gives colours beyond.
func Displayed(light [3]float32) RGB {
	return RGB{encoded(light[0]), encoded(light[1]), encoded(light[2])}
}

// Luminance returns how bright c is beside white: 0.2126 of its red light, 0.7152 of its
// green and 0.0722 of its blue (Rec. ITU-R BT.709-6, clause 3.2, whose primaries sRGB has).
func (c RGB) Luminance() float64 {
	l := c.Linear()
	return 0.2126*float64(l[0]) + 0.7152*float64(l[1]) + 0.0722*float64(l[2])
}

func decoded(v float32) float32 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return float32(math.Pow((float64(v)+0.055)/1.055, 2.4))
}

func encoded(v float32) float32 {
	if v <= 0.0031308 {
		return v * 12.92
	}
	return float32(1.055*math.Pow(float64(v), 1/2.4) - 0.055)
}
