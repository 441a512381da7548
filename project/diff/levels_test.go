// SPDX-License-Identifier: MIT

package diff

import (
	"testing"

	"earline/project"
	"earline/project/file"
)

func TestALevelIsTheOnlyDifference(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	dimmed := d.Clone()
	dimmed.LightGroups[0].Scenes.Show = 0.3
	if !OnlyLevels(d, dimmed) || !OnlyLevels(d, d) {
		t.Error("a level is taken for more")
	}
	for what, edit := range map[string]func(*project.Design){
		"a lamp":   func(d *project.Design) { d.LightGroups[0].At[0].X += 0.1 },
		"a light":  func(d *project.Design) { d.LightGroups[0].Flux++ },
		"a group":  func(d *project.Design) { d.LightGroups = d.LightGroups[1:] },
		"the room": func(d *project.Design) { d.Screen.Width += 0.1 },
	} {
		other := dimmed.Clone()
		edit(other)
		if OnlyLevels(d, other) {
			t.Errorf("%s is taken for a level", what)
		}
	}
	if OnlyLevels(nil, d) {
		t.Error("nothing is taken for a design")
	}
}
