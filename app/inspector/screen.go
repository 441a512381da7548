// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"math"

	"earline/app/field"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// aspects are the shapes of picture in common use. 1.78 is 16:9 as the trade
// writes it.
var aspects = []struct {
	name  string
	ratio float64
}{
	{"16:9", 16.0 / 9}, {"1.85 : 1", 1.85}, {"2.35 : 1", 2.35}, {"2.39 : 1", 2.39}, {"2.40 : 1", 2.40},
}

// aspectIndex returns the aspect that ratio is, -1 for none of them. Files
// round 16:9 to 1.78.
func aspectIndex(ratio float64) int {
	for i, a := range aspects {
		if math.Abs(a.ratio-ratio) < 0.004 {
			return i
		}
	}
	return -1
}

func (in *Inspector) screenSummary() string {
	s := in.host.Design().Screen
	return fmt.Sprintf("%s wide, %.2f : 1", s.Width.Format(in.metric()), s.Aspect)
}

func (in *Inspector) buildScreen(f *field.Form) {
	screen := func() *project.Screen { return &in.host.Design().Screen }
	free := func() bool { return in.customAspect || aspectIndex(screen().Aspect) < 0 }
	f.AddChoice("Aspect",
		func() []string {
			var names []string
			for _, a := range aspects {
				names = append(names, a.name)
			}
			return append(names, "other")
		},
		func() int {
			if free() {
				return len(aspects)
			}
			return aspectIndex(screen().Aspect)
		},
		func(i int) error {
			in.customAspect = i == len(aspects)
			if in.customAspect {
				in.Update()
				return nil
			}
			err := in.host.Do("change the picture's aspect", "", func(d *project.Design) { d.Screen.Aspect = aspects[i].ratio })
			in.Update()
			return field.Plain(err)
		})
	in.number(f, "Aspect ratio", "change the picture's aspect", 1, 0.01, "",
		func(d *project.Design) *float64 { return &d.Screen.Aspect }).When(free)
	in.warn(why(in.length(f, "Picture width", say("change the picture width"), func(d *project.Design) *unit.Length { return &d.Screen.Width }), "picture-angle-least", "picture-angle-most"), inScreen("width_m"))
	f.AddReadout("Picture height", func() string { return unit.Length(screen().Height()).Format(in.metric()) })
	in.warn(why(in.length(f, "Lower edge", func() texts { return texts{"move the picture", "raise the picture", "lower the picture"} },
		func(d *project.Design) *unit.Length { return &d.Screen.Bottom }), "picture-margin", "picture-bottom"), inScreen("bottom_m"))
	why(in.length(f, "From screen wall", say("move the picture"), func(d *project.Design) *unit.Length { return &d.Screen.Distance }), "picture-heights")
	in.warn(why(in.length(f, "Centre from left", say("move the picture"), func(d *project.Design) *unit.Length { return &d.Screen.Centre }), "off-axis"), inScreen("centre_m"))
	in.small(f, "Border", say("change the screen's border"), func(d *project.Design) *unit.Length { return &d.Screen.Border })
	why(f.AddCheck("Sound-transparent", func() bool { return screen().Transparent }, func(on bool) error {
		return edit(in, "change the screen's cloth", "", func(d *project.Design) *bool { return &d.Screen.Transparent }, on)
	}), "front-height")
	in.number(f, "Gain", "change the screen's gain", 1, 0.1, "", func(d *project.Design) *float64 { return &d.Screen.Gain }).Why("How bright the picture is follows from it. A high gain favours the seats in the middle.")
	f.AddReadout("Viewing angle", func() string {
		return fmt.Sprintf("%.1f° wide, %.1f° high", in.pictureAngle(true), in.pictureAngle(false))
	})
	f.AddReadout("Viewing distance", func() string {
		d := in.host.Design()
		far := unit.Length(place.MainPoint(d).X) - d.Screen.Distance
		return fmt.Sprintf("%s, %.1f heights", far.Format(in.metric()), float64(far)/d.Screen.Height())
	})
}

// pictureAngle returns how many degrees of view the picture fills from the main
// position, across or upright through its middle.
func (in *Inspector) pictureAngle(across bool) float64 {
	d := in.host.Design()
	centre, right, up := d.Screen.Picture()
	half := up
	if across {
		half = right
	}
	eye := place.MainPoint(d)
	a := geometry.Angle(centre.Add(half).Sub(eye), centre.Sub(half).Sub(eye))
	return float64(unit.FromRadians(a))
}
