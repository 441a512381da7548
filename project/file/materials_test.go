// SPDX-License-Identifier: MIT

package file_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/project"
	"earline/project/file"
)

// Every material can be copied into a design and is then accepted.
func TestMaterialsFitADesign(t *testing.T) {
	all := file.Materials()
	if len(all) < 30 {
		t.Errorf("%d materials", len(all))
	}
	d := file.New()
	d.Room.Materials = all
	d.Room.Surfaces = project.Surfaces{Floor: "carpet-felt"}
	if err := d.Validate(); err != nil {
		t.Error(err)
	}
	for _, m := range all {
		if m.Source == "" {
			t.Errorf("%s: no source", m.ID)
		}
	}
}

// Figures as printed: Vorlaender, Auralization (2008), Annex: tufted carpet of
// 9 mm on felt, 125 Hz to 8 kHz, and thin carpet, whose row ends at 4 kHz.
func TestMaterialsAsPrinted(t *testing.T) {
	want := map[string][]float64{
		"carpet-felt": {0.08, 0.08, 0.08, 0.30, 0.60, 0.75, 0.80, 0.80},
		"carpet-thin": {0.02, 0.02, 0.04, 0.08, 0.20, 0.35, 0.40, 0.40},
	}
	for _, m := range file.Materials() {
		if w, ok := want[m.ID]; ok {
			if diff := cmp.Diff(w, m.Absorption); diff != "" {
				t.Errorf("%s (-want +got):\n%s", m.ID, diff)
			}
			delete(want, m.ID)
		}
	}
	if len(want) > 0 {
		t.Errorf("not there: %v", want)
	}
}
