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

// A single place was told as "All 1 sets of 1 places were compared".
func TestPlacesComparedAreCountedInWords(t *testing.T) {
	for _, c := range []struct {
		sets float64
		n    int
		want string
	}{
		{1, 1, "There is one set of places alone."},
		{17, 1, "All 17 places were compared: for equal subwoofers none is better."},
		{6188, 12, "All 6188 sets of 12 places were compared: for equal subwoofers none is better."},
	} {
		if got := compared(c.sets, c.n); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
