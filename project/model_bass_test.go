// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"strings"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/file"
)

// A sensitivity measured in half space counts 20 lg 2 less in the free field (image
// source); flush models are taken as measured so unless the design says otherwise.
func TestBassSensitivity(t *testing.T) {
	for _, c := range []struct {
		m    project.Model
		want float64
	}{
		{project.Model{Sensitivity: 90}, 90},
		{project.Model{Sensitivity: 90, Flush: true}, 83.9794},
		{project.Model{Sensitivity: 90, Space: project.HalfSpace}, 83.9794},
		{project.Model{Sensitivity: 90, Flush: true, Space: project.FreeField}, 90},
	} {
		geomtest.Within(t, "in the free field", c.m.BassSensitivity(), c.want, 1e-4)
	}
}

// Two drivers of 200 mm moving 10 mm: 2 x 314.16 cm2 x 1 cm = 628.3 cm3. Drivers of
// other bands do not count.
func TestDisplacement(t *testing.T) {
	m := project.Model{Excursion: 10, Drivers: []project.Driver{{Band: project.Sub, Diameter: 0.2}, {Band: project.Sub, Diameter: 0.2}, {Band: project.High, Diameter: 0.03}}}
	geomtest.Within(t, "volume", m.Displacement(), 2*math.Pi*0.01*0.01, 1e-12)
	if m.Excursion = 0; m.Displacement() != 0 {
		t.Error("moves air by an excursion that is not known")
	}
}

// What limits the bass is refused by one line naming field, found and allowed, and
// makes a file of version 2.
func TestModelsInTheBassAreChecked(t *testing.T) {
	d, _ := file.Demo("small")
	d.Models[0].Excursion, d.Models[0].Space = 14, project.HalfSpace
	data, err := file.Encode(d)
	if err != nil || !strings.Contains(string(data), `"version": 2`) {
		t.Fatalf("%v: not version 2", err)
	}
	again, err := file.Decode(data, "again")
	if err != nil || again.Models[0].Excursion != 14 || again.Models[0].Space != project.HalfSpace {
		t.Fatalf("%v: %+v", err, again.Models[0])
	}
	d.Models[0].Excursion, d.Models[0].Space = -1, "corner"
	faults := project.Faults(d.Validate())
	if len(faults) != 2 || !strings.Contains(faults[0].Field, "sensitivity_in") || !strings.Contains(faults[1].Field, "excursion_mm") {
		t.Errorf("%v", faults)
	}
}
