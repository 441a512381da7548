// SPDX-License-Identifier: MIT

package geometry

import "math"

// quarticRoots appends the roots between lo and hi, both within [-1, 1], of the
// polynomial f[0] + f[1] x + ... + f[4] x^4: those where it changes sign, and
// those where it all but touches zero. Between the roots of its
// derivative a polynomial is monotone, so each piece holds one root or none;
// the pieces come from the quadratic up (Yuksel 2022, "High-Performance
// Polynomial Root Finding for Graphics").
func quarticRoots(xs []float64, f *[5]float64, lo, hi float64) []float64 {
	if !(lo < hi) {
		return xs
	}
	d1 := [5]float64{f[1], 2 * f[2], 3 * f[3], 4 * f[4]}
	d2 := [5]float64{2 * f[2], 6 * f[3], 12 * f[4]}

	var buf0 [2]float64
	var buf1 [3]float64
	cuts := quadratic(buf0[:0], d2[2], d2[1]/2, d2[0])
	if len(cuts) == 2 && cuts[0] > cuts[1] {
		cuts[0], cuts[1] = cuts[1], cuts[0]
	}
	cuts = monotoneRoots(buf1[:0], &d1, &d2, cuts, lo, hi)
	xs = monotoneRoots(xs, f, &d1, cuts, lo, hi)

	// Where it all but touches zero, two roots may have been lost to rounding.
	const nearly = 1e-12 // of the largest the terms can be, |x| <= 1
	size := math.Abs(f[0]) + math.Abs(f[1]) + math.Abs(f[2]) + math.Abs(f[3]) + math.Abs(f[4])
	for _, x := range cuts {
		if math.Abs(horner(f, x)) <= nearly*size {
			xs = append(xs, x)
		}
	}
	return xs
}

// monotoneRoots appends the roots of f between lo and hi, given its derivative
// d and, in order, the roots of that.
func monotoneRoots(xs []float64, f, d *[5]float64, cuts []float64, lo, hi float64) []float64 {
	a, fa := lo, horner(f, lo)
	for i := 0; i <= len(cuts); i++ {
		b := hi
		if i < len(cuts) {
			b = cuts[i]
		}
		if !(b > a) {
			continue
		}
		b = min(b, hi)
		fb := horner(f, b)
		if (fa < 0) != (fb < 0) {
			xs = append(xs, bracketedRoot(f, d, a, b, fa < 0))
		}
		if b == hi {
			break
		}
		a, fa = b, fb
	}
	return xs
}

// bracketedRoot is Newton's method kept between a and b, where f changes sign
// once, from negative if rising.
func bracketedRoot(f, d *[5]float64, a, b float64, rising bool) float64 {
	// A root that errs by e cuts a strip that errs by e^2: this is plenty.
	const tol = 1e-11
	x := (a + b) / 2
	for range 60 {
		fx := horner(f, x)
		if (fx < 0) == rising {
			a = x
		} else {
			b = x
		}
		next := x - fx/horner(d, x)
		if !(next > a && next < b) {
			next = (a + b) / 2
		}
		if math.Abs(next-x) <= tol {
			return next
		}
		x = next
	}
	return x
}

func horner(f *[5]float64, x float64) float64 {
	return f[0] + x*(f[1]+x*(f[2]+x*(f[3]+x*f[4])))
}
