// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/project"
	"earline/scene"
)

// With the ceiling cut away, soffits, the rims of lamps, grilles and strips hung in the
// air, and panels seen from behind were a scaffold of edges.
func TestFromOutsideNothingHangsInTheAir(t *testing.T) {
	d := demo(t, "large")
	o := scene.Default()
	o.Client, o.Bare = true, true
	soffit := 0.0
	for _, f := range d.Room.Features {
		if f.Kind == project.Soffit {
			soffit = float64(f.At.Z)
		}
	}
	for _, m := range scene.Build(d, nil, o).Meshes {
		switch m.Name {
		case "shell", "loudspeakers", "projector", "grilles":
			continue // the walls' own fronts, and what stands clear of the ceiling
		}
		for v := 0; v < len(m.Pos); v += 3 {
			if float64(m.Pos[v+1]) > soffit+0.01 && m.Facing == [4]float32{} {
				t.Errorf("%s: seen at %.2f m from above the ceiling", m.Name, m.Pos[v+1])
				break
			}
		}
	}
	o.Client = false
	for _, m := range scene.Build(d, nil, o).Meshes {
		if m.Facing != [4]float32{} {
			t.Errorf("%s is left out of a view in which things are chosen", m.Name)
		}
	}
}
