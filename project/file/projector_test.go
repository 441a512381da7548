// SPDX-License-Identifier: MIT

package file

import (
	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
)

// drawProjection gives d any projector and shapes of picture that Validate accepts.
func drawProjection(t *rapid.T, d *project.Design, text func(string) string, point func() project.Point) {
	num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	length := func(name string, lo, hi float64) unit.Length { return unit.Length(num(name, lo, hi)) }
	least := num("throw", 0.1, 20)
	d.ProjectorModels = []project.ProjectorModel{{ID: "p" + text("id"), Name: text("projector"), Light: num("light", 10, 200_000),
		Calibrated: num("calibrated", 0.05, 1), Aged: num("aged", 0.05, 1), PixelsWide: rapid.IntRange(1000, 4000).Draw(t, "wide"), PixelsHigh: 1000,
		ThrowMin: least, ThrowMax: num("most", least, 20), ShiftUp: num("up", 0, 3), ShiftRight: num("right", 0, 3),
		ShiftShape: rapid.SampledFrom([]project.ShiftShape{project.ShiftEllipse, project.ShiftDiamond, project.ShiftRectangle}).Draw(t, "shift"),
		Noise:      num("noise", 0, 100), Heat: num("heat", 0, 20_000), Mass: num("mass", 0, 2000),
		Width: length("w", 0.05, 3), Height: length("h", 0.05, 3), Depth: length("d", 0.05, 3), LensAhead: length("ahead", 0, 1)}}
	if rapid.Bool().Draw(t, "placed") {
		d.Projector = project.Projector{Model: d.ProjectorModels[0].ID, At: point(),
			Mount:   rapid.SampledFrom([]project.ProjectorMount{project.CeilingMount, project.ShelfMount, project.PortMount}).Draw(t, "mount"),
			Fill:    rapid.SampledFrom([]project.Fill{project.Zoom, project.Anamorphic, project.Scaled}).Draw(t, "fill"),
			Stretch: num("stretch", 1, 2), Lens: num("lens", 0.1, 1), Port: num("port", 0.1, 1)}
	}
	d.Picture.Held = rapid.SampledFrom([]project.Held{"", project.HeldHeight, project.HeldWidth, project.HeldArea}).Draw(t, "held")
	for i := range rapid.IntRange(0, 3).Draw(t, "shapes") {
		d.Picture.Aspects = append(d.Picture.Aspects, project.Aspect{Aspect: num("aspect", 1+float64(i), 1.9+float64(i)), Name: text("shape"), Share: num("share", 0, 0.33)})
		d.Picture.Gains = append(d.Picture.Gains, project.AngleGain{Angle: unit.Degrees(num("angle", 1+20*float64(i), 19+20*float64(i))), Gain: num("gain", 0.01, 20)})
	}
}
