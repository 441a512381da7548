// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"earline/geometry"
	"earline/project"
)

// withBackdrops returns a bench whose room has a table and the lines of a plan.
func withBackdrops(t *testing.T) *bench {
	b := newBench(t, "small")
	if err := b.in.host.Do("import", "", func(d *project.Design) {
		table, plan := project.Backdrop{Name: "table", File: "table.obj"}, project.Backdrop{}
		table.SetMesh(project.Mesh{Points: []geometry.Vec{{X: 1}, {Y: 1}, {Z: 1}}, Triangles: [][3]int{{0, 1, 2}}})
		plan.SetMesh(project.Mesh{Points: []geometry.Vec{{X: 1}, {Y: 1}}, Lines: [][2]int{{0, 1}}})
		d.Backdrops = []project.Backdrop{table, plan}
	}); err != nil {
		t.Fatal(err)
	}
	b.in.Update()
	return b
}

func TestABackdropIsHiddenMovedAndRemoved(t *testing.T) {
	b := withBackdrops(t)
	now := func() project.Backdrop { return b.Design().Backdrops[b.in.backdrop] }
	before := b.Design()
	b.line(t, backdropsGroup, "Shown").Check.SetChecked(false)
	if !now().Hidden {
		t.Error("it is not hidden")
	}
	oneStep(t, b, before, "hide backdrop table")
	before = b.Design()
	b.line(t, backdropsGroup, "In the way of sight").Check.SetChecked(true)
	if !now().Obstacle {
		t.Error("it is no obstacle")
	}
	oneStep(t, b, before, "backdrop table in the way of sight")
	before = b.Design()
	enter(b.line(t, backdropsGroup, "Turn"), "30")
	if now().Turn != 30 {
		t.Errorf("turned %v", now().Turn)
	}
	oneStep(t, b, before, "turn backdrop table")
	enter(b.line(t, backdropsGroup, "From left wall"), "0.4")
	if !near(float64(now().At.Y), 0.4) {
		t.Errorf("at %v", now().At)
	}
	before = b.Design()
	b.in.removeBackdrop()
	if len(b.Design().Backdrops) != 1 || b.in.backdropsSummary() != "1 backdrop" {
		t.Errorf("%d left, %s", len(b.Design().Backdrops), b.in.backdropsSummary())
	}
	oneStep(t, b, before, "remove backdrop table")
	b.in.removeBackdrop()
	b.in.removeBackdrop()
	if b.in.backdropsSummary() != "none" || b.in.groups[backdropsGroup].form.Line("Name") != nil {
		t.Error("something is left")
	}
}
