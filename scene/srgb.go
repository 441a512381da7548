// SPDX-License-Identifier: MIT

package scene

import "earline/project"

// Linear returns the red, green and blue light that a display makes of c, where 1 is that
// of its white; see project.LinearOf.
func (c RGB) Linear() [3]float32 {
	l := c.light()
	return [3]float32{float32(l[0]), float32(l[1]), float32(l[2])}
}

// Displayed returns the colour that a display shows as that light: the inverse of
// RGB.Linear. Light beyond 0 to 1 gives colours beyond.
func Displayed(light [3]float32) RGB {
	return display(project.LinearRGB{float64(light[0]), float64(light[1]), float64(light[2])})
}

// Luminance returns how bright c is beside white.
func (c RGB) Luminance() float64 { return c.light().Luminance() }

func (c RGB) light() project.LinearRGB {
	return project.LinearRGB{project.LinearOf(float64(c.R)), project.LinearOf(float64(c.G)), project.LinearOf(float64(c.B))}
}

// display returns light as a display is told it.
func display(l project.LinearRGB) RGB {
	return RGB{float32(project.EncodedOf(l[0])), float32(project.EncodedOf(l[1])), float32(project.EncodedOf(l[2]))}
}
