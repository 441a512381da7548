// SPDX-License-Identifier: MIT

package modal

import (
	"math"
	"sort"
)

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
	// beyond is how far above the middle of a band, in halves of its width, what changes
	// with the root of k_n^2 - k^2 must begin, to be carried with an error of some (1.7 +
	// sqrt(1.7^2 - 1))^-12 = 1e-6 (Trefethen, ch. 8, from memory).
	beyond = 1.7
)

// band is a run of frequencies [lo, hi) and where what is smooth is computed.
type band struct {
	lo, hi int
	at     []float64 // Hz: the nodes, or the frequencies themselves where they are few
	losses []Loss    // there
	top    float64   // wave number, 1/m: pairs beyond it, and all they add, are smooth over the band
	carry  []float64 // [frequency][node], nil where at are the frequencies
}

// split cuts ascending frequencies, in hertz, with those losses, into bands over
// which what is taken is smooth as well: if need be they end at the middles of the
// thirds, where tables and measurements change, or are short.
func (s *Sum) split(damping Damping) error {
	longest := max(s.room.Length, s.room.Width, s.room.Height)
	f := s.frequencies
	for lo := 0; lo < len(f); {
		hi := lo + 1
		for hi < len(f) && math.Pi*(f[hi]-f[lo])/s.room.speed()*longest <= turn {
			hi++
		}
		for hi-lo > nodes {
			b, smooth, err := s.smooth(damping, lo, hi)
			if err != nil {
				return err
			}
			if smooth {
				s.bands = append(s.bands, b)
				lo = hi
				break
			}
			hi = shorter(f, lo, hi)
		}
		if lo < hi {
			s.bands = append(s.bands, band{lo: lo, hi: hi, at: f[lo:hi], losses: s.losses[lo:hi], top: math.Inf(1)})
			lo = hi
		}
	}
	return nil
}

// smooth returns a band and whether what is taken, carried from its nodes, is what
// is taken.
func (s *Sum) smooth(damping Damping, lo, hi int) (band, bool, error) {
	const near = 5e-5 // of an admittance, or of a rate in waves: some 0.01 dB
	from, to := real(s.k[lo]), real(s.k[hi-1])
	b := band{lo: lo, hi: hi, top: (from+to)/2 + beyond*(to-from)/2}
	b.at, b.carry = chebyshev(s.frequencies[lo], s.frequencies[hi-1], s.frequencies[lo:hi])
	for _, f := range b.at {
		loss := damping(f)
		if err := loss.check(f); err != nil {
			return b, false, err
		}
		b.losses = append(b.losses, loss)
	}
	for i := range hi - lo {
		var carried [7]float64
		for k := range nodes {
			for n, v := range b.losses[k].values(s.room.speed()) {
				carried[n] += b.carry[i*nodes+k] * v
			}
		}
		for n, v := range s.losses[lo+i].values(s.room.speed()) {
			if math.Abs(carried[n]-v) > near {
				return b, false, nil
			}
		}
	}
	return b, true, nil
}

// values returns the admittances, and the rate as the part of a radian by which
// sound fades in a metre.
func (l Loss) values(speed float64) [7]float64 {
	return [...]float64{l.Front, l.Back, l.Left, l.Right, l.Floor, l.Ceiling, l.Rate / speed}
}

// shorter returns where a band [lo, hi) that is not smooth should rather end: at the
// last middle of a third octave in it, or halfway.
func shorter(f []float64, lo, hi int) int {
	// Middles are 1000 Hz times powers of 10^0.1 (IEC 61260-1).
	middle := math.Pow(10, math.Ceil(10*math.Log10(f[hi-1])-1e-9)/10-0.1)
	if end := sort.SearchFloat64s(f, middle); end > lo+1 && end < hi-1 {
		return end
	}
	return (lo + hi + 1) / 2
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
