// SPDX-License-Identifier: MIT

package walk_test

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/scene/walk"
)

// The door of every demo opens little by little for who walks into it, is wholly open
// before they come to where the leaf turns, and stays shut for who walks away.
func TestADoorOpensForWhoWalksIntoIt(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		r := demo(t, name)
		g := walk.In(r)
		door := -1
		for i, f := range r.Design.Room.Features {
			if f.Kind == project.Door {
				door = i
			}
		}
		box := r.Design.Room.Features[door].Box()
		walls := r.Design.Room.Polygon()
		edge, _ := walls.Nearest(geometry.Vec2{X: box.Center.X, Y: box.Center.Y})
		in := walls.InwardNormal(edge)
		az := math.Atan2(in.Y, in.X) // towards the wall
		wide := 2 * max(box.Half.X, box.Half.Y)
		before := 0.0
		for far := 2.4; far > 0.1; far -= 0.05 {
			foot := geometry.Vec{X: box.Center.X + far*in.X, Y: box.Center.Y + far*in.Y}
			i, share := g.Ajar(foot, az)
			if share < before-1e-9 || share > 1 || share > 0 && i != door {
				t.Fatalf("%s: %.2f m before it door %d is open by %v, before by %v", name, far, i, share, before)
			}
			if far < wide && share < 1 {
				t.Errorf("%s: %.2f m before it, where the leaf turns, it is open by %v", name, far, share)
			}
			before = share
			if i, share := g.Ajar(foot, az+math.Pi); share != 0 || i != -1 {
				t.Fatalf("%s: it opens by %v for who walks away", name, share)
			}
		}
	}
}
