// SPDX-License-Identifier: MIT

package solve

import "math"

// Limits of steps in and beside seating, metres. They are what one model code
// says; the local code decides.
const (
	// maxStep is the highest step of a dwelling's stair: 196 mm, 2018
	// International Residential Code, R311.7.5.1.
	maxStep = 0.196
	// minStep is the lowest step: 102 mm, 2015 International Building Code,
	// 1011.5.2 (the stepped aisles of 1028.11.2 have the same). Lower ones trip.
	minStep = 0.102
	// headroom is the least height over a stair or platform: 2032 mm, 2018
	// International Residential Code, R311.7.2.
	headroom = 2.032
)

// stairCaution goes with every proposal of risers.
const stairCaution = "Risers and steps are checked against one model code only (IRC R311.7, IBC 1011.5): the local building code and licensed practice decide; guards, handrails and step lights are not planned here."

// steppable returns the least rise of at least rise that whole steps between lo
// and hi high can climb, and how many. A rise of 0 needs none. Between n highest
// and n+1 lowest steps there is a gap where hi < lo (n+1)/n.
func steppable(rise, lo, hi float64) (float64, int) {
	const same = 1e-9 // m
	if rise <= same || !(lo > 0) || !(hi >= lo) {
		return max(rise, 0), 0
	}
	n := math.Max(math.Ceil(rise/hi-same), 1)
	return math.Max(rise, n*lo), int(n)
}
