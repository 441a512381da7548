// SPDX-License-Identifier: MIT

package sight

import "math"

// lowest returns where between a and b the function f is least, to within tol,
// given that it is lower at x, where it is fx, than at both: by parabolas through
// the three lowest points where these converge, else by golden section (Brent
// 1973, "Algorithms for Minimization without Derivatives", chapter 5).
func lowest(a, x, b, fx, tol float64, f func(float64) float64) float64 {
	const golden = 0.3819660112501051
	w, v, fw, fv := x, x, fx, fx // the second lowest, and the one before
	var step, before float64
	for range 60 {
		mid := (a + b) / 2
		if math.Abs(x-mid) <= 2*tol-(b-a)/2 {
			break
		}
		parabola := false
		if math.Abs(before) > tol {
			r := (x - w) * (fx - fv)
			q := (x - v) * (fx - fw)
			p := (x-v)*q - (x-w)*r
			q = 2 * (q - r)
			if q > 0 {
				p = -p
			} else {
				q = -q
			}
			last := before
			before = step
			if math.Abs(p) < math.Abs(q*last/2) && p > q*(a-x) && p < q*(b-x) {
				parabola = true
				step = p / q
				if u := x + step; u-a < 2*tol || b-u < 2*tol {
					step = math.Copysign(tol, mid-x)
				}
			}
		}
		if !parabola {
			before = b - x
			if x >= mid {
				before = a - x
			}
			step = golden * before
		}
		u := x + step
		if math.Abs(step) < tol {
			u = x + math.Copysign(tol, step)
		}
		fu := f(u)
		if fu <= fx {
			if u < x {
				b = x
			} else {
				a = x
			}
			v, w, x, fv, fw, fx = w, x, u, fw, fx, fu
			continue
		}
		if u < x {
			a = u
		} else {
			b = u
		}
		switch {
		case fu <= fw || w == x:
			v, w, fv, fw = w, u, fw, fu
		case fu <= fv || v == x || v == w:
			v, fv = u, fu
		}
	}
	return x
}
