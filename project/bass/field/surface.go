// SPDX-License-Identifier: MIT

package field

import "math"

// Absorbing surfaces are taken as locally reacting, with a real impedance that
// does not depend on frequency: g is the admittance relative to that of air, rho
// c/Z. 0 is rigid, 1 lets sound of normal incidence pass.

// most is the admittance of the greatest absorption at random incidence, 0.951.
const most = 0.6381

// Absorption returns the share of the sound energy, arriving from all directions
// alike, that a locally reacting surface of real admittance g takes.
//
// Formula: the integral over the half-space of 4 g cos a/(g + cos a)^2 weighted by
// sin 2a, which is 8 g (1 + g/(1 + g) - 2 g ln(1 + 1/g)) (Paris 1928; Kuttruff,
// Room Acoustics, ch. 2). It is 0 for g at or below 0 and peaks at 0.951.
func Absorption(g float64) float64 {
	if !(g > 0) {
		return 0
	}
	return 8 * g * (1 + g/(1+g) - 2*g*math.Log1p(1/g))
}

// Admittance returns the admittance g of the hard surface that has the given
// absorption coefficient at random incidence, as tables of materials print it:
// the inverse of Absorption. Above 0.951, which no such surface reaches, it
// returns that of 0.951; at and below 0 it returns 0.
func Admittance(absorption float64) float64 {
	if !(absorption > 0) {
		return 0
	}
	lo, hi := 0.0, most
	for range 60 { // halves of 0.64 down to rounding
		if mid := (lo + hi) / 2; Absorption(mid) < absorption {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// AdmittanceNormal returns the admittance g of the hard surface that has the
// given absorption coefficient at normal incidence, 1 - ((1 - g)/(1 + g))^2 (plane
// wave against an impedance). Coefficients are held to 0 to 1.
func AdmittanceNormal(absorption float64) float64 {
	r := math.Sqrt(1 - min(1, max(0, absorption)))
	return (1 - r) / (1 + r)
}
