// SPDX-License-Identifier: MIT

package file

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/geometry/unit"
	"earline/project"
)

// What was measured comes back from its file, which is then of version 2; without it
// the file of the same room stays of version 1.
func TestMeasurementsComeBackFromTheFile(t *testing.T) {
	d, ok := Demo("small")
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.Identify()
	z, turn := unit.Length(1.459), unit.Degrees(-3)
	d.AsBuilt = project.AsBuilt{MeasuredOn: "2026-11-29", Items: []project.Measured{{Of: d.Speakers[0].ID, Z: &z, Turn: &turn, Note: "by tape"}, {Of: project.PictureID, Z: &z}}}
	data, err := Encode(d)
	if err != nil || !strings.Contains(string(data), `"version": 2`) {
		t.Fatal(err)
	}
	back, err := Decode(data, "r.earline")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d.AsBuilt, back.AsBuilt); diff != "" {
		t.Errorf("(-kept +read)\n%s", diff)
	}
	for old, want := range map[string]string{
		`"of": "screen"`: `r.earline: as_built.items[1].of: "x9", allowed: the id of a row, feature or loudspeaker, screen or projector`,
		`"z_m": 1.459`:   "r.earline: as_built.items[0].z_m: 1459 m, allowed: -100 m to 100 m",
	} {
		bad := strings.Replace(string(data), old, map[string]string{`"of": "screen"`: `"of": "x9"`, `"z_m": 1.459`: `"z_m": 1459`}[old], 1)
		if _, err := Decode([]byte(bad), "r.earline"); err == nil || err.Error() != want {
			t.Errorf("got %v\nwant %s", err, want)
		}
	}
	d.AsBuilt, d.LightGroups, d.Room.Finishes = project.AsBuilt{}, nil, project.Finishes{}
	d.Projector, d.ProjectorModels, d.Picture = project.Projector{}, nil, project.Picture{}
	if data, err = Encode(d); err != nil || !strings.Contains(string(data), `"version": 1`) {
		t.Errorf("without measurements: %.60s, %v", data, err)
	}
}
