// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/scene"
)

// Without painted light the ceiling is one colour, and it throws back what the design says.
func TestABareRoomIsOfItsFinishesAlone(t *testing.T) {
	d := demo(t, "small")
	d.Room.Features, d.Panels, d.Room.Treatments = nil, nil, nil
	o := scene.Default()
	o.Client, o.Bare = true, true
	l := scene.Build(d, nil, o)
	found := map[string]bool{}
	for _, m := range l.Meshes {
		switch {
		case m.Name == "canvas":
			found["canvas"] = m.Shines == scene.Canvas && !m.Unlit
		case m.Name == "picture":
			found["picture"] = m.Shines == scene.Picture
		case m.Name == "light groups":
			if m.Shines < 1 || m.Shines > len(d.LightGroups) {
				t.Errorf("lamps of group %d of %d", m.Shines, len(d.LightGroups))
			}
		case m.Name == "step lights" || m.Name == "lamps" && m.Shines == 0 && m.Unlit:
			t.Errorf("%q shines and no lamp of the model does", m.Name)
		case m.Name == "shell":
			for i := 0; i < len(m.Pos); i += 3 {
				if m.Nor[i+1] > -0.99 {
					continue
				}
				got := scene.RGB{R: m.Col[i], G: m.Col[i+1], B: m.Col[i+2]}.Luminance()
				if want := d.Room.Finishes.Ceiling.Reflects(); math.Abs(got-want) > 1e-4 {
					t.Fatalf("the ceiling throws back %g, want %g", got, want)
				}
				found["ceiling"] = true
			}
		}
	}
	for _, what := range []string{"canvas", "picture", "ceiling"} {
		if !found[what] {
			t.Errorf("no %s", what)
		}
	}
	o.Bare = false
	for _, m := range scene.Build(d, nil, o).Meshes {
		if m.Name == "canvas" {
			t.Error("a painted room has a canvas in the place of its picture")
		}
	}
}
