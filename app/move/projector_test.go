// SPDX-License-Identifier: MIT

package move

import (
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/scene"
)

// In the plan the projector goes where it is dragged and snaps to the middle of the
// screen; in a section it goes up and down.
func TestTheProjectorIsDragged(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	it := place.Item{Kind: place.ProjectorItem}
	move := func(axes scene.Axes, by geometry.Vec) (project.Point, Step) {
		m, ok := Start(d, it, axes)
		if !ok {
			t.Fatal("it cannot be taken hold of")
		}
		s := m.To(by, Grip{Reach: 0.05})
		next := d.Clone()
		s.Edit(next)
		return next.Projector.At, s
	}
	was := d.Projector.At
	if got, s := move(scene.Axes{X: true, Y: true}, geometry.V(-0.4, 0.304, 1)); got != (project.Point{X: 7.2, Y: 3.1, Z: was.Z}) || s.Label != "move the projector" {
		t.Errorf("%+v, %q", got, s.Label)
	}
	off := d.Clone()
	off.Projector.At.Y += 0.3
	m, _ := Start(off, it, scene.Axes{X: true, Y: true})
	s := m.To(geometry.V(0, -0.28, 0), Grip{Reach: 0.05})
	if s.Edit(off); off.Projector.At.Y != d.Screen.Centre || len(s.Guides) != 1 {
		t.Errorf("it stands at %v, the screen's middle at %v", off.Projector.At.Y, d.Screen.Centre)
	}
	if got, _ := move(scene.Axes{X: true, Z: true}, geometry.V(0, 0, -0.2)); got != (project.Point{X: was.X, Y: was.Y, Z: 2.7}) {
		t.Errorf("%+v", got)
	}
	d.Projector = project.Projector{}
	if _, ok := Start(d, it, scene.Axes{X: true}); ok {
		t.Error("a projector that there is not")
	}
}
