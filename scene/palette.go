// SPDX-License-Identifier: MIT

package scene

import "earline/project/sight"

// The room by lamplight: ink-blue carpet, walnut and warm cloth on the walls,
// bronze lines, seats of cognac leather. Sitters are neutral so that the colours of
// verdicts stand out against them.
var (
	carpet       = RGB{0.155, 0.195, 0.225}
	carpetBorder = RGB{0.235, 0.285, 0.310}
	walnut       = RGB{0.385, 0.255, 0.180}
	walnutDark   = RGB{0.200, 0.140, 0.110}
	cloth        = RGB{0.595, 0.468, 0.365}
	clothDark    = RGB{0.165, 0.150, 0.155} // the screen wall: no stray light
	fabric       = RGB{0.330, 0.375, 0.400} // of panels that absorb
	plaster      = RGB{0.640, 0.590, 0.530}
	bronze       = RGB{0.720, 0.560, 0.370}
	lamp         = RGB{1.000, 0.820, 0.560}
	leather      = RGB{0.560, 0.345, 0.225}
	leatherDark  = RGB{0.345, 0.205, 0.140}
	piping       = RGB{0.690, 0.475, 0.330}
	figureCloth  = RGB{0.420, 0.470, 0.525}
	figureDark   = RGB{0.285, 0.320, 0.365}
	figureSkin   = RGB{0.720, 0.585, 0.490}
	figureHair   = RGB{0.300, 0.250, 0.225}
	lacquer      = RGB{0.185, 0.178, 0.180}
	baffle       = RGB{0.125, 0.125, 0.135}
	rubber       = RGB{0.075, 0.075, 0.080}
	cone         = RGB{0.330, 0.335, 0.345}
	champagne    = RGB{0.830, 0.760, 0.640}
	grille       = RGB{0.255, 0.250, 0.250}
	velvet       = RGB{0.060, 0.055, 0.062}
	glassDusk    = RGB{0.250, 0.340, 0.480}
	coverage     = RGB{0.560, 0.690, 0.780}
	accent       = RGB{0.930, 0.930, 0.900} // what is selected
	dimInk       = RGB{0.880, 0.860, 0.780} // dimension lines
	guideInk     = RGB{0.520, 0.820, 0.840}
	markFails    = RGB{1.000, 0.640, 0.340} // a rule that is not met
	clashInk     = RGB{1.000, 0.300, 0.240} // what cannot be built
	markMet      = RGB{0.560, 0.800, 0.900}
	proposedInk  = RGB{0.500, 0.900, 0.660} // what is proposed
	skyTop       = RGB{0.105, 0.105, 0.115}
	skyFoot      = RGB{0.210, 0.195, 0.185}
)

// Verdict returns the colour of v: pale gold is tight, mid blue clear, dark
// magenta blocked. They differ in lightness, so people who confuse hues can tell
// them apart, and no meaning depends on colour alone.
func Verdict(v sight.Verdict) RGB {
	switch v {
	case sight.Clear:
		return RGB{0.390, 0.705, 0.885}
	case sight.Tight:
		return RGB{1.000, 0.890, 0.480}
	case sight.Blocked:
		return RGB{0.830, 0.180, 0.380}
	}
	return RGB{0.480, 0.480, 0.500}
}

// mix returns c at t = 0 and d at t = 1.
func (c RGB) mix(d RGB, t float64) RGB {
	s := float32(t)
	return RGB{c.R + (d.R-c.R)*s, c.G + (d.G-c.G)*s, c.B + (d.B-c.B)*s}
}

// times returns c made lighter or darker by f, within what can be shown.
func (c RGB) times(f float64) RGB {
	s := float32(f)
	return RGB{min(c.R*s, 1), min(c.G*s, 1), min(c.B*s, 1)}
}

// plus returns c with f of the light d added, within what can be shown.
func (c RGB) plus(d RGB, f float64) RGB {
	s := float32(f)
	return RGB{min(c.R+d.R*s, 1), min(c.G+d.G*s, 1), min(c.B+d.B*s, 1)}
}

// step rises smoothly from 0 at a to 1 at b; a may be above b.
func step(a, b, x float64) float64 {
	if a == b {
		if x < a {
			return 0
		}
		return 1
	}
	t := min(max((x-a)/(b-a), 0), 1)
	return t * t * (3 - 2*t)
}
