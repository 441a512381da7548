// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/geomtest"
)

func TestFrameIsRightHanded(t *testing.T) {
	x, y, z := geometry.V(1, 0, 0), geometry.V(0, 1, 0), geometry.V(0, 0, 1)
	if got := x.Cross(y); got != z {
		t.Errorf("x cross y = %v, want %v", got, z)
	}
	b := geometry.YawBasis(0.3)
	geomtest.WithinVec(t, "u cross v", b.U.Cross(b.V), b.W, 1e-15)
}

// A listener faces the screen, towards -x; y runs to the right.
func TestDirectionsAsHeard(t *testing.T) {
	if d := geometry.Direction(math.Pi/6, 0); !(d.Y < 0 && d.X < 0) {
		t.Errorf("azimuth +30 degrees points to %v, want ahead (x < 0) and left (y < 0)", d)
	}
	geomtest.WithinVec(t, "ahead", geometry.Direction(0, 0), geometry.V(-1, 0, 0), 1e-15)
	geomtest.WithinVec(t, "up", geometry.Direction(0, math.Pi/2), geometry.V(0, 0, 1), 1e-15)
	geomtest.WithinVec(t, "left", geometry.Direction(math.Pi/2, 0), geometry.V(0, -1, 0), 1e-15)
}

func TestAzElRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		az := rapid.Float64Range(-math.Pi+1e-9, math.Pi).Draw(t, "az")
		el := rapid.Float64Range(-1.57, 1.57).Draw(t, "el")
		k := rapid.Float64Range(1e-3, 1e3).Draw(t, "length")
		a, e, ok := geometry.AzEl(geometry.Direction(az, el).Mul(k))
		// Near the poles the azimuth is worth less: compare along the parallel.
		if !ok || math.Abs(a-az)*math.Cos(el) > 1e-12 || math.Abs(e-el) > 1e-12 {
			t.Fatalf("(%g, %g) came back as (%g, %g), %v", az, el, a, e, ok)
		}
	})
	if _, _, ok := geometry.AzEl(geometry.Vec{}); ok {
		t.Error("the zero vector has a direction")
	}
}
