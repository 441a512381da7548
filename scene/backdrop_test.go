// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/sight"
	"earline/scene"
)

// A mesh and the lines of a plan are drawn where they lie, unless they are hidden; lines
// on the floor lie over it, and in a plan over everything.
func TestBackdropsAreDrawn(t *testing.T) {
	d := demo(t, "small").Clone()
	b := project.Backdrop{Name: "table", At: project.Point{X: 2, Y: 1}}
	b.SetMesh(project.Mesh{Points: []geometry.Vec{{}, {X: 1}, {Y: 1}, {Z: 0.7}}, Triangles: [][3]int{{0, 1, 3}}, Lines: [][2]int{{0, 1}, {1, 2}}})
	d.Backdrops = []project.Backdrop{b}
	find := func(o scene.Options) (mesh *scene.Mesh, lines *scene.Lines) {
		l := scene.Build(d, nil, o)
		for i := range l.Meshes {
			if l.Meshes[i].Name == "backdrop table" {
				mesh = &l.Meshes[i]
			}
		}
		for i := range l.Lines {
			if l.Lines[i].Name == "backdrop table" {
				lines = &l.Lines[i]
			}
		}
		return mesh, lines
	}
	mesh, lines := find(scene.Default())
	if mesh == nil || lines == nil || len(mesh.Index) != 3 || len(lines.Pos) != 2*2*3 {
		t.Fatalf("%v, %v", mesh, lines)
	}
	if at := scene.World(geometry.V(2, 1, 0)); mesh.Pos[0] != at[0] || mesh.Pos[2] != at[2] || lines.Pos[0] != at[0] {
		t.Errorf("at %v and %v", mesh.Pos, lines.Pos)
	}
	if !(lines.Pos[1] > 0) || lines.OnTop || mesh.Alpha >= 1 {
		t.Error("lines lie in the floor, or it is drawn as an obstacle")
	}
	o := scene.Default()
	o.Drawing = scene.Axes{X: true, Y: true}
	if _, lines = find(o); !lines.OnTop {
		t.Error("a plan's lines lie under things")
	}
	d.Backdrops[0].Obstacle = true
	if mesh, _ = find(scene.Default()); mesh.Alpha != 1 {
		t.Error("an obstacle is seen through")
	}
	d.Backdrops[0].Hidden = true
	if mesh, lines = find(scene.Default()); mesh != nil || lines != nil {
		t.Error("it is drawn though hidden")
	}
}

// What hides in a picture of rays is the triangle in the way, seen from both sides.
func TestTheTriangleInTheWayIsTinted(t *testing.T) {
	d := demo(t, "small").Clone()
	b := project.Backdrop{Name: "curtain", Obstacle: true}
	b.SetMesh(project.Mesh{Points: []geometry.Vec{{X: 1.5, Y: -9, Z: -9}, {X: 1.5, Y: 30, Z: -9}, {X: 1.5, Z: 30}}, Triangles: [][3]int{{0, 1, 2}}})
	d.Backdrops = []project.Backdrop{b}
	l := scene.Build(d, sight.Audit(d), scene.Default())
	for _, m := range l.Meshes {
		if m.Alpha < 1 && m.OnTop && len(m.Index) >= 6 {
			return
		}
	}
	t.Error("nothing is tinted")
}
