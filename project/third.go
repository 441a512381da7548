// SPDX-License-Identifier: MIT

package project

import "math"

// Thirds returns the nominal middles of the thirds of an octave from 16 Hz to 10 kHz,
// in hertz, ascending (IEC 61260-1:2014, annex E).
func Thirds() []float64 {
	return []float64{16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
		1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10_000}
}

// NearestThird returns which of Thirds lies nearest to f hertz, in octaves.
func NearestThird(f float64) float64 {
	best := Thirds()[0]
	for _, t := range Thirds() {
		if math.Abs(math.Log(f/t)) < math.Abs(math.Log(f/best)) {
			best = t
		}
	}
	return best
}
