// SPDX-License-Identifier: MIT

package file

import (
	"reflect"
	"strings"
	"testing"

	"earline/project"
	"earline/project/projecttest"
)

// Measured times and absorption by thirds are kept, in a file of version 2, and one that
// an older Earline opens does without them.
func TestWhatWasMeasuredOfSoundIsKept(t *testing.T) {
	for name, edit := range map[string]func(d *project.Design){
		"measured times": func(d *project.Design) {
			d.Measured = project.MeasuredSound{On: "2026-11-29", Decay: []project.ThirdTime{{Hz: 31.5, Time: 0.9}, {Hz: 63, Time: 0.65}}}
		},
		"absorption in the bass": func(d *project.Design) {
			d.Room.Materials = []project.Material{{ID: "trap", Name: "trap", Absorption: make([]float64, project.OctaveCount),
				Bass: []project.ThirdAbsorption{{Hz: 40, Absorption: 0.6}, {Hz: 50, Absorption: 0.4}}}}
		},
	} {
		d := projecttest.Room(1).Clone()
		edit(d)
		data, err := Encode(d)
		if err != nil {
			t.Fatal(name, err)
		}
		if !strings.Contains(string(data), `"version": 2`) {
			t.Errorf("%s: not in a file of version 2", name)
		}
		got, err := Decode(data, "r.earline")
		if err != nil || !reflect.DeepEqual(got.Measured, d.Measured) || !reflect.DeepEqual(got.Room.Materials, d.Room.Materials) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
}

func TestAbsorptionThatCannotBeIsRefused(t *testing.T) {
	d := projecttest.Room(1).Clone()
	m := project.Material{ID: "trap", Name: "trap", Absorption: make([]float64, project.OctaveCount)}
	for want, bass := range map[string][]project.ThirdAbsorption{
		"bass_absorption[0].hz: 41 Hz, allowed: the nominal middle of a third of an octave; the nearest is 40 Hz": {{Hz: 41, Absorption: 0.5}},
		"bass_absorption[0].hz: 250 Hz, allowed: 16 Hz to 200 Hz":                                                 {{Hz: 250, Absorption: 0.5}},
		"bass_absorption[0].absorption: 1.5, allowed: 0 to 1":                                                     {{Hz: 40, Absorption: 1.5}},
		"bass_absorption[1].hz: 40 Hz, allowed: more than the third before, 50 Hz":                                {{Hz: 50}, {Hz: 40}},
	} {
		m.Bass = bass
		d.Room.Materials = []project.Material{m}
		if err := d.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
