// SPDX-License-Identifier: MIT

package picture_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/picture"
)

// Pictures of 2.39:1 and 16:9 on one screen: 1.20 m high and 3.00 m wide (geometry).
func TestHeightOrWidthHeld(t *testing.T) {
	r := picture.Of(room(t, 1.2*2.39, 2.39, 1500, project.HeldHeight, 2.39, 16.0/9))
	near(t, "width of 2.39", r.Shapes[0].Picture.Width, 2.868, 1e-4)
	near(t, "width of 16:9", r.Shapes[1].Picture.Width, 2.1333, 1e-4)
	near(t, "border of 16:9", r.Shapes[1].Border.Across, (2.868-2.1333)/2, 1e-4)
	if w := strings.Join(r.MaskingWords(), ""); !strings.HasPrefix(w, "The borders at the sides move") {
		t.Error(w)
	}
	r = picture.Of(room(t, 3, 16.0/9, 1500, project.HeldWidth, 2.39, 16.0/9))
	near(t, "height of 2.39", r.Shapes[0].Picture.Height, 1.2552, 1e-4)
	near(t, "height of 16:9", r.Shapes[1].Picture.Height, 1.6875, 1e-4)
	near(t, "border of 2.39", r.Shapes[0].Border.Upright, (1.6875-1.2552)/2, 1e-4)
	if w := strings.Join(r.MaskingWords(), ""); !strings.HasPrefix(w, "The borders above and below move") {
		t.Error(w)
	}
}

// Whatever is held is held, each picture has its shape and stands about the middle of the
// screen, and where nothing is held it lies within the screen and touches two edges.
func TestEachPictureHasItsShape(t *testing.T) {
	base := room(t, 3, 2, 1500, "")
	rapid.Check(t, func(t *rapid.T) {
		d := base.Clone()
		d.Screen.Width, d.Screen.Aspect = lengthOf(rapid.Float64Range(1, 8).Draw(t, "width")), rapid.Float64Range(1, 4).Draw(t, "screen")
		a := rapid.Float64Range(1, 4).Draw(t, "aspect")
		d.Picture.Aspects = []project.Aspect{{Aspect: a}}
		d.Picture.Held = rapid.SampledFrom([]project.Held{"", project.HeldHeight, project.HeldWidth, project.HeldArea}).Draw(t, "held")
		r := picture.Of(d)
		p, s, b := r.Shapes[0].Picture, r.Screen, r.Shapes[0].Border
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-9 {
				t.Errorf("%s: %g and %g", what, x, y)
			}
		}
		same("aspect", p.Width/p.Height, a)
		same("middle", p.Middle, s.Middle)
		same("border", p.Width+2*b.Across, s.Width)
		switch d.Picture.Held {
		case project.HeldHeight:
			same("height", p.Height, s.Height)
		case project.HeldWidth:
			same("width", p.Width, s.Width)
		case project.HeldArea:
			same("area", p.Area(), s.Area())
		default:
			same("least border", min(b.Across, b.Upright), 0)
		}
	})
}
