// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/file"
)

func start(t *testing.T) *project.Design {
	t.Helper()
	d, err := file.Decode(assets.Start(), "start")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A datum or a title block that nobody can work by is refused by its field.
func TestADatumThatCannotBeWorkedByIsRefused(t *testing.T) {
	for want, set := range map[string]func(d *project.Design){
		`datum.height_m: 0.05 m, allowed: 0.1 m to 30 m`:           func(d *project.Design) { d.Datum.Height = 0.05 },
		`datum.from: "roof", allowed: "", "finished floor"`:        func(d *project.Design) { d.Datum.From = "roof" },
		`datum.height_m: 0 m, allowed: 0.1 m to 30 m, or from the`: func(d *project.Design) { d.Datum.From = project.StructuralFloor },
		`datum.height_m: 0.2 m, allowed: above floor_buildup_m`: func(d *project.Design) {
			d.Datum = project.Datum{Height: 0.2, From: project.StructuralFloor, FloorBuildup: 0.3}
		},
		`datum.across_from: "back wall", allowed: centre line, `:         func(d *project.Design) { d.Datum.Across = "back wall" },
		`datum.wall_buildup_m: 5 entries, allowed: 0 to 4`:               func(d *project.Design) { d.Datum.WallBuildup = make([]unit.Length, 5) },
		`datum.wall_buildup_m[0]: -1 m, allowed: 0 m to 1 m`:             func(d *project.Design) { d.Datum.WallBuildup = []unit.Length{-1} },
		`job.revised_on: "29.11.2026", allowed: a day as year-month-day`: func(d *project.Design) { d.Job.RevisedOn = "29.11.2026" },
		`job.revised_on: "2026-02-30", allowed: a day`:                   func(d *project.Design) { d.Job.RevisedOn = "2026-02-30" },
		`job.revision: "a\nb", allowed: text without control characters`: func(d *project.Design) { d.Job.Revision = "a\nb" },
	} {
		d := start(t)
		set(d)
		err := d.Validate()
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("says %v, want %s", err, want)
		}
	}
}

// Without a datum the line is at 1 m and the file stays one of version 1; with one it is
// of version 2, comes back as it was, and undo can say what changed.
func TestADatumIsKeptAtVersion2(t *testing.T) {
	d := start(t)
	if d.Datum.Given() || d.Datum.Line() != 1 || d.Datum.AcrossFrom() != project.CentreLine {
		t.Errorf("%+v", d.Datum)
	}
	c := d.Clone()
	c.Datum = project.Datum{Height: 1.2, From: project.StructuralFloor, FloorBuildup: 0.025, Across: "left wall", WallBuildup: []unit.Length{0, 0.06}}
	c.Job = project.Job{Reference: "12", Revision: "B", RevisedOn: "2026-11-29"}
	if got := c.Datum.Line(); got < 1.175-1e-12 || got > 1.175+1e-12 {
		t.Errorf("line at %g", got)
	}
	data, err := file.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), `"version": 2`) {
		t.Error("not of version 2")
	}
	again, err := file.Decode(data, "again")
	if err != nil {
		t.Fatal(err)
	}
	again.Datum.WallBuildup[1] = 0.07
	if c.Datum.WallBuildup[1] != 0.06 {
		t.Error("shares its build-ups")
	}
	var said []string
	for _, x := range diff.Compare(d, c) {
		said = append(said, x.Sentence(project.Metric))
	}
	text := strings.Join(said, "; ")
	for _, want := range []string{"datum: height of the line: 0.000 m to 1.200 m", "datum: measured across from: none to left wall", "build-ups of the walls", "job: revision: none to B"} {
		if !strings.Contains(text, want) {
			t.Errorf("does not say %q: %s", want, text)
		}
	}
	copied := c.Clone()
	copied.Datum.WallBuildup[0] = 0.5
	if c.Datum.WallBuildup[0] != 0 {
		t.Error("a clone shares its build-ups")
	}
}
