// SPDX-License-Identifier: MIT

package sight

import (
	"testing"

	"earline/geometry/unit"
	"earline/project"
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
