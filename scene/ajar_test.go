// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/scene"
)

// A leaf turns about its hinge: it keeps its size, one edge stays, the other comes into
// the room as far as it is wide, or leaves it; what else is there stays as it was.
func TestADoorTurnsAboutItsHinge(t *testing.T) {
	demo, _ := file.Demo("large")
	for _, swing := range []project.Swing{project.InLeft, project.InRight, project.OutLeft, project.OutRight} {
		d := demo.Clone()
		door := -1
		for i := range d.Room.Features {
			if d.Room.Features[i].Kind == project.Door {
				door, d.Room.Features[i].Swing = i, swing
			}
		}
		o := scene.Default()
		o.Client, o.Bare = true, true
		shut := scene.Build(d, nil, o)
		open := scene.Ajar(shut, d, door, 1)
		if scene.Ajar(shut, d, door, 0) != shut || scene.Ajar(shut, d, 0, 1) != shut && d.Room.Features[0].Kind != project.Door {
			t.Error("a shut door, or what is none, is drawn anew")
		}
		if len(open.Meshes) != len(shut.Meshes)+1 {
			t.Fatalf("%s: %d meshes of %d", swing, len(open.Meshes), len(shut.Meshes))
		}
		box := d.Room.Features[door].Box()
		walls := d.Room.Polygon()
		edge, _ := walls.Nearest(geometry.Vec2{X: box.Center.X, Y: box.Center.Y})
		in := walls.InwardNormal(edge)
		for k := range shut.Meshes {
			a, b := &shut.Meshes[k], &open.Meshes[k]
			if a.Door != door+1 {
				if &a.Pos[0] != &b.Pos[0] {
					t.Errorf("%s: %s is another", swing, a.Name)
				}
				continue
			}
			deepest, stays := 0.0, math.Inf(1)
			for v := 0; v < len(a.Pos); v += 3 {
				at := geometry.Vec{X: float64(b.Pos[v+2]), Y: float64(b.Pos[v]), Z: float64(b.Pos[v+1])}
				was := geometry.Vec{X: float64(a.Pos[v+2]), Y: float64(a.Pos[v]), Z: float64(a.Pos[v+1])}
				stays = min(stays, at.Dist(was))
				if off := at.Sub(box.Center); math.Abs(off.X*in.X+off.Y*in.Y) > math.Abs(deepest) {
					deepest = off.X*in.X + off.Y*in.Y
				}
				for w := 0; w < v; w += 60 { // it is rigid
					x := geometry.Vec{X: float64(a.Pos[w+2]), Y: float64(a.Pos[w]), Z: float64(a.Pos[w+1])}
					y := geometry.Vec{X: float64(b.Pos[w+2]), Y: float64(b.Pos[w]), Z: float64(b.Pos[w+1])}
					if math.Abs(at.Dist(y)-was.Dist(x)) > 1e-4 {
						t.Fatalf("%s: the leaf is bent", swing)
					}
				}
			}
			wide := 2 * max(box.Half.X, box.Half.Y)
			inward := swing == project.InLeft || swing == project.InRight
			if (deepest > 0) != inward || math.Abs(deepest) < 0.9*wide || stays > 0.04 {
				t.Errorf("%s: the leaf reaches %.2f m into the room, the hinge moves %.3f m", swing, deepest, stays)
			}
		}
	}
}
