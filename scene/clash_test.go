// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/scene"
)

// Loudspeakers in walls looked like any other.
func TestWhatCannotBeBuiltIsMarkedInThePicture(t *testing.T) {
	count := func(d *project.Design, o scene.Options) int {
		n := 0
		for _, l := range scene.Build(d, nil, o).Lines {
			if l.Name == "clashes" {
				n += len(l.Pos)
			}
		}
		return n
	}
	d, _ := file.Demo("small")
	if n := count(d, scene.Default()); n != 0 {
		t.Errorf("%d points in a room without clashes", n)
	}
	d = d.Clone()
	d.Speakers[0].At.Z = -5
	one := count(d, scene.Default())
	d.Seating.Rows[0].Distance = -1
	if two := count(d, scene.Default()); one == 0 || two <= one {
		t.Errorf("%d points, then %d", one, two)
	}
	o := scene.Default()
	o.Drawing = scene.Axes{X: true, Y: true}
	if count(d, o) == 0 {
		t.Error("nothing in the plan")
	}
	o.Client = true
	if count(d, o) != 0 {
		t.Error("the client sees it")
	}
}
