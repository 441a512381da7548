// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/project"
)

// finish returns by what the colour c is multiplied so that it throws back what is said of
// a surface; 1 where nothing is said.
func (s *painter) finish(c RGB, f project.Finish) float64 {
	if f.Reflectance <= 0 {
		return 1
	}
	const (
		near   = 1e-6
		rounds = 30
		power  = 2.2 // about that of the display's curve, so that few rounds are enough
	)
	by := 1.0
	for range rounds {
		k := float32(by)
		is := RGB{c.R * k, c.G * k, c.B * k}.Luminance()
		if !(is > 0) || math.Abs(is-f.Reflectance) < near {
			break
		}
		by *= math.Pow(f.Reflectance/is, 1/power)
	}
	return by
}

// cloth returns the finish of the screen. A gain of 1 is by definition a matt face that
// throws all back.
func (s *painter) cloth() project.Finish {
	if f := s.d.Room.Finishes.Screen; f.Reflectance > 0 {
		return f
	}
	return project.Finish{Reflectance: min(s.d.Screen.Gain, 1)}
}
