// SPDX-License-Identifier: MIT

package picture_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/picture"
)

// lengthOf is v metres.
func lengthOf(v float64) unit.Length { return unit.Length(v) }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6f, want %.6f", what, got, want)
	}
}

// room returns the starter room with a screen of that width and aspect, a projector of so
// many lumens at the screen on an imager of 3840 x 2160, and those shapes.
func room(t testing.TB, width, aspect, light float64, held project.Held, shapes ...float64) *project.Design {
	d, err := file.Decode(assets.Start(), "start")
	if err != nil {
		t.Fatal(err)
	}
	d.Screen.Width, d.Screen.Aspect, d.Screen.Gain, d.Screen.Bottom, d.Screen.Distance = lengthOf(width), aspect, 1, 0.95, 0.55
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Name: "Projector", Light: light, Calibrated: 1, Aged: 0.8, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1.3, ThrowMax: 2.8, ShiftUp: 0.6, ShiftRight: 0.25, ShiftShape: project.ShiftEllipse, Width: 0.5, Height: 0.2, Depth: 0.5}}
	d.Projector = project.Projector{Model: "p", At: project.Point{X: 5.9, Y: d.Screen.Centre, Z: 2.4}, Mount: project.CeilingMount, Fill: project.Zoom}
	d.Picture = project.Picture{Held: held}
	for _, a := range shapes {
		d.Picture.Aspects = append(d.Picture.Aspects, project.Aspect{Aspect: a})
	}
	return d
}

// Luminance and light needed: closed form, from the definition of gain.
func TestLightOnAScreen(t *testing.T) {
	near(t, "a foot-lambert", picture.FootLambert, 3.4262591, 1e-7)
	for _, e := range []struct{ flux, gain, width, aspect, want, fl float64 }{
		{1000, 1, 1.8288, 16.0 / 9, 169.198, 49.383},
		{1500, 1, 3, 16.0 / 9, 94.314, 27.527},
		{2000, 1.2, 3, 2.39, 202.870, 59.210},
		{3000, 0.9, 4, 2.39, 128.378, 37.469},
		{40000, 1, 23, 2.35, 56.562, 16.508},
	} {
		l := picture.Luminance(e.flux, e.gain, e.width*e.width/e.aspect)
		near(t, "luminance", l, e.want, 0.001)
		near(t, "in foot-lamberts", l/picture.FootLambert, e.fl, 0.001)
	}
	for _, e := range []struct{ l, gain, width, aspect, want float64 }{
		{48, 1, 3, 16.0 / 9, 763.41},
		{48, 1.1, 3.5, 16.0 / 9, 944.62},
		{48, 1, 3, 2.39, 567.85},
		{100, 1, 3, 16.0 / 9, 1590.43},
		{54.82, 1, 2.5, 16.0 / 9, 605.47},
	} {
		near(t, "light needed", picture.Flux(e.l, e.gain, e.width*e.width/e.aspect), e.want, 0.01)
	}
}

// 1,500 lm on a screen of gain 1, 3.5 m wide at 2.39:1, height held, with an imager of
// 16:9: worked by hand from L = F G / (π A).
func TestZoomAnamorphicAndScaledSideBySide(t *testing.T) {
	r := picture.Of(room(t, 3.5, 2.39, 1500, project.HeldHeight, 2.39, 16.0/9))
	scope, wide := &r.Shapes[0], &r.Shapes[1]
	for k, want := range []float64{69.29, 92.39, 69.29} {
		near(t, "2.39 by "+string(picture.Fills()[k]), scope.Fills[k].New, want, 0.005)
	}
	for k, want := range []float64{125.23, 125.23, 69.29} {
		near(t, "16:9 by "+string(picture.Fills()[k]), wide.Fills[k].New, want, 0.005)
	}
	near(t, "aged", scope.Fills[0].Aged, 69.29*0.8, 0.01)
	near(t, "imager used by 2.39 zoomed", scope.Fills[0].Used, 0.74384, 1e-5)
	near(t, "2.39 beside 16:9, both zoomed", scope.Fills[0].New/wide.Fills[0].New, 0.55330, 1e-5)
	near(t, "zoom from 16:9 to 2.39", scope.Fills[0].Raster.Width/wide.Fills[0].Raster.Width, 1.34438, 1e-5)
	if f := scope.Fills[0]; f.Wide != 3840 || f.High != 1607 {
		t.Errorf("2.39 zoomed: %d x %d px", f.Wide, f.High)
	}
	if f := wide.Fills[2]; f.Wide != 2856 || f.High != 1607 {
		t.Errorf("16:9 in one raster: %d x %d px", f.Wide, f.High)
	}
}

// The pixels of flat and scope pictures in the 4K and 2K containers of digital cinema
// (DCI; SMPTE ST 428-1; ISDCF naming convention, appendix 7).
func TestPixelsOfDigitalCinema(t *testing.T) {
	for _, e := range []struct {
		wide, high     int
		aspect         float64
		pixels, height int
	}{
		{4096, 2160, 4096.0 / 2160, 4096, 2160},
		{4096, 2160, 3996.0 / 2160, 3996, 2160},
		{4096, 2160, 4096.0 / 1716, 4096, 1716},
		{2048, 1080, 1998.0 / 1080, 1998, 1080},
		{2048, 1080, 2048.0 / 858, 2048, 858},
		{3840, 2160, 16.0 / 9, 3840, 2160},
	} {
		d := room(t, 3, 2.39, 1500, "", e.aspect)
		d.ProjectorModels[0].PixelsWide, d.ProjectorModels[0].PixelsHigh = e.wide, e.high
		if f := picture.Of(d).Shapes[0].Fills[0]; f.Wide != e.pixels || f.High != e.height {
			t.Errorf("%.4f on %d x %d: %d x %d, want %d x %d", e.aspect, e.wide, e.high, f.Wide, f.High, e.pixels, e.height)
		}
	}
}

// An imager of 2160 lines seen from where a pixel takes an arc minute, and 3840 pixels
// over 58.109° (closed form: the design viewing distance of 1.6 picture heights).
func TestFinenessFromARow(t *testing.T) {
	d := room(t, 3, 16.0/9, 1500, "", 16.0/9)
	r := picture.Of(d)
	eye := r.Rows[0].Distance
	d.Screen.Width = lengthOf(eye / 1.6 * 16 / 9)
	r = picture.Of(d)
	v := r.Rows[0].Views[0]
	near(t, "heights", v.Heights, 1.6, 1e-9)
	near(t, "angle across", v.Across, 58.1092, 1e-3)
	near(t, "pixels a degree", v.PixelsPerDegree[0], 66.08, 0.01)
}

// A gain that falls with the angle is that of straight lines between its points.
func TestGainByAngleAtTheSeats(t *testing.T) {
	d := room(t, 3, 16.0/9, 1500, "")
	d.Screen.Gain = 1.3
	d.Picture.Gains = []project.AngleGain{{Angle: 10, Gain: 1.2}, {Angle: 30, Gain: 0.8}}
	r := picture.Of(d)
	for _, s := range r.Seats {
		want := 0.8
		switch {
		case s.Angle <= 10:
			want = 1.3 - 0.1*s.Angle/10
		case s.Angle <= 30:
			want = 1.2 - 0.4*(s.Angle-10)/20
		}
		near(t, "gain", s.Gain, want, 1e-12)
		near(t, "luminance", r.Toward(&s, r.Shapes[0].Fills[0].New), picture.Luminance(r.New, want, r.Shapes[0].Fills[0].Raster.Area()), 1e-9)
	}
}

// Light is neither made nor lost: what falls on the picture, and beside it, is what the
// lens sends out, over gain 1; and an anamorphic lens gains exactly its stretch as long
// as the picture is no narrower than what it makes of the imager.
func TestLightIsNeitherMadeNorLost(t *testing.T) {
	base := room(t, 3, 2, 1500, "")
	rapid.Check(t, func(t *rapid.T) {
		d := base.Clone()
		d.Screen.Width, d.Screen.Aspect = lengthOf(rapid.Float64Range(1, 8).Draw(t, "width")), rapid.Float64Range(1, 4).Draw(t, "screen")
		d.Screen.Gain = rapid.Float64Range(0.5, 3).Draw(t, "gain")
		d.Picture.Held = rapid.SampledFrom([]project.Held{"", project.HeldHeight, project.HeldWidth, project.HeldArea}).Draw(t, "held")
		d.Picture.Aspects = []project.Aspect{{Aspect: rapid.Float64Range(1, 2.5).Draw(t, "a")}, {Aspect: rapid.Float64Range(2.5, 4).Draw(t, "b")}}
		d.Projector.Stretch = rapid.Float64Range(1, 2).Draw(t, "stretch")
		r := picture.Of(d)
		for _, s := range r.Shapes {
			for _, f := range s.Fills {
				on := f.New * math.Pi * s.Picture.Area() / d.Screen.Gain
				if off := math.Abs(on - r.New*f.Used); off > 1e-9*r.New {
					t.Errorf("%s by %s: %g lm on the picture, %g of what is sent", s.Called, f.Fill, on, r.New*f.Used)
				}
				if f.Used > 1+1e-12 || f.Raster.Width < s.Picture.Width-1e-12 || f.Raster.Height < s.Picture.Height-1e-12 {
					t.Errorf("%s by %s: %+v holds no %+v", s.Called, f.Fill, f.Raster, s.Picture)
				}
			}
			if stretch := d.Projector.Stretch; s.Picture.Aspect() >= r.Imager*stretch {
				if ratio := s.Fills[0].New / s.Fills[1].New; math.Abs(ratio-1/stretch) > 1e-9 {
					t.Errorf("zoom/anamorphic %g, want 1/%g", ratio, stretch)
				}
			}
			if s.Fills[2].New > s.Fills[0].New*(1+1e-12) {
				t.Error("one raster for all is brighter than one of its own")
			}
		}
	})
}
