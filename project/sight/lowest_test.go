// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"testing"
)

func TestLowest(t *testing.T) {
	const tol = 1e-5
	for name, c := range map[string]struct {
		a, x, b, want float64
		f             func(float64) float64
	}{
		"a parabola":     {0, 0.5, 1, 0.3, func(x float64) float64 { return (x - 0.3) * (x - 0.3) }},
		"a notch":        {0, 0.25, 1, 0.2, func(x float64) float64 { return math.Abs(x - 0.2) }},
		"a steep notch":  {0, 0.5, 1, 0.61, func(x float64) float64 { return max(0.1*(0.61-x), 7*(x-0.61)) }},
		"at the end":     {0, 0.9, 1, 1, func(x float64) float64 { return -x }},
		"a cosine's dip": {0, 0.5, 1, 0.5, func(x float64) float64 { return math.Cos(2 * math.Pi * x) }},
	} {
		calls := 0
		got := lowest(c.a, c.x, c.b, c.f(c.x), tol, func(x float64) float64 { calls++; return c.f(x) })
		if math.Abs(got-c.want) > 4*tol {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		if calls > 60 {
			t.Errorf("%s: looked %d times", name, calls)
		}
	}
}
