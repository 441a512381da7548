// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/project"
	"earline/scene"
)

// The joints of a wall were flat black lines. They are grooves behind its plane, of the
// colour of the panels beside them, so that what is flush with the wall stays flush.
func TestTheJointsOfAWallAreGrooves(t *testing.T) {
	d := demo(t, "small")
	o := scene.Default()
	o.Client, o.Bare = true, true
	poly := d.Room.Polygon()
	deep := 0
	for _, shell := range scene.Build(d, nil, o).Meshes {
		if shell.Name != "shell" && shell.Name != "joints of a wall" {
			continue
		}
		if shell.Name != "shell" && shell.Facing == [4]float32{} {
			t.Error("joints are seen from behind their wall")
		}
		for v := range len(shell.Pos) / 3 {
			p := at(shell.Pos, v)
			out := 0.0
			for i := range poly {
				a, _ := poly.Edge(i)
				n := poly.InwardNormal(i)
				out = max(out, -((p.X-a.X)*n.X + (p.Y-a.Y)*n.Y))
			}
			switch {
			case out > 0.02:
				t.Fatalf("%v is %.3f m behind its wall", p, out)
			case out > 0.005:
				deep++
			}
			if c := shell.Col[3*v : 3*v+3]; math.Max(float64(c[0]), float64(c[1])) < 0.09 {
				t.Fatalf("%v is nearly black: %v", p, c)
			}
		}
	}
	if deep == 0 {
		t.Error("there is no groove")
	}
}

// Panels of the design's own have joints where they are laid out: the wall behind has none.
func TestAWallBehindPanelsHasNoJointsOfItsOwn(t *testing.T) {
	count := func(panels []project.Panels) int {
		d := demo(t, "small").Clone()
		d.Panels = panels
		o := scene.Default()
		o.Client, o.Bare = true, true
		n := 0
		for _, m := range scene.Build(d, nil, o).Meshes {
			if m.Name == "joints of a wall" {
				n += len(m.Index)
			}
		}
		return n
	}
	if with, without := count([]project.Panels{{Wall: 1, Module: 0.6, Gap: 0.03, Depth: 0.06, Pattern: []project.PanelKind{project.BarePanel}}}), count(nil); with >= without {
		t.Errorf("%d indices with panels, %d without", with, without)
	}
}
