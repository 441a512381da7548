// SPDX-License-Identifier: MIT

package picture

import "math"

// FootLambert is one foot-lambert in cd/m²: 1/π cd/ft², by definition.
const FootLambert = 1 / (math.Pi * 0.3048 * 0.3048)

// Luminance returns the luminance, cd/m², of a screen of that gain on which flux lumens
// fall evenly on area square metres: L = F G / (π A), the definition of gain beside a
// surface that scatters evenly.
func Luminance(flux, gain, area float64) float64 { return flux * gain / (math.Pi * area) }

// Flux is the inverse of Luminance: the lumens that luminance takes.
func Flux(luminance, gain, area float64) float64 { return luminance * math.Pi * area / gain }

// Reference is a published luminance of white at the middle of the picture.
type Reference struct {
	Name   string
	White  float64 // cd/m²
	Within float64 // either way; 0 where none is given
	Source string
}

// At returns whether l, cd/m², keeps r: -1 below, 0 within, +1 above.
func (r Reference) At(l float64) int {
	switch {
	case l < r.White-r.Within:
		return -1
	case l > r.White+r.Within:
		return 1
	}
	return 0
}

// References are the published ones, the one that a picture is held to first. Pictures of
// high dynamic range have none that all follow.
func References() []Reference {
	const cinema = "ISO 26431-1:2008 (SMPTE ST 431-1:2006), seen in a published summary"
	return []Reference{
		{"theatre", 48, 10.2, cinema},
		{"review room", 48, 3.5, cinema},
		{"home, with a new lamp", 28 * FootLambert, 0, "CEA/CEDIA-CEB23 (2012), second hand: as a trade paper reported it"},
	}
}
