// SPDX-License-Identifier: MIT

package modal

import (
	"math"

	"earline/geometry"
)

// How a sum that is cut off at some mode is completed. Modes far above the
// frequency still matter, and a sharp cut leaves an error that decreases slowly
// (0.4 dB in a dip with 40,000 modes). Ewald's method (Ann. Phys. 369 (1921) 253),
// here for the modes and image sources of a box, with k = (w - j d)/c:
//
//	1/(kn^2 - k^2) = integral over t from 0 of exp(-t (kn^2 - k^2))
//
// The part from s^2 on is exp(-s^2 (kn^2 - k^2))/(kn^2 - k^2): the modes, now
// dying away fast, as if the source were a soft ball of radius s. The part below
// s^2 is summed over image sources, of which only those within some 6 s of the
// listener count: (2/sqrt(pi)) integral over u from 1/(2s) of exp(-(r u)^2 +
// (k/(2u))^2), expanded in powers of (k s)^2. Together they are the whole sum,
// to some 1e-5 of the free field at 1 m when modes reach to 2.5 times the
// highest frequency.
//
// d is that of each mode in the first part and their mean in the second, where
// paths are too short for it to matter.

const (
	// sharp is k_top s: modes at the cut count exp(-3.4^2) = 1e-5.
	sharp = 3.4
	// widest is the greatest k s at the highest frequency: beyond it the two parts
	// grow large and cancel. It limits s when the modes reach to less than 1.7 times
	// the highest frequency; the error of the cut then shows again.
	widest = 2.0
	// imageCutoff is the r/(2s) beyond which an image source no longer counts:
	// erfc(3.3) = 3e-6.
	imageCutoff = 3.3
	// ball is the least distance from a source, in metres: sources have a size.
	ball = 0.05
	// mostPowers of (k s)^2 ever needed: 4^24/24! = 5e-10.
	mostPowers = 24
)

// radius returns s, in metres, for modes up to upTo and frequencies up to top.
func radius(upTo, top, speed float64) float64 {
	return min(sharp/upTo, widest/top) * speed / (2 * math.Pi)
}

// powers returns how many powers of (k s)^2 are needed where it reaches most.
func powers(most float64) int {
	const small = 1e-8
	term := 1.0
	for m := 1; m < mostPowers; m++ {
		if term *= most / float64(m); term < small {
			return m + 1
		}
	}
	return mostPowers
}

// nearby adds to out the contribution of the image sources near the listener, as
// coefficients of the powers of (k s)^2, and reports whether there are any.
func (s *Sum) nearby(source, ear geometry.Vec, out []float64) bool {
	clear(out)
	a := 1 / (2 * s.smoothingRadius)
	reach := imageCutoff / a
	found := false
	xs := offsets(source.X, ear.X, s.room.Length, reach)
	ys := offsets(source.Y, ear.Y, s.room.Width, reach)
	zs := offsets(source.Z, ear.Z, s.room.Height, reach)
	for _, x := range xs {
		for _, y := range ys {
			for _, z := range zs {
				r2 := x*x + y*y + z*z
				if r2 > reach*reach {
					continue
				}
				found = true
				rho := a * max(math.Sqrt(r2), ball)
				// J_m = integral over u from 1 of u^-2m exp(-(rho u)^2), by parts from
				// J_0; it loses digits where rho is large, but is small there.
				e := math.Exp(-rho * rho)
				j := math.Sqrt(math.Pi) / 2 * math.Erfc(rho) / rho
				scale := 2 * a / math.Sqrt(math.Pi)
				for m := range out {
					out[m] += scale * j
					j = (e - 2*rho*rho*j) / (2*float64(m) + 1)
					scale /= float64(m) + 1
				}
			}
		}
	}
	return found
}

// offsets returns the distances along one axis from the listener to the source
// and its images between two walls, of those within reach.
func offsets(source, ear, length, reach float64) []float64 {
	var all []float64
	for n := -math.Ceil(reach / (2 * length)); n <= math.Ceil(reach/(2*length)); n++ {
		for _, d := range [...]float64{2*n*length + source - ear, 2*n*length - source - ear} {
			if math.Abs(d) <= reach {
				all = append(all, d)
			}
		}
	}
	return all
}
