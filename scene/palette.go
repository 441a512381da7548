// SPDX-License-Identifier: MIT

package scene

// How things look where the design names no finish: ink-blue carpet, walnut and warm cloth
// on the walls, bronze lines, seats of brown leather. Sitters are neutral so that the
// colours of verdicts stand out against them. What is not lit throws back 4 % of light at
// least, or it is seen as a hole. Our own taste.
var (
	carpet      = RGB{0.170, 0.205, 0.235}
	walnut      = RGB{0.390, 0.300, 0.240}
	walnutDark  = RGB{0.255, 0.200, 0.170}
	cloth       = RGB{0.560, 0.485, 0.415}
	clothDark   = RGB{0.245, 0.232, 0.235} // the screen wall: no stray light
	fabric      = RGB{0.345, 0.375, 0.395} // of panels that absorb
	plaster     = RGB{0.640, 0.600, 0.550}
	bronze      = RGB{0.680, 0.555, 0.420}
	lamp        = RGB{1.000, 0.820, 0.560}
	leather     = RGB{0.460, 0.355, 0.295}
	figureCloth = RGB{0.420, 0.470, 0.525}
	figureDark  = RGB{0.285, 0.320, 0.365}
	figureSkin  = RGB{0.720, 0.585, 0.490}
	figureHair  = RGB{0.300, 0.250, 0.225}

	// What visitors wear, quiet colours all, and are like.
	clothSlate    = RGB{0.330, 0.390, 0.465}
	clothSand     = RGB{0.610, 0.545, 0.455}
	clothCharcoal = RGB{0.275, 0.280, 0.295}
	clothWine     = RGB{0.415, 0.235, 0.245}
	clothNavy     = RGB{0.225, 0.265, 0.350}
	clothMoss     = RGB{0.370, 0.385, 0.300}
	clothCream    = RGB{0.735, 0.700, 0.630}
	clothStone    = RGB{0.500, 0.495, 0.480}
	clothTeal     = RGB{0.270, 0.395, 0.405}
	clothWhite    = RGB{0.790, 0.785, 0.765}
	trousersDenim = RGB{0.250, 0.295, 0.370}
	trousersBlack = RGB{0.235, 0.232, 0.240}
	trousersStone = RGB{0.470, 0.425, 0.360}
	shoesBrown    = RGB{0.275, 0.205, 0.165}
	shoesBlack    = RGB{0.205, 0.200, 0.205}
	skinFair      = RGB{0.790, 0.640, 0.545}
	skinLight     = RGB{0.740, 0.590, 0.490}
	skinOlive     = RGB{0.650, 0.500, 0.395}
	skinBrown     = RGB{0.500, 0.360, 0.280}
	skinDeep      = RGB{0.390, 0.275, 0.215}
	hairBlack     = RGB{0.215, 0.205, 0.205}
	hairDark      = RGB{0.270, 0.220, 0.190}
	hairBrown     = RGB{0.365, 0.280, 0.220}
	hairFair      = RGB{0.560, 0.450, 0.320}
	hairGrey      = RGB{0.510, 0.500, 0.490}

	lacquer    = RGB{0.228, 0.222, 0.222}
	baffle     = RGB{0.222, 0.222, 0.228}
	rubber     = RGB{0.210, 0.210, 0.215}
	cone       = RGB{0.330, 0.335, 0.345}
	champagne  = RGB{0.830, 0.770, 0.670}
	grille     = RGB{0.255, 0.250, 0.250}
	velvet     = RGB{0.210, 0.205, 0.210}
	glassDusk  = RGB{0.250, 0.340, 0.480}
	sectionInk = RGB{0.38, 0.35, 0.32} // floor, walls and platforms that are cut
)

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
