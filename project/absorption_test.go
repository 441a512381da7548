// SPDX-License-Identifier: MIT

package project

import "testing"

// What is given stands for itself, what is not lies between thirds and octaves, and below
// the lowest nothing changes.
func TestAbsorptionInTheBassLiesBetweenOctavesAndThirds(t *testing.T) {
	octaves := [OctaveCount]float64{0.1, 0.2, 0.4, 0.5, 0.5, 0.5, 0.5, 0.5}
	at := func(all [BassThirdCount]float64, hz float64) float64 {
		for i, f := range BassThirds() {
			if f == hz {
				return all[i]
			}
		}
		t.Fatal(hz)
		return 0
	}
	plain := InBass(octaves, nil)
	own := InBass(octaves, []ThirdAbsorption{{40, 0.7}, {63, 0.3}})
	for _, c := range []struct {
		name          string
		got, from, to float64
	}{
		{"16 Hz, as 63 Hz", at(plain, 16), 0.1, 0.1},
		{"63 Hz", at(plain, 63), 0.1, 0.1},
		{"80 Hz", at(plain, 80), 0.125, 0.145},
		{"125 Hz", at(plain, 125), 0.2, 0.2},
		{"200 Hz", at(plain, 200), 0.33, 0.345},
		{"16 Hz, as the lowest given", at(own, 16), 0.7, 0.7},
		{"40 Hz, given", at(own, 40), 0.7, 0.7},
		{"50 Hz, between two given", at(own, 50), 0.49, 0.51},
		{"63 Hz, in place of the octave", at(own, 63), 0.3, 0.3},
		{"125 Hz, the octave", at(own, 125), 0.2, 0.2},
	} {
		if c.got < c.from || c.got > c.to {
			t.Errorf("%s: %.4f, want %g to %g", c.name, c.got, c.from, c.to)
		}
	}
}
