// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/project"
	"earline/scene"
)

// A panel that is cut out for a loudspeaker looked like four panels: its pieces had bevels
// where they meet.
func TestAPanelCutOutForALoudspeakerIsOne(t *testing.T) {
	d := demo(t, "large").Clone()
	run := project.Panels{ID: "p1", Wall: 1, High: 2.9, Module: 0.9, Gap: 0.01, LightGap: 0.05, Depth: 0.06,
		Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: d.Room.Materials[0].ID}
	d.Panels = []project.Panels{run}
	d.LightGroups = []project.LightGroup{{Kind: project.Strip, Panels: "p1", Flux: 500}}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	const front, bevel = 0.06, 0.008 // m off the left wall, y = 0; how low an edge of it lies
	m := mesh(list, "treatments")
	for v := range len(m.Pos) / 3 {
		p := at(m.Pos, v)
		if p.Y < front-bevel+0.003 || p.Y > front-0.001 {
			continue
		}
		if p.Z > 0.1 && p.Z < 2.8 && m.Nor[3*v+1] > 0.5 { // a bevel that looks up
			t.Fatalf("a bevel at %v", p)
		}
	}
	for _, m := range list.Meshes {
		if m.Shines == 1 && m.Facing == [4]float32{} {
			t.Error("the light in the joints is seen from behind the wall")
		}
	}
}
