// SPDX-License-Identifier: MIT

package noise

import (
	"math"

	"earline/project"
)

// Levels are levels in the octaves of 31.5 Hz to 8 kHz, dB.
type Levels [project.NoiseOctaves]float64

// The NR curves, L = a + b NR: noise rating curves of ISO/R 1996:1971, as several public
// repositories tabulate the coefficients alike; the standard's text was not seen.
var (
	nrA = Levels{55.4, 35.5, 22.0, 12.0, 4.8, 0.0, -3.5, -6.1, -8.0}
	nrB = Levels{0.681, 0.790, 0.870, 0.930, 0.974, 1.000, 1.015, 1.025, 1.030}
)

// NRCurve returns the levels of the curve NR.
func NRCurve(nr float64) (l Levels) {
	for i := range l {
		l[i] = nrA[i] + nrB[i]*nr
	}
	return l
}

// NR returns the noise rating of l: the lowest curve that no octave exceeds, and the
// index of the octave that touches it.
func NR(l Levels) (nr float64, octave int) {
	nr = math.Inf(-1)
	for i := range l {
		if v := (l[i] - nrA[i]) / nrB[i]; v > nr {
			nr, octave = v, i
		}
	}
	return nr, octave
}

// The NC curves of NC 15 to NC 50 in steps of 5, in the octaves of 63 Hz to 8 kHz
// (Beranek), as the tests of the public library python-acoustics hold them
// (tests/test_criterion.py).
const (
	lowestNC, stepNC = 15, 5
)

var ncCurves = [8][project.OctaveCount]float64{
	{47, 36, 29, 22, 17, 14, 12, 11},
	{51, 40, 33, 26, 22, 19, 17, 16},
	{54, 44, 37, 31, 27, 24, 22, 21},
	{57, 48, 41, 35, 31, 29, 28, 27},
	{60, 52, 45, 40, 36, 34, 33, 32},
	{64, 56, 50, 45, 41, 39, 38, 37},
	{67, 60, 54, 49, 46, 44, 43, 42},
	{71, 64, 58, 54, 51, 49, 48, 47},
}

// NC returns the noise criterion of l by the tangent: the lowest curve that no octave
// from 63 Hz exceeds, between the curves in proportion. ok is false below NC 15 and above
// NC 50, where there are none; nc is then that end.
func NC(l Levels) (nc float64, ok bool) {
	nc = math.Inf(-1)
	last := len(ncCurves) - 1
	for o := range project.OctaveCount {
		v, k := l[o+1], 0
		if v > ncCurves[last][o] {
			return lowestNC + stepNC*float64(last), false
		}
		for k < last && v > ncCurves[k][o] {
			k++
		}
		at := float64(lowestNC)
		switch {
		case k > 0:
			at += stepNC * (float64(k-1) + (v-ncCurves[k-1][o])/(ncCurves[k][o]-ncCurves[k-1][o]))
		case v < ncCurves[0][o]:
			at-- // somewhere below
		}
		nc = max(nc, at)
	}
	return max(nc, lowestNC), nc >= lowestNC
}

// RatingOf returns about what NR a level in dB(A) of unknown spectrum is: 5 less (common
// practice, no source).
func RatingOf(dba float64) float64 { return dba - 5 }

// Sum returns the rating of sources together, as if their spectra were alike: powers add.
func Sum(ratings ...float64) float64 {
	sum := 0.0
	for _, r := range ratings {
		sum += math.Pow(10, r/10)
	}
	return 10 * math.Log10(sum)
}

// InRoom returns the level at distance r, metres, of what has level l at 1 m in the free
// field and radiates alike all round, in a room of that room constant R, m²: Lp = Lw + 10
// lg(1/(4πr²) + 4/R), direct sound and an even field (Bies, Hansen and Howard, Engineering
// Noise Control, 5th ed., 6.4). An R of 0 or less leaves out the room.
func InRoom(l, r, constant float64) float64 {
	const nearest = 0.3 // m: nearer, it is no point
	r = max(r, nearest)
	field := 0.0
	if constant > 0 {
		field = 4 / constant
	}
	return l + 10*math.Log10(1/(r*r)+4*math.Pi*field)
}

// RoomConstant returns R = A/(1 - a), m², of an absorption area A and a mean coefficient
// a (the same, eq. 6.44).
func RoomConstant(area, mean float64) float64 {
	const most = 0.99
	return area / (1 - min(mean, most))
}
