// SPDX-License-Identifier: MIT

package modal

import "math"

// What a source sends into each way of sound, and what a listener hears of it, is a
// smooth curve over frequency: only between them stand the resonances. So it is
// computed at a few Chebyshev nodes of a band and carried to the frequencies in it.

const (
	nodes = 12
	// turn is the phase, in radians, by which a wave along the longest side may turn
	// from the middle of a band to its end: with twelve nodes the error is some 2
	// J_12(turn), 4e-6 (Trefethen, Approximation Theory and Approximation Practice,
	// from memory: the Chebyshev series of exp(j a x) has the coefficients 2 J_n(a)).
	turn = 3.6
	// widest is the greatest ratio of a band's ends, two thirds of an octave: surfaces
	// may change from third octave to third octave.
	widest = 1.6
)

// band is a run of frequencies [lo, hi) and where what is smooth is computed.
type band struct {
	lo, hi int
	at     []float64 // Hz: the nodes, or the frequencies themselves where they are few
	losses []Loss    // there
	carry  []float64 // [frequency][node], nil where at are the frequencies
}

// split cuts ascending frequencies, in hertz, into bands.
func split(frequencies []float64, longest, speed float64) []band {
	var bands []band
	for lo := 0; lo < len(frequencies); {
		hi := lo + 1
		for hi < len(frequencies) && frequencies[hi] <= widest*frequencies[lo] &&
			math.Pi*(frequencies[hi]-frequencies[lo])/speed*longest <= turn {
			hi++
		}
		b := band{lo: lo, hi: hi, at: frequencies[lo:hi]}
		if hi-lo > nodes {
			b.at, b.carry = chebyshev(frequencies[lo], frequencies[hi-1], frequencies[lo:hi])
		}
		bands = append(bands, b)
		lo = hi
	}
	return bands
}

// chebyshev returns the nodes over [a, b], ascending, and, for each of the points,
// the weights that carry values at the nodes to it, [point][node] flat.
func chebyshev(a, b float64, points []float64) (at, carry []float64) {
	var x, w [nodes]float64
	at = make([]float64, nodes)
	for k := range nodes {
		s, c := math.Sincos((2*float64(k) + 1) * math.Pi / (2 * nodes))
		x[k] = -c
		w[k] = s
		if k%2 == 1 {
			w[k] = -s
		}
		at[k] = (a+b)/2 + (b-a)/2*x[k]
	}
	// Barycentric form (Berrut and Trefethen 2004, eq. 4.2 and 5.4).
	carry = make([]float64, 0, nodes*len(points))
	for _, p := range points {
		t := (2*p - a - b) / (b - a)
		row := make([]float64, nodes)
		sum := 0.0
		for k := range row {
			if t == x[k] {
				clear(row)
				row[k], sum = 1, 1
				break
			}
			row[k] = w[k] / (t - x[k])
			sum += row[k]
		}
		for k := range row {
			row[k] /= sum
		}
		carry = append(carry, row...)
	}
	return at, carry
}
