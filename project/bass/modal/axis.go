// SPDX-License-Identifier: MIT

package modal

import (
	"math"
	"math/cmplx"
)

// Along one axis, between two walls of admittance g0 at 0 and g1 at L, sound at
// the wave number k obeys psi'' = -kappa^2 psi with psi'(0) = h0 psi(0) and psi'(L)
// = -h1 psi(L), h = j k g: each wall yields by its admittance. So
//
//	psi(x) = cos(kappa x) + (h0/kappa) sin(kappa x)
//	(h0 + h1) cos(kappa L) + (h0 h1 - kappa^2) sin(kappa L)/kappa = 0
//
// which is tan(kappa L) = j k (g0 + g1) kappa/(kappa^2 + k^2 g0 g1) (Morse and
// Ingard, Theoretical Acoustics, 9.4; Kuttruff, Room Acoustics, ch. 3, on walls
// that are not rigid). All is written in z = kappa^2, of which cos(kappa L) and
// sin(kappa L)/kappa are smooth functions, also about 0. As walls of real
// admittance keep no energy, psi of different roots are orthogonal without
// complex conjugate, and the norm is the integral of psi^2.

// waves are the ways in which sound can run along one axis at one frequency.
type waves struct {
	kappa []complex128 // 1/m, by index: the root that comes of index pi/L
	slope []complex128 // h0/kappa
	norm  []complex128 // integral of psi^2, m
}

// at returns psi of one index at x.
func (w *waves) at(index int, x float64) complex128 {
	if w.kappa[index] == 0 {
		return 1
	}
	s, c := sincos(w.kappa[index] * complex(x, 0))
	return c + w.slope[index]*s
}

// all sets out to psi of the first indices at x.
func (w *waves) all(x float64, out []complex128) {
	for i := range out {
		out[i] = w.at(i, x)
	}
}

// follow returns the waves along an axis of the given length at each of the wave
// numbers, with the wall admittances there, for indices below count.
//
// Each root is followed from that between rigid walls in steps that move it by a
// small part of the distance to the next root, so that none is lost and none is
// found twice: two of them meet only where the phase of h is well beyond that of
// a real admittance.
func follow(length float64, k []complex128, g [][2]float64, count int) []waves {
	const step = 0.35 // of h L: moves z L^2 by about twice that, roots are pi^2 apart or more
	all := make([]waves, len(k))
	for i := range all {
		buffer := make([]complex128, 3*count)
		all[i] = waves{buffer[:count:count], buffer[count : 2*count : 2*count], buffer[2*count:]}
	}
	h := make([][2]complex128, len(k)+1)
	for i := range k {
		h[i+1] = [2]complex128{1i * k[i] * complex(g[i][0], 0), 1i * k[i] * complex(g[i][1], 0)}
	}
	l := complex(length, 0)
	for n := range count {
		rigid := complex(math.Pow(float64(n)*math.Pi/length, 2), 0)
		z := rigid
		for i := range k {
			from, to := h[i], h[i+1]
			d := [2]complex128{to[0] - from[0], to[1] - from[1]}
			steps := math.Ceil(length * max(cmplx.Abs(d[0]), cmplx.Abs(d[1])) / step)
			for s := 1.0; s <= steps; s++ {
				part := complex(s/steps, 0)
				before := complex((s-1)/steps, 0)
				z = predict(z, l, from[0]+before*d[0], from[1]+before*d[1], d[0]/complex(steps, 0), d[1]/complex(steps, 0))
				z = refine(z, l, from[0]+part*d[0], from[1]+part*d[1])
			}
			w := &all[i]
			if z == 0 {
				w.norm[n] = l
				continue
			}
			kappa := cmplx.Sqrt(z)
			s, c := sincos(kappa * l)
			end := c + to[0]*s/kappa
			w.kappa[n], w.slope[n] = kappa, to[0]/kappa
			// The integral of psi^2 by parts, with what the walls say of psi'.
			w.norm[n] = (l*end*end*(1+to[1]*to[1]/z) + (to[1]*end*end+to[0])/z) / 2
		}
	}
	return all
}

// balance returns the left side of the equation of the roots and its slope in z.
func balance(z, l, h0, h1 complex128) (f, slope complex128) {
	c, s, ds := even(z, l)
	f = (h0+h1)*c + (h0*h1-z)*s
	return f, -(h0+h1)*l*s/2 - s + (h0*h1-z)*ds
}

// even returns cos(kappa l), sin(kappa l)/kappa and the slope of the latter in z =
// kappa^2.
func even(z, l complex128) (c, s, ds complex128) {
	u := z * l * l
	if cmplx.Abs(u) < 1e-4 { // the first terms, to 1e-13
		return 1 - u/2 + u*u/24, l * (1 - u/6 + u*u/120), -l * l * l * (1.0/6 - u/60 + u*u/1680)
	}
	kappa := cmplx.Sqrt(z)
	s, c = sincos(kappa * l)
	s /= kappa
	return c, s, (l*c - s) / (2 * z)
}

// predict moves a root as h0 and h1 move a little.
func predict(z, l, h0, h1, d0, d1 complex128) complex128 {
	c, s, _ := even(z, l)
	_, slope := balance(z, l, h0, h1)
	return z - ((d0+d1)*c+(d0*h1+h0*d1)*s)/slope
}

// refine is Newton's method.
func refine(z, l, h0, h1 complex128) complex128 {
	const (
		most  = 20
		small = 1e-13 // of z, or of 1/l^2 where z is less
	)
	for range most {
		f, slope := balance(z, l, h0, h1)
		d := f / slope
		z -= d
		if cmplx.Abs(d) <= small*max(cmplx.Abs(z), cmplx.Abs(1/(l*l))) {
			break
		}
	}
	return z
}

// sincos returns sine and cosine of a number whose imaginary part is moderate.
func sincos(z complex128) (sin, cos complex128) {
	s, c := math.Sincos(real(z))
	if imag(z) == 0 {
		return complex(s, 0), complex(c, 0)
	}
	e := math.Exp(imag(z))
	ch, sh := (e+1/e)/2, (e-1/e)/2
	return complex(s*ch, c*sh), complex(c*ch, -s*sh)
}
