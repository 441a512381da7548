// SPDX-License-Identifier: MIT

package sight

import (
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// A column between the picture and the screen wall was said to stand metres deep
// in the lines to the picture's lower edge, which was seen whole.
func TestColumnBehindThePictureHidesNothing(t *testing.T) {
	for _, wide := range []unit.Length{0.2, 0.4, 1.2, 2} {
		for y := unit.Length(2); y < 4; y += 0.1 {
			d := hall(1, 6, 0)
			d.Screen.Width, d.Screen.Bottom, d.Screen.Distance = 1.6, 0.6, 0.5
			d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: 0.3, Y: y}, Length: 0.2, Width: wide, Height: 3}}
			r := audit(t, d)
			for i, v := range r.Views {
				if v.Verdict == Blocked {
					t.Fatalf("%.1f m wide at %.1f m: %s", float64(wide), float64(y), r.PictureSentence(i, project.Metric))
				}
			}
		}
	}
}

// Seen: the ring on the line to a picture round a corner stood beside the corner,
// at the nearest chair.
func TestTheLineToAHiddenPictureMeetsTheCorner(t *testing.T) {
	d, err := file.Read("../../testdata/rooms/l-shaped-picture.earline")
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range audit(t, d).Views {
		wall := d.Room.Polygon().Distance(geometry.Vec2{X: v.Enter.X, Y: v.Enter.Y})
		if v.Blocker != ShellPart || wall > 1e-9 || v.Hidden.X != float64(d.Screen.Distance) {
			t.Errorf("seat %d: the line to %v meets blocker %d at %v, %.3f m from the walls", i+1, v.Hidden, v.Blocker, v.Enter, wall)
		}
	}
}
