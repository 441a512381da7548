// SPDX-License-Identifier: MIT

package bass

import "math"

// ln returns the natural logarithm of x, which must be positive, finite and
// normal, within 1e-10 of it: half the time of a trial is logarithms, and
// math.Log takes three times as long for digits that no level needs.
//
// x = m 2^e with m from sqrt(1/2) to sqrt(2); ln m = 2 artanh(s), s = (m - 1)/(m +
// 1), as its series up to s^11: the next term is 2 s^13/13, at most 1.7e-11.
func ln(x float64) float64 {
	const (
		half = 0x3fe6a09e667f3bcd // bits of sqrt(1/2)
		frac = 1<<52 - 1
	)
	b := math.Float64bits(x) - half
	e := int64(b) >> 52
	m := math.Float64frombits(b&frac + half)
	s := (m - 1) / (m + 1)
	t := s * s
	return float64(e)*math.Ln2 + 2*s*(1+t*(1.0/3+t*(1.0/5+t*(1.0/7+t*(1.0/9+t*(1.0/11))))))
}
