// SPDX-License-Identifier: MIT

package bass

import (
	"math"
	"testing"

	"earline/geometry"
)

// A subwoofer that seeking put 0.3 m from the left wall, its front 0.46 m from the screen
// wall, stood with its back 60 mm in the left wall.
func TestASubwooferSoughtNearACornerStandsClearOfTheWalls(t *testing.T) {
	room := geometry.Polygon{{X: 0, Y: 0}, {X: 4.2, Y: 0}, {X: 4.2, Y: 3.8}, {X: 0, Y: 3.8}}
	for _, c := range []struct {
		x, y, azimuth float64
	}{
		{0.46, 0.3, 180}, // 0.3 m are too little behind a box 0.36 m deep
		{0.46, 0.4, -90},
		{0.46, 3.5, 180},
		{0.2, 0.1, -90}, // before no wall: what cannot be built is told of the place
	} {
		got := inward(room, geometry.V(c.x, c.y, 0.2), 0.36)
		if math.Abs(math.Remainder(float64(got.Azimuth)-c.azimuth, 360)) > 1e-9 {
			t.Errorf("at %v, %v: azimuth %v, want %v", c.x, c.y, got.Azimuth, c.azimuth)
		}
	}
}
