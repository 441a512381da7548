// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

// maskings are what can be said of the borders that move, maskingNames the words for it.
var (
	maskings     = []project.Masking{"", project.MaskNone, project.MaskSides, project.MaskTopBottom, project.MaskAll}
	maskingNames = []string{"not said", "none", "sides", "top and bottom", "all"}
)

// buildMasking adds which borders of the picture move, and the size of their boxes.
func (in *Inspector) buildMasking(f *field.Form) {
	chosen := func() project.Masking { return in.host.Design().Picture.Masking }
	f.AddChoice("Borders that move",
		func() []string { return maskingNames },
		func() int { return max(slices.Index(maskings, chosen()), 0) },
		func(i int) error {
			err := in.host.Do("change the masking", "", func(d *project.Design) {
				d.Picture.Masking = maskings[i]
				if !d.Picture.Masking.MovesSides() && !d.Picture.Masking.MovesTopBottom() {
					d.Picture.MaskingBox = 0 // there is none any more
				}
			})
			in.Update()
			return field.Plain(err)
		}).Why("Black up to the edge of every shape of picture: unlit screen beside it looks grey, and the picture paler.")
	box := in.small(f, "Masking box", say("change the masking box"), func(d *project.Design) *unit.Length { return &d.Picture.MaskingBox })
	box.When(func() bool { return chosen().MovesSides() || chosen().MovesTopBottom() })
	in.warn(box, func() string { return "picture.masking_box_m" })
}
