// SPDX-License-Identifier: MIT

package lists

import "math"

// Conductor is a cross-section that is sold.
type Conductor struct {
	Area       float64 // mm²
	Resistance float64 // ohm per kilometre of one conductor
}

// Conductors returns the finely stranded conductors (class 5) of IEC 60228, table 3:
// the most that plain copper may have at 20 °C, as read at second hand. The least
// comes first.
func Conductors() []Conductor {
	return []Conductor{{0.5, 39}, {0.75, 26}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.3}}
}

// copper is the resistivity of annealed copper at 20 °C, ohm mm²/m: IEC 60028 (1925),
// from memory.
const copper = 1 / 58.0

// ResistanceOf returns the resistance of a conductor of that cross-section in mm², ohm
// per kilometre: that of Conductors, or, between them, of copper with the 3 % by which
// those lie above it.
func ResistanceOf(area float64) float64 {
	for _, c := range Conductors() {
		if c.Area == area {
			return c.Resistance
		}
	}
	return 1.03 * 1000 * copper / area
}

// Gauge returns the diameter in mm and the cross-section in mm² of an American wire
// gauge, by ASTM B258: 0.127 mm x 92^((36-n)/39).
func Gauge(n int) (diameter, area float64) {
	d := 0.127 * math.Pow(92, float64(36-n)/39)
	return d, math.Pi / 4 * d * d
}

// Loss returns what a load loses by a cable of that length one way, dB, 0 or less; r is
// the resistance of a conductor in ohm per kilometre. The load is taken as a resistance:
// 20 lg(Z / (Z + 2 L r)), a voltage divider.
func Loss(length, r, load float64) float64 {
	return 20 * math.Log10(load/(load+2*length*r/1000))
}

// LongestRun returns how long a cable may be, one way, for a loss of no more than loss
// dB, given above 0.
func LongestRun(loss, r, load float64) float64 {
	return load * (math.Pow(10, loss/20) - 1) / (2 * r / 1000)
}

// MostLoss is what is taken as little enough to lose on a loudspeaker cable, dB. Common
// practice, no source.
const MostLoss = 0.5

// chosen returns the least usual conductor of 1.5 mm² or more that loses no more than
// MostLoss, the largest when none does.
func chosen(length, load float64) Conductor {
	all := Conductors()
	for _, c := range all {
		if c.Area >= 1.5 && -Loss(length, c.Resistance, load) <= MostLoss {
			return c
		}
	}
	return all[len(all)-1]
}
