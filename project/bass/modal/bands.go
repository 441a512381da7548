// SPDX-License-Identifier: MIT

package modal

import (
	"math"
	"sort"
)

// How the sum over modes is shortened. Over a band of frequencies, a mode whose
// own frequency lies well outside is a smooth curve, given by its values at a few
// Chebyshev nodes. So the far modes are summed at the nodes only, and that sum is
// interpolated to all frequencies of the band at once; only the modes in and
// around the band are summed at each frequency.
//
// Error. The curve is a sum of two terms 1/(x_p - x) over the band scaled to
// [-1, 1]. The error of interpolating one in the zeros of T_K is exactly its value
// times T_K(x)/T_K(x_p), so at most 1/|T_K(x_p)| of it. With the poles at
// |x_p| >= farFrom that is 1/T_12(1.95) = 3.9e-7 of the mode's own value.
const (
	nodes   = 12
	farFrom = 1.95
)

// band is a run of frequencies [lo, hi) and the run of modes [near, end) that
// are summed at each of them; all others are summed at the nodes. Without far
// modes near is 0 and end their number.
type band struct {
	lo, hi    int
	near, end int
	far       bool
}

// split splits the frequencies into the bands that need the fewest products for
// modes with the given frequencies, both ascending.
func split(frequencies, modes []float64) []band {
	const parts = 16 // cuts tried; finer ones gain nothing measurable
	n := len(frequencies)
	cuts := []int{0}
	for i := 1; i <= parts; i++ {
		if c := i * n / parts; c > cuts[len(cuts)-1] {
			cuts = append(cuts, c)
		}
	}
	best := make([]int, len(cuts)) // least cost up to each cut
	last := make([]band, len(cuts))
	for j := 1; j < len(cuts); j++ {
		best[j] = math.MaxInt
		for i := range j {
			b, cost := cheapest(frequencies, modes, cuts[i], cuts[j])
			if best[i]+cost < best[j] {
				best[j], last[j] = best[i]+cost, b
			}
		}
	}
	var bands []band
	for j := len(cuts) - 1; j > 0; {
		b := last[j]
		bands = append([]band{b}, bands...)
		j = sort.SearchInts(cuts, b.lo)
	}
	return bands
}

// cheapest returns the better way to sum over the frequencies [lo, hi) and its
// cost in products.
func cheapest(frequencies, modes []float64, lo, hi int) (band, int) {
	n := hi - lo
	whole := band{lo: lo, hi: hi, end: len(modes)}
	mid := (frequencies[lo] + frequencies[hi-1]) / 2
	reach := farFrom * (frequencies[hi-1] - frequencies[lo]) / 2
	if reach == 0 {
		return whole, n * len(modes)
	}
	// A mode at f has its poles at f and at -f: both must be far.
	b := band{lo: lo, hi: hi, far: true}
	if mid > reach {
		b.near = sort.SearchFloat64s(modes, mid-reach)
	}
	b.end = max(b.near, sort.SearchFloat64s(modes, mid+reach))
	cost := n*(b.end-b.near) + nodes*len(modes) + nodes*n
	if cost >= n*len(modes) {
		return whole, n * len(modes)
	}
	return b, cost
}

// chebyshev returns the nodes over [a, b] and, for each of the points, the
// weights that carry values at the nodes to it, [point][node] flat.
func chebyshev(a, b float64, points []float64) (at, carry []float64) {
	var x, w [nodes]float64
	at = make([]float64, nodes)
	for k := range nodes {
		s, c := math.Sincos((2*float64(k) + 1) * math.Pi / (2 * nodes))
		x[k] = c
		w[k] = s
		if k%2 == 1 {
			w[k] = -s
		}
		at[k] = (a+b)/2 + (b-a)/2*c
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
