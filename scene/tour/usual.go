// SPDX-License-Identifier: MIT

package tour

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
	"earline/scene/walk"
)

// Usual returns viewpoints for a room that has none: from the door, before the picture
// towards the seats, and in the seat nearest to the main position, before the show and in
// it. Where somebody cannot stand, that one is missing.
func Usual(r *place.Room) []project.Viewpoint {
	g := walk.In(r)
	var all []project.Viewpoint
	stand := func(name string, foot, at geometry.Vec, stay float64) {
		if !g.Free(foot) {
			return
		}
		az, _, _ := geometry.AzEl(at.Sub(g.Eyes(foot)))
		v := Keep(r, Pose{Eye: g.Eyes(foot), Az: az, Seat: scene.None}, true)
		v.Name, v.Scene, v.Stay = name, project.House, stay
		all = append(all, v)
	}
	picture, _, _ := r.Design.Screen.Picture()
	if foot, at, ok := g.Entrance(); ok {
		stand("From the door", foot, at, 3)
	}
	main, ok := MainSeat(r)
	if !ok {
		return all
	}
	front := math.Inf(1)
	for _, s := range r.Seats {
		front = min(front, s.Ref.X-float64(s.Chair.PanDepth))
	}
	const off = 0.6 // of the way from the front row to the picture
	stand("Before the picture", g.OnFloor(geometry.Vec{X: front + off*(picture.X-front), Y: picture.Y}), main.Eye, 3)
	sit := Keep(r, main, false)
	for _, s := range []struct {
		name  string
		scene project.Scene
		stay  float64
	}{{"In the main seat", project.Preshow, 3}, {"The show", project.Show, 6}} {
		sit.Name, sit.Scene, sit.Stay = s.name, s.scene, s.stay
		all = append(all, sit)
	}
	return all
}
