// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// The area of an outline clipped in two is the area of the whole.
func TestClippedAreas(t *testing.T) {
	l := geometry.Polygon{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: 6}, {X: 4, Y: 6}, {X: 4, Y: 4}, {X: 0, Y: 4}}
	r := geomtest.Rand(t)
	for range 200 {
		x, y := geomtest.Between(r, -1, 9), geomtest.Between(r, -1, 7)
		sum := 0.0
		for _, lo := range []geometry.Vec2{{X: -10, Y: -10}, {X: x, Y: -10}, {X: -10, Y: y}, {X: x, Y: y}} {
			hi := geometry.Vec2{X: 20, Y: 20}
			if lo.X < -5 {
				hi.X = x
			}
			if lo.Y < -5 {
				hi.Y = y
			}
			sum += math.Abs(clipped(l, lo, hi).Area())
		}
		geomtest.Within(t, fmt.Sprintf("cut at %g, %g", x, y), sum, 40, 1e-9)
	}
}
