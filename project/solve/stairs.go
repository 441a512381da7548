// SPDX-License-Identifier: MIT

package solve

import (
	"math"

	"earline/project/practice"
)

// stairCaution goes with every proposal of risers.
func stairCaution(c practice.DwellingCode) string {
	by := "common practice, since no dwelling code is chosen"
	if c.Chosen() {
		by = c.Name + ", as far as it is quoted here"
	}
	return "Risers, steps and headroom are held to " + by + ": the local building code and licensed practice decide; guards, handrails and step lights are not planned here."
}

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
