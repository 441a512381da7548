// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"earline/project"
)

// The size of a mask's box is asked for where a border moves; when none moves any more it
// goes, since the design would be refused with it.
func TestMasksThatStopMovingHaveNoBox(t *testing.T) {
	b := newBench(t, "small")
	moving := b.line(t, shapesGroup, "Borders that move")
	moving.Choice.SetSelected("sides")
	enter(b.line(t, shapesGroup, "Masking box"), "200 mm")
	if p := b.Design().Picture; p.Masking != project.MaskSides || !near(float64(p.MaskingBox), 0.2) {
		t.Fatalf("%+v", p)
	}
	moving.Choice.SetSelected("none")
	if p := b.Design().Picture; p.Masking != project.MaskNone || p.MaskingBox != 0 {
		t.Errorf("%+v", p)
	}
	if err := b.Design().Validate(); err != nil {
		t.Error(err)
	}
}
