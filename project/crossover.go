// SPDX-License-Identifier: MIT

package project

// CrossoverSlope names the filters of a crossover by order and family, one word for one thing:
// each order falls by 6 dB an octave.
type CrossoverSlope string

// The slopes that processors offer; "" is LinkwitzRiley4.
const (
	Butterworth1   CrossoverSlope = "first-order Butterworth"
	Butterworth2   CrossoverSlope = "second-order Butterworth"
	Butterworth3   CrossoverSlope = "third-order Butterworth"
	Butterworth4   CrossoverSlope = "fourth-order Butterworth"
	LinkwitzRiley2 CrossoverSlope = "second-order Linkwitz-Riley"
	LinkwitzRiley4 CrossoverSlope = "fourth-order Linkwitz-Riley"
	LinkwitzRiley8 CrossoverSlope = "eighth-order Linkwitz-Riley"
	// SealedMains is a second-order Butterworth high-pass and a fourth-order
	// Linkwitz-Riley low-pass. It takes sealed mains as half of the filter: their own
	// fall of second order, at the crossover, completes the high-pass to the
	// Linkwitz-Riley one (common practice, no source).
	SealedMains CrossoverSlope = "second order above, fourth order below"
)

// CrossoverSlopes returns all slopes, the usual one first.
func CrossoverSlopes() []CrossoverSlope {
	return []CrossoverSlope{LinkwitzRiley4, LinkwitzRiley2, LinkwitzRiley8, Butterworth1, Butterworth2, Butterworth3, Butterworth4, SealedMains}
}

// CrossoverOf returns below what frequency, in hertz, the subwoofers play for l.
func (p Playback) CrossoverOf(l Loudspeaker) float64 {
	if l.Tuning.Crossover > 0 {
		return l.Tuning.Crossover
	}
	return p.OrUsual().Crossover
}

// CrossesOver reports whether d says more of its crossovers than one frequency.
func (d *Design) CrossesOver() bool {
	for i := range d.Speakers {
		if d.Speakers[i].Tuning.Crossover != 0 {
			return true
		}
	}
	return d.Playback.Slope != ""
}
