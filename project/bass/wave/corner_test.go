// SPDX-License-Identifier: MIT

package wave

import (
	"math"
	"testing"
)

// returned solves Laplace's equation on a lattice of cells round an edge that lies
// at the shares p and q of its cell, the four cells at it thinned to a share, with r^(2/3)
// cos(2 a/3) on the rim, and returns how much r^(-2/3) cos(2 a/3) there is in the
// answer. Method: conjugate gradients.
func returned(p, q, share float64) float64 {
	const (
		half = 30
		n    = 2*half + 1
	)
	layer := func(c int, at float64) float64 { // of air before a face
		switch {
		case c < half:
			return 1
		case c == half:
			return at
		}
		return 0
	}
	cell := func(i, j int) float64 {
		if i < 0 || j < 0 || i >= n-1 || j >= n-1 {
			return 0
		}
		f := 1 - (1-layer(i, p))*(1-layer(j, q))
		if (i == half || i == half-1) && (j == half || j == half-1) {
			f *= share
		}
		return f
	}
	var x, r, z, d, out, diagonal, along, across, grows, falls [n * n]float64
	var free, ring [n * n]bool
	for i := range n {
		for j := range n {
			k := i*n + j
			u, v := float64(i-half)-p, float64(j-half)-q
			a, far := math.Atan2(v, u), math.Hypot(u, v)+1e-12
			if a < math.Pi/4 {
				a += 2 * math.Pi
			}
			shape := math.Cos((a - math.Pi/2) * 2 / 3)
			grows[k], falls[k] = math.Pow(far, 2./3)*shape, math.Pow(far, -2./3)*shape
			free[k] = i > 0 && j > 0 && i < n-1 && j < n-1 && cell(i, j)+cell(i-1, j)+cell(i, j-1)+cell(i-1, j-1) > 0
			along[k], across[k] = (cell(i, j)+cell(i, j-1))/2, (cell(i, j)+cell(i-1, j))/2
			ring[k] = far > half/5 && far < half/2 && u < 0 && v < 0
			diagonal[k] += along[k] + across[k]
			if along[k] > 0 {
				diagonal[k+n] += along[k]
			}
			if across[k] > 0 {
				diagonal[k+1] += across[k]
			}
		}
	}
	flow := func(x *[n * n]float64) {
		clear(out[:])
		for k := range x {
			if w := along[k]; w > 0 {
				out[k] += w * (x[k] - x[k+n])
				out[k+n] -= w * (x[k] - x[k+n])
			}
			if w := across[k]; w > 0 {
				out[k] += w * (x[k] - x[k+1])
				out[k+1] -= w * (x[k] - x[k+1])
			}
		}
	}
	x = grows
	flow(&x)
	last := 0.0
	for k := range x {
		if free[k] {
			r[k] = -out[k]
			z[k] = r[k] / diagonal[k]
			d[k] = z[k]
			last += r[k] * z[k]
		}
	}
	for range 500 {
		flow(&d)
		steep := 0.0
		for k := range d {
			steep += d[k] * out[k]
		}
		if steep < 1e-18 {
			break
		}
		next := 0.0
		for k := range x {
			if free[k] {
				x[k] += last / steep * d[k]
				r[k] -= last / steep * out[k]
				z[k] = r[k] / diagonal[k]
				next += r[k] * z[k]
			}
		}
		for k := range d {
			d[k] = z[k] + next/last*d[k]
		}
		last = next
	}
	above, below := 0.0, 0.0
	for k := range x {
		if ring[k] {
			b := falls[k] - grows[k]/math.Pow(half*1.05, 4./3)
			above += (x[k] - grows[k]) * b
			below += b * b
		}
	}
	return above / below
}

// Thinned round an edge, cells send back less than a sixth of what full ones do,
// wherever the edge lies in its cell.
func TestFlowRoundAnEdgeIsRight(t *testing.T) {
	for _, p := range []float64{0.05, 0.25, 0.5, 0.75, 1} {
		for _, q := range []float64{0.05, 0.25, 0.5, 0.75, 1} {
			full, thin := returned(p, q, 1), returned(p, q, thinned(p, q))
			if math.Abs(thin) > math.Abs(full)/6 {
				t.Errorf("edge at (%v, %v): %.4f comes back, %.4f of full cells", p, q, thin, full)
			}
		}
	}
}
