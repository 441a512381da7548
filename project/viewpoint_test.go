// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

// What cannot be stood at, sat in or named is refused by its field.
func TestBadViewpointsAreRefused(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(v *project.Viewpoint)
		want   string
	}{
		{"no name", func(v *project.Viewpoint) { v.Name = " " }, "viewpoints[0].name: empty, allowed: a name of its own"},
		{"same name", func(v *project.Viewpoint) { v.Name = "other" }, `viewpoints[1].name: "other" again, allowed: a name of its own; viewpoints[0].name has this one`},
		{"kind", func(v *project.Viewpoint) { v.Kind = "lying" }, `viewpoints[0].kind: "lying", allowed: "standing", "seat", "free"`},
		{"no seat", func(v *project.Viewpoint) { v.Kind, v.At = project.Seated, project.Point{} }, "viewpoints[0].seat: none, allowed: the id of a row, a point and the number of one of its seats, such as r1.2"},
		{"pitch", func(v *project.Viewpoint) { v.Pitch = 90 }, "viewpoints[0].pitch_deg: 90°, allowed: -89° to 89°"},
		{"angle seen", func(v *project.Viewpoint) { v.Sees = 150 }, "viewpoints[0].sees_deg: 150°, allowed: 2° to 120°"},
		{"scene", func(v *project.Viewpoint) { v.Scene = "dusk" }, `viewpoints[0].scene: "dusk"`},
		{"stay", func(v *project.Viewpoint) { v.Stay = 700 }, "viewpoints[0].stay_s: 700 s"},
	} {
		d, _ := file.Demo("small")
		d = d.Clone()
		d.Viewpoints = []project.Viewpoint{{Name: "door", Kind: project.Standing, At: project.Point{X: 1, Y: 1}}, {Name: "other", Kind: project.Seated, Seat: "r1.1"}}
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		tt.change(&d.Viewpoints[0])
		err := d.Validate()
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %s", tt.name, err, tt.want)
		}
	}
}

// A row that went took the viewpoints in its seats with it, and left the others.
func TestAViewpointGoesWithItsSeat(t *testing.T) {
	d, _ := file.Demo("two-row")
	d = d.Clone()
	d.Identify()
	last := d.Seating.Rows[1]
	d.Viewpoints = []project.Viewpoint{{Name: "back", Kind: project.Seated, Seat: last.SeatID(1)}, {Name: "front", Kind: project.Seated, Seat: d.Seating.Rows[0].SeatID(1)}}
	d.Seating.Rows = d.Seating.Rows[:1]
	d.Identify()
	if len(d.Viewpoints) != 1 || d.Viewpoints[0].Name != "front" {
		t.Errorf("left are %+v", d.Viewpoints)
	}
}

// A file's viewpoint in a seat that is not there went without a word, and the tour showed
// other places.
func TestAViewpointInNoSeatIsRefused(t *testing.T) {
	d, _ := file.Demo("small")
	for seat, want := range map[string]string{"r1.1": "", "r9.9": `viewpoints[0].seat: "r9.9", allowed: the id of a row`, "here": `viewpoints[0].seat: "here"`} {
		c := d.Clone()
		c.Viewpoints = []project.Viewpoint{{Name: "back", Kind: project.Seated, Seat: "r1.1"}}
		data, err := file.Encode(c)
		if err != nil {
			t.Fatal(err)
		}
		_, err = file.Decode([]byte(strings.Replace(string(data), `"r1.1"`, `"`+seat+`"`, 1)), "x.earline")
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", seat, err, want)
		}
	}
}
