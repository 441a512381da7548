// SPDX-License-Identifier: MIT

package built

import (
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/setout"
)

// The lens that set-out puts on the list is measured under the same id; as built it hangs
// where it was measured, and its cabinet with it.
func TestTheLensIsMeasuredAsBuilt(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	var lens *Item
	items := Items(d)
	for i := range items {
		if items[i].ID == project.ProjectorID {
			lens = &items[i]
		}
	}
	if lens == nil || len(lens.Measures) != 3 || !strings.HasPrefix(lens.Name, "Projector") {
		t.Fatalf("%+v", lens)
	}
	z := float64(d.Projector.At.Z) - 0.2
	Enter(d, project.ProjectorID, Height, &z)
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	if gone := d.GoneMeasured(); len(gone) > 0 {
		t.Errorf("%v", gone[0])
	}
	b := Of(d)
	was, _ := place.Cabinet(d)
	is, _ := place.Cabinet(b)
	if b.Projector.At.Z != unit.Length(z) || math.Abs(was.Center.Z-is.Center.Z-0.2) > 1e-9 || d.Projector.At.Z == b.Projector.At.Z {
		t.Errorf("as built at %v, planned at %v", b.Projector.At, d.Projector.At)
	}
	if setout.ScreenID != project.PictureID {
		t.Error("two names of the picture")
	}
	d.Projector = project.Projector{}
	d.Identify()
	if d.AsBuilt.Given() {
		t.Error("what was measured of a projector outlives it")
	}
}
