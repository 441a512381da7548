// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"earline/geometry"
)

// Overlap against figures worked by hand, and the law that it does not care
// which box comes first.
func TestOverlap(t *testing.T) {
	cube := func(x, y, z, turn float64) geometry.Box {
		return geometry.Box{Center: geometry.V(x, y, z), Basis: geometry.YawBasis(turn), Half: geometry.V(0.5, 0.5, 0.5)}
	}
	for _, c := range []struct {
		name string
		a, b geometry.Box
		want float64
	}{
		{"apart", cube(0, 0, 0, 0), cube(1.2, 0, 0, 0), 0},
		{"touching", cube(0, 0, 0, 0), cube(1, 0, 0, 0), 0},
		{"face into face", cube(0, 0, 0, 0), cube(0.9, 0.3, 0, 0), 0.1},
		// An edge of the turned cube stands half a diagonal, 0.7071, before its middle.
		{"edge into face", cube(0, 0, 0, 0), cube(1.1, 0, 0, math.Pi/4), math.Sqrt2/2 - 0.6},
		{"the same", cube(0, 0, 0, 0), cube(0, 0, 0, 0), 1},
	} {
		for _, got := range []float64{geometry.Overlap(c.a, c.b), geometry.Overlap(c.b, c.a)} {
			if math.Abs(got-c.want) > 1e-12 { // rounding
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
}
