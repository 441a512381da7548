// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

// What a crossover says beyond one frequency makes a file of version 2 and comes back.
func TestCrossoversAreKept(t *testing.T) {
	d, _ := file.Demo("small")
	d.Playback.Slope, d.Speakers[0].Tuning.Crossover = project.Butterworth3, 100
	data, err := file.Encode(d)
	if err != nil || !strings.Contains(string(data), `"version": 2`) {
		t.Fatalf("%v: not version 2", err)
	}
	again, err := file.Decode(data, "again")
	if err != nil || again.Playback.Slope != project.Butterworth3 || again.Speakers[0].Tuning.Crossover != 100 {
		t.Fatalf("%v: %+v", err, again)
	}
	if p := again.Playback; p.CrossoverOf(again.Speakers[0]) != 100 || p.CrossoverOf(again.Speakers[1]) != 80 {
		t.Error("the crossover of one loudspeaker counts for another")
	}
}

func TestCrossoversAreChecked(t *testing.T) {
	d, _ := file.Demo("small")
	sub := -1
	for i, l := range d.Speakers {
		if strings.HasPrefix(l.Label, "LFE") {
			sub = i
		}
	}
	d.Playback.Slope, d.Speakers[0].Tuning.Crossover, d.Speakers[sub].Tuning.Crossover = "steep", 5, 80
	faults := project.Faults(d.Validate())
	if len(faults) != 3 || !strings.Contains(faults[0].Error(), "fourth-order Linkwitz-Riley") || !strings.Contains(faults[1].Error(), "20 Hz") ||
		!strings.Contains(faults[2].Error(), "plays below the crossover of the others") {
		t.Errorf("%v", faults)
	}
}
