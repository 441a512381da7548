// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/projecttest"
)

func metres(v float64) *unit.Length { l := unit.Length(v); return &l }

func TestMeasuringAThingThatIsRemovedLeavesNothingBehindAndUndoBringsItBack(t *testing.T) {
	h := project.NewHistory(projecttest.Room(3))
	last := h.Design().Speakers[len(h.Design().Speakers)-1].ID
	do := func(edit func(*project.Design)) {
		t.Helper()
		if err := h.Do("edit", "", edit); err != nil {
			t.Fatal(err)
		}
	}
	do(func(d *project.Design) { d.AsBuilt.Set(project.Measured{Of: last, Z: metres(1.5)}) })
	do(func(d *project.Design) { d.Speakers = d.Speakers[:len(d.Speakers)-1] })
	if d := h.Design(); d.AsBuilt.Given() || len(d.GoneMeasured()) > 0 {
		t.Errorf("%+v is left of a loudspeaker that is gone", d.AsBuilt)
	}
	h.Undo()
	if m := h.Design().AsBuilt.Of(last); m.Z == nil || *m.Z != 1.5 {
		t.Errorf("%+v after undo", m)
	}
}

func TestMeasurementsOfACopyAreItsOwn(t *testing.T) {
	d := projecttest.Room(3).Clone()
	d.AsBuilt.Set(project.Measured{Of: project.PictureID, Z: metres(1)})
	c := d.Clone()
	*c.AsBuilt.Items[0].Z = 2
	if *d.AsBuilt.Items[0].Z != 1 {
		t.Error("the copy's measurement is the original's")
	}
	c.AsBuilt.Set(project.Measured{Of: project.PictureID})
	if c.AsBuilt.Given() {
		t.Error("nothing measured, and it is kept")
	}
}

func TestWhatCannotBeMeasuredIsRefusedByName(t *testing.T) {
	turn := unit.Degrees(400)
	for want, a := range map[string]project.AsBuilt{
		"as_built.measured_on":       {MeasuredOn: "yesterday"},
		"as_built.items[0].z_m":      {Items: []project.Measured{{Of: "s1", Z: metres(math.NaN())}}},
		"as_built.items[0].x_m":      {Items: []project.Measured{{Of: "s1", X: metres(1566)}}},
		"as_built.items[0].width_m":  {Items: []project.Measured{{Of: "screen", Width: metres(0)}}},
		"as_built.items[0].turn_deg": {Items: []project.Measured{{Of: "s1", Turn: &turn}}},
		"as_built.items[1].of":       {Items: []project.Measured{{Of: "s1", Z: metres(1)}, {Of: "s1", Z: metres(1)}}},
	} {
		d := projecttest.Room(3).Clone()
		d.Identify()
		d.AsBuilt = a
		err := d.Validate()
		if faults := project.Faults(err); len(faults) != 1 || faults[0].Field != want || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", want, err)
		}
	}
	d := projecttest.Room(3).Clone()
	d.Identify()
	d.AsBuilt.Set(project.Measured{Of: "x9", Z: metres(1)})
	if f := d.GoneMeasured(); len(f) != 1 || !strings.Contains(f[0].Error(), `as_built.items[0].of: "x9"`) {
		t.Errorf("%v", f)
	}
}
