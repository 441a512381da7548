// SPDX-License-Identifier: MIT

package project

import (
	"cmp"
	"math"
	"slices"
)

// BassThirdCount is the number of BassThirds.
const BassThirdCount = 12

// BassThirds returns the nominal middles, in hertz, of the thirds of an octave for which
// a material may say what it absorbs there: those that subwoofers play.
func BassThirds() [BassThirdCount]float64 { return [BassThirdCount]float64(Thirds()) }

// ThirdAbsorption is an absorption coefficient in one third of an octave.
type ThirdAbsorption struct {
	Hz         float64 `json:"hz"`         // one of BassThirds
	Absorption float64 `json:"absorption"` // 0 to 1
}

// InBass returns what a surface absorbs in each of BassThirds, by its absorption in
// Octaves and the thirds that are given, ascending. A third that is given stands for
// itself, in place of the octave of the same middle; between thirds and octaves it is
// interpolated over the logarithm of frequency, and below the lowest of them it stays
// the same.
func InBass(octaves [OctaveCount]float64, given []ThirdAbsorption) (out [BassThirdCount]float64) {
	points := slices.Clone(given)
	for o, f := range Octaves() {
		if !slices.ContainsFunc(given, func(t ThirdAbsorption) bool { return t.Hz == f }) {
			points = append(points, ThirdAbsorption{f, octaves[o]})
		}
	}
	slices.SortFunc(points, func(a, b ThirdAbsorption) int { return cmp.Compare(a.Hz, b.Hz) })
	for k, f := range BassThirds() {
		i, _ := slices.BinarySearchFunc(points, f, func(p ThirdAbsorption, f float64) int { return cmp.Compare(p.Hz, f) })
		if i == 0 || points[i].Hz == f { // the highest third lies under the highest octave
			out[k] = points[i].Absorption
			continue
		}
		a, b := points[i-1], points[i]
		t := math.Log(f/a.Hz) / math.Log(b.Hz/a.Hz)
		out[k] = a.Absorption + t*(b.Absorption-a.Absorption)
	}
	return out
}
