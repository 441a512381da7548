// SPDX-License-Identifier: MIT

package bass

import (
	"math"

	"earline/project"
)

// spectrum is a value in each of project.BassThirds.
type spectrum [project.BassThirdCount]float64

// even returns the spectrum that is v everywhere.
func even(v float64) (s spectrum) {
	for i := range s {
		s[i] = v
	}
	return s
}

// firstThird is the first of project.BassThirds, 10 lg of its middle over 1 kHz.
const firstThird = -18

// middleOf returns the exact middle of third i, hertz (IEC 61260-1:2014, base-ten).
func middleOf(i int) float64 { return 1000 * math.Pow(10, float64(firstThird+i)/10) }

// thirdIndex returns the index of the third in which f hertz lies, or of the nearest.
func thirdIndex(f float64) int {
	i := int(math.Round(10*math.Log10(thirdOf(f)/1000))) - firstThird
	return min(max(i, 0), project.BassThirdCount-1)
}

// at returns s at f hertz, interpolated over the logarithm of frequency between the
// middles of thirds; beyond the first and the last it is theirs.
func (s spectrum) at(f float64) float64 {
	x := 10*math.Log10(f/1000) - firstThird
	i := min(max(int(math.Floor(x)), 0), len(s)-2)
	t := min(max(x-float64(i), 0), 1)
	return s[i] + t*(s[i+1]-s[i])
}
