// SPDX-License-Identifier: MIT

package place

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
)

// Stature of ANSUR II (NATICK/TR-15/007): men 1648.0, 1755.0, 1870.0 mm at P5, P50, P95,
// women 1525.0, 1626.0, 1740.0. The shoe is ours.
func TestHowTallPeopleStand(t *testing.T) {
	for _, e := range []struct{ women, percentile, want float64 }{
		{0, 5, 1.648}, {0, 50, 1.755}, {0, 95, 1.870}, {1, 5, 1.525}, {1, 50, 1.626}, {1, 95, 1.740},
	} {
		d := &project.Design{}
		d.Seating.Sitters.Women = e.women
		s := PersonAt(d, e.percentile).Stand(geometry.Vec{X: 2, Y: 1, Z: 0.3})
		if got := s.Top() - 0.3 - shoe; math.Abs(got-e.want) > 1e-4 {
			t.Errorf("women %g, P%g: %.4f m, want %.4f", e.women, e.percentile, got, e.want)
		}
		if foot := s.Trunk.Center.Z - s.Trunk.Half; math.Abs(foot-0.3) > 1e-12 {
			t.Errorf("stands at %g m", foot)
		}
	}
}
