// SPDX-License-Identifier: MIT

package shell

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
)

// A round column has the area of a cylinder, takes its circle off floor and ceiling
// (by a polygon 0.32 % larger), and its volume off the air.
func TestARoundColumnHasTheAreaOfACylinder(t *testing.T) {
	const r, high, room = 0.25, 2.0, 2.5
	d := box(6, 4, room)
	bareAir := Of(d).Volume()
	d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: 3, Y: 2}, Length: 2 * r, Height: high, Round: true, Material: "panel"}}
	s := Of(d)
	got := areas(s)
	geomtest.Within(t, "side and top", got["panel"], 2*math.Pi*r*high+math.Pi*r*r, 1e-9)
	geomtest.Within(t, "floor", got["floor"], 24-math.Pi*r*r, 0.0033*math.Pi*r*r)
	geomtest.Within(t, "air", bareAir-s.Volume(), math.Pi*r*r*high, 0.0033*math.Pi*r*r*high)

	// Its faces look out.
	for i := range s.Surfaces {
		if on := &s.Surfaces[i]; on.Kind == Feature {
			if on.U.Cross(on.V).Dot(on.Normal) < 0.999 && on.Normal.Z > -0.5 {
				t.Errorf("%s: U x V is not its normal %v", on.Words, on.Normal)
			}
			if from := on.Origin.Sub(geometry.V(3, 2, high/2)); from.Dot(on.Normal) <= 0 {
				t.Errorf("%s looks in", on.Words)
			}
		}
	}

	// To the ceiling its top is hidden.
	d.Room.Features[0].Height = room
	got = areas(Of(d))
	geomtest.Within(t, "side alone", got["panel"], 2*math.Pi*r*room, 1e-9)
	geomtest.Within(t, "ceiling", got["ceiling"], 24-math.Pi*r*r, 0.0033*math.Pi*r*r)
}
