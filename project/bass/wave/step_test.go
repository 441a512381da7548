// SPDX-License-Identifier: MIT

package wave

import (
	"slices"
	"testing"

	"earline/geometry/geomtest"
)

// Points by fours come out as one by one, to the bit, and touch nothing else.
func TestByFourIsTheSameToTheBit(t *testing.T) {
	r := geomtest.Rand(t)
	noise := func(n int) []float32 {
		v := make([]float32, n)
		for i := range v {
			v[i] = float32(r.NormFloat64())
		}
		return v
	}
	for n := range 40 {
		var w [7]float32
		copy(w[:], noise(7))
		x, y0, y1, z0, z1, d := noise(n+1), noise(n), noise(n), noise(n), noise(n), noise(n+8)
		for _, inside := range []bool{true, false} {
			fast, slow := slices.Clone(d), slices.Clone(d)
			m := byFour(fast[:n], x, y0, y1, z0, z1, &w, inside)
			one := rim
			if inside {
				one = interior
			}
			one(slow[:m], x[1:], y0, y1, z0, z1, x[0], &w)
			if !slices.Equal(fast, slow) {
				t.Errorf("%d points, inside %v: %v, one by one %v", n, inside, fast, slow)
			}
		}
		if four := n &^ 3; four > 0 {
			own := noise(7 * four)
			fast, slow := slices.Clone(d), slices.Clone(d)
			varied4(fast[:four], x, y0, y1, z0, z1, own)
			varied(slow[:four], x, y0, y1, z0, z1, own)
			if !slices.Equal(fast, slow) {
				t.Errorf("%d points of their own weights: %v, one by one %v", four, fast, slow)
			}
		}
	}
}
