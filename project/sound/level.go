// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"time"

	"earline/project"
)

// PerWatt returns m's sensitivity for 1 W into its nominal impedance, dB SPL at
// 1 m (characteristic sensitivity, IEC 60268-5, 20.3), from that for 2.83 V: a
// model of 4 ohm takes 2 W from 2.83 V.
func PerWatt(m project.Model) float64 {
	return m.Sensitivity - 10*math.Log10(project.Volts*project.Volts/m.Load())
}

// LevelAtOneMetre returns the level of m on its axis in a free field, dB SPL at
// 1 m, for power watts into its nominal impedance.
func LevelAtOneMetre(m project.Model, power float64) float64 {
	return PerWatt(m) + 10*math.Log10(power)
}

// PowerFor returns the power, watts into its nominal impedance, with which m
// produces level, dB SPL, where the gain from 1 m on the axis is gain dB (negative:
// distance, air, off axis).
func PowerFor(m project.Model, level, gain float64) float64 {
	return math.Pow(10, (level-gain-PerWatt(m))/10)
}

// Spreading returns the level at distance r against that at 1 m, dB: -20 lg r, the
// inverse square law. An r below 0.1 m counts as 0.1 m: nearer a loudspeaker is no
// longer a point.
func Spreading(r float64) float64 { return -20 * math.Log10(max(r, 0.1)) }

// EnergySum returns the level of sources that do not agree in phase, dB:
// 10 lg of the sum of 10^(L/10); minus infinity for none.
func EnergySum(levels ...float64) float64 {
	sum := 0.0
	for _, l := range levels {
		sum += math.Pow(10, l/10)
	}
	return 10 * math.Log10(sum)
}

// DoseTime returns how long a day at level, dB(A), reaches the recommended limit
// of noise exposure of NIOSH (criteria document 98-126, 1998): 8 h at 85 dB(A),
// half for each 3 dB more. It is an occupational limit for adults, not a safe
// level for pleasure or for children.
func DoseTime(level float64) time.Duration {
	hours := 8 * math.Pow(2, (85-level)/3)
	const most = 1e6 // h: a duration holds 2.5 million
	return time.Duration(min(hours, most) * float64(time.Hour))
}

// rolloff returns the loss of a tone of frequency f at the low end of m, dB: a
// Butterworth high pass, 3 dB down at the cut-off, of order 2 for a sealed box and
// 4 for a ported one. 0 when the cut-off is not known.
func rolloff(m project.Model, f float64) float64 {
	if !(m.Cutoff > 0) {
		return 0
	}
	order := 2.0
	if m.Enclosure == project.Ported {
		order = 4
	}
	return -10 * math.Log10(1+math.Pow(m.Cutoff/f, 2*order))
}

// plays returns the octaves in which m plays: a subwoofer in those of 63 and
// 125 Hz, the others in those that reach above their cut-off.
func plays(m project.Model) [project.OctaveCount]bool {
	var out [project.OctaveCount]bool
	for o, f := range Midbands() {
		if m.Subwoofer() {
			out[o] = o < 2
		} else {
			out[o] = f*math.Sqrt2 > m.Cutoff
		}
	}
	return out
}

// overall returns the octaves whose energy mean is the overall level of m: those
// of 500 Hz to 2 kHz, in which levels are set (common practice, no source), or
// that of 63 Hz for a subwoofer.
func overall(m project.Model) (first, last int) {
	if m.Subwoofer() {
		return 0, 0
	}
	return kilohertz - 1, kilohertz + 1
}

// meanLevel returns the energy mean of octaves first to last.
func meanLevel(l *[project.OctaveCount]float64, first, last int) float64 {
	sum := 0.0
	for o := first; o <= last; o++ {
		sum += energy(l[o])
	}
	return 10 * math.Log10(sum/float64(last-first+1))
}

// energy returns 10^(l/10).
func energy(l float64) float64 { return math.Exp(l * (math.Ln10 / 10)) }
