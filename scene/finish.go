// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/project"
)

// finish returns by what the colour c is multiplied so that it throws back what is said of
// a surface; 1 where nothing is said. What c throws back is weighed as in Rec. ITU-R
// BT.709, its display curve taken for a square as the renderer does.
func (s *painter) finish(c RGB, f project.Finish) float64 {
	if f.Reflectance <= 0 {
		return 1
	}
	own := 0.2126*sq(float64(c.R)) + 0.7152*sq(float64(c.G)) + 0.0722*sq(float64(c.B))
	return math.Sqrt(f.Reflectance / own)
}

// cloth returns the finish of the screen. A gain of 1 is by definition a matt face that
// throws all back.
func (s *painter) cloth() project.Finish {
	if f := s.d.Room.Finishes.Screen; f.Reflectance > 0 {
		return f
	}
	return project.Finish{Reflectance: min(s.d.Screen.Gain, 1)}
}
