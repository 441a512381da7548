// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"earline/project"
)

// Viewpoints are named, moved within the tour, lit and removed, each in one step of undo.
func TestViewpointsAreEdited(t *testing.T) {
	b := newBench(t, "small")
	if err := b.Do("keep", "", func(d *project.Design) {
		d.Viewpoints = []project.Viewpoint{{Name: "door", Kind: project.Standing, At: project.Point{X: 1, Y: 1}}, {Name: "seat", Kind: project.Seated, Seat: d.Seating.Rows[0].SeatID(1)}}
	}); err != nil {
		t.Fatal(err)
	}
	names := func() (all string) {
		for _, v := range b.Design().Viewpoints {
			all += v.Name + " "
		}
		return all
	}
	enter(b.line(t, viewpointsGroup, "Name"), "By the door")
	enter(b.line(t, viewpointsGroup, "From screen wall"), "1.2 m")
	enter(b.line(t, viewpointsGroup, "Stay"), "8 s")
	if v := b.Design().Viewpoints[0]; v.Name != "By the door" || !near(float64(v.At.X), 1.2) || v.Stay != 8 {
		t.Errorf("%+v", v)
	}
	before := b.Design()
	b.in.moveViewpoint(1)
	oneStep(t, b, before, "move viewpoint By the door")
	b.in.moveViewpoint(1) // beyond the end
	if names() != "seat By the door " || b.in.viewpoint != 1 {
		t.Errorf("%s, shown is %d", names(), b.in.viewpoint)
	}
	b.in.duplicateViewpoint()
	if names() != "seat By the door By the door (2) " {
		t.Error(names())
	}
	enter(b.line(t, viewpointsGroup, "Name"), "seat")
	if b.line(t, viewpointsGroup, "Name").Fault() == "" {
		t.Error("two viewpoints of one name")
	}
	for range 4 {
		b.in.removeViewpoint()
	}
	if names() != "" || b.in.groups[viewpointsGroup].form.Line("Name") != nil {
		t.Errorf("left: %s", names())
	}
	enter(b.line(t, viewpointsGroup, "Down to the show"), "9 s")
	if b.Design().Entrance.Down != 9 {
		t.Errorf("%+v", b.Design().Entrance)
	}
}
