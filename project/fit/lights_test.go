// SPDX-License-Identifier: MIT

package fit_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/fit"
)

// A lamp in a wall, over the ceiling, under the floor, in a soffit or a platform is said,
// each by one line; one let into them by less than a hand is not.
func TestLampsThatCannotBeWhereTheyAre(t *testing.T) {
	for _, tt := range []struct {
		at   project.Point
		want string
	}{
		{project.Point{X: 2, Y: 1, Z: 2.5}, ""},
		{project.Point{X: 2, Y: -0.05, Z: 1}, ""},
		{project.Point{X: 2, Y: -0.3, Z: 1}, "Lamps is 300 mm outside the room"},
		{project.Point{X: 2, Y: 1, Z: 2.75}, "Lamps is 250 mm above the ceiling"},
		{project.Point{X: 2, Y: 1, Z: -0.02}, "Lamps is 20 mm below the floor"},
		{project.Point{X: 1, Y: 0.5, Z: 2.3}, "Lamps is inside the soffit"},
		{project.Point{X: 1, Y: 0.5, Z: 2.02}, ""},
		{project.Point{X: 3.2, Y: 1, Z: 0.15}, "Lamps is inside the platform of row 1"},
	} {
		d := file.New()
		d.Room.Ceiling.Height = 2.5
		d.Room.Features = []project.Feature{{Kind: project.Soffit, At: project.Point{X: 1, Y: 0.5, Z: 2}, Length: 1, Width: 0.8, Height: 0.5}}
		r := &d.Seating.Rows[0]
		r.Riser, r.Front, r.Back = 0.3, 1, 1
		none := len(fit.Findings(d))
		d.LightGroups = []project.LightGroup{{Name: "Lamps", Kind: project.StepLight, At: []project.Point{tt.at}, Flux: 1}}
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		found := fit.Findings(d)[none:]
		if tt.want == "" && len(found) > 0 || tt.want != "" && (len(found) != 1 || found[0].String() != tt.want || !strings.HasPrefix(found[0].Field, "light_groups[0].at[0].")) {
			t.Errorf("at %v: %v, want %q", tt.at, found, tt.want)
		}
		d.LightGroups[0] = project.LightGroup{Kind: project.Strip, Path: []project.Point{{X: 2, Y: 1, Z: 2}, tt.at}, Flux: 1}
		if tt.want != "" && (len(fit.Findings(d)) != none+1 || !strings.HasPrefix(fit.Findings(d)[none].String(), "light strip, light group 1, point 2, is ")) {
			t.Errorf("a strip to %v: %v", tt.at, fit.Findings(d)[none:])
		}
	}
}
