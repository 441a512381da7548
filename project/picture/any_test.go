// SPDX-License-Identifier: MIT

package picture

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/projecttest"
)

// Any valid room with any valid projector, even behind the screen, gets an answer that JSON
// can hold and that reads without figures that are none; asking changes nothing.
func TestAnyRoomIsAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Draw(t)
		num := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		pick := func(what string, from ...string) string { return rapid.SampledFrom(from).Draw(t, what) }
		if rapid.Bool().Draw(t, "projected") {
			d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: num(10, 9000, "light"), Calibrated: num(0.05, 1, "calibrated"), Aged: num(0.05, 1, "aged"),
				PixelsWide: rapid.IntRange(1000, 4000).Draw(t, "wide"), PixelsHigh: 1000, ThrowMin: num(0.1, 2, "min"), ThrowMax: num(2, 4, "max"),
				ShiftUp: rapid.SampledFrom([]float64{0, 0.3, 1}).Draw(t, "up"), ShiftRight: rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "right"),
				ShiftShape: project.ShiftShape(pick("shape", "ellipse", "diamond", "rectangle")), Width: 0.4, Height: 0.2, Depth: 0.4}}
			d.Projector = project.Projector{Model: "p", Mount: project.ShelfMount, Fill: project.Fill(pick("fill", "zoom", "anamorphic", "scaled")),
				At: project.Point{X: unit.Length(num(-1, 12, "x")), Y: unit.Length(num(-1, 8, "y")), Z: unit.Length(num(-1, 4, "z"))}}
		}
		d.Picture.Held = project.Held(pick("held", "", "height", "width", "area"))
		if rapid.Bool().Draw(t, "shapes") {
			d.Picture.Aspects = []project.Aspect{{Aspect: num(1, 2, "a")}, {Aspect: num(2.1, 4, "b"), Name: "Wide"}}
		}
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		r := Of(d)
		data, err := json.Marshal(r.Report())
		if err != nil {
			t.Fatal(err)
		}
		text := string(data) + strings.Join(r.StandingWords(), "") + strings.Join(r.WalkingWords(), "") + strings.Join(r.StandWords(), "") + strings.Join(r.MaskingWords(), "")
		if bad := regexp.MustCompile(`NaN|Inf|%!`).FindString(text); bad != "" {
			t.Errorf("%s in %s", bad, text)
		}
		for _, o := range r.InBeam {
			if o.Face == Below && !(o.Upright >= o.Depth*(1-1e-12)) {
				t.Errorf("%s: %+v", o.Called(), o)
			}
		}
	})
}
