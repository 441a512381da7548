// SPDX-License-Identifier: MIT

package picture_test

import (
	"math"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/picture"
)

// Two shapes on one screen, worked by hand: at a constant height of 1.20 m they are
// 2.868 m and 2.1333 m wide, at a constant width of 3.00 m 1.2552 m and 1.6875 m high, and
// at a constant area A their width is √(A a).
func TestShapesOfConstantHeightWidthAndArea(t *testing.T) {
	d := file.New()
	d.Screen.Aspect, d.Screen.Width = 2.39, 1.20*2.39
	d.Picture.Aspects = []project.Aspect{{Aspect: 2.39}, {Aspect: 16.0 / 9}}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4 {
			t.Errorf("%s: %.5f m, want %.4f", what, got, want)
		}
	}
	k := picture.Of(d).Kepts()
	near("2.39 at 1.20 m", k[0].Pictures[0].Width, 2.868)
	near("16:9 at 1.20 m", k[0].Pictures[1].Width, 2.1333)
	near("its border at each side", k[0].Borders[1].Across, (2.868-2.1333)/2)
	a := 2.868 * 1.2
	near("16:9 at the same area", k[2].Pictures[1].Width, math.Sqrt(a*16/9))
	near("and high", k[2].Pictures[1].Height, math.Sqrt(a*9/16))
	near("as large as it holds", k[3].Pictures[1].Width, 2.1333)
	near("which fills", k[3].Filled[1], 2.1333/2.868)
	d.Screen.Width = 3
	k = picture.Of(d).Kepts()
	near("2.39 at 3.00 m", k[1].Pictures[0].Height, 1.2552)
	near("16:9 at 3.00 m", k[1].Pictures[1].Height, 1.6875)
	near("which is larger than the screen", k[1].Borders[1].Upright, (1.2552-1.6875)/2)
}

// A mask that leaves a border where it is falls short; one that moves all that moves does not.
func TestAMaskThatDoesNotMoveWhatMovesFallsShort(t *testing.T) {
	d, _ := file.Demo("large")
	for masking, short := range map[project.Masking]bool{"": false, project.MaskNone: false, project.MaskSides: false, project.MaskAll: false, project.MaskTopBottom: true} {
		d.Picture.Masking = masking
		text := strings.Join(picture.Of(d).Short(), " ")
		if strings.Contains(text, "but the masking moves those above and below alone") != short {
			t.Errorf("%q: %s", masking, text)
		}
	}
}

// Fronts behind the cloth at the edges of a wide picture stand behind the mask of a narrow one.
func TestTheMaskBeforeALoudspeakerIsTold(t *testing.T) {
	d, _ := file.Demo("large")
	d.Picture.Masking = project.MaskSides
	if text := strings.Join(picture.Of(d).MaskingWords(), " "); !strings.Contains(text, "In Flat 1.85:1, Television 1.78:1 the mask hangs before M+030, M-030") {
		t.Errorf("%s", text)
	}
}

// A picture larger than the screen is told with the shape that just fits.
func TestAPictureLargerThanTheScreenNamesTheShapeThatFits(t *testing.T) {
	d := file.New()
	d.Picture = project.Picture{Held: project.HeldHeight, Aspects: []project.Aspect{{Aspect: 2.39}}}
	d.Screen.Aspect = 1.78
	if text := strings.Join(picture.Of(d).Short(), " "); !strings.Contains(text, "1.78:1 just fits") {
		t.Error(text)
	}
}
