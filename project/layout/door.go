// SPDX-License-Identifier: MIT

package layout

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// door adds a door to the side wall or the back wall of an empty rectangle. It opens
// outwards, before the rows if it can be, else beside or behind them, clear of
// loudspeakers and with free floor inside. A room too full for one gets none.
func (p *planner) door(d *project.Design) {
	const (
		leaf, tall = 0.85, 2.0
		thick      = 0.04
		beside     = 0.15 // m to a corner or a loudspeaker
	)
	space := p.limits.doorSpace
	floor := place.FloorOf(d)
	var chairs []geometry.Polygon
	for _, s := range place.Seats(d) {
		chairs = append(chairs, s.Outline(1))
	}
	free := func(lo, hi geometry.Vec2) bool {
		for _, c := range chairs {
			a, b := c.Bounds()
			if a.X < hi.X && b.X > lo.X && a.Y < hi.Y && b.Y > lo.Y {
				return false
			}
		}
		return true
	}
	clear := func(at geometry.Vec2, along bool) bool { // along x
		for _, s := range d.Speakers {
			dx, dy := float64(s.At.X)-at.X, float64(s.At.Y)-at.Y
			if !along {
				dx, dy = dy, dx
			}
			if dy > -0.4 && dy < 0.4 && dx > -leaf/2-beside-0.15 && dx < leaf/2+beside+0.15 && float64(s.At.Z) < tall+0.3 {
				return false
			}
		}
		return true
	}
	try := func(f project.Feature, at geometry.Vec2, along bool, lo, hi geometry.Vec2) bool {
		z := floor.At(lo.X, 0)
		if floor.At(hi.X, 0) != z && along || p.top(rect{lo, hi})-z < tall+0.02 || !clear(at, along) || !free(lo, hi) {
			return false
		}
		f.Kind, f.Name, f.Height, f.Swing, f.Material = project.Door, "door", tall, project.OutLeft, "door-wood"
		f.At.Z = lengthOf(z)
		d.Room.Features = append(d.Room.Features, f)
		return true
	}
	for x := float64(d.Screen.Distance) + 0.1 + leaf/2; x < p.back-leaf/2-beside; x += 0.05 {
		at := geometry.Vec2{X: x, Y: p.right()}
		f := project.Feature{Length: leaf, Width: thick}
		f.At.X, f.At.Y = lengthOf(x), lengthOf(p.right()-thick/2)
		if try(f, at, true, geometry.Vec2{X: x - leaf/2, Y: p.right() - space}, geometry.Vec2{X: x + leaf/2, Y: p.right()}) {
			return
		}
	}
	for y := p.right() - beside - leaf/2; y > leaf/2+beside; y -= 0.05 {
		at := geometry.Vec2{X: p.back, Y: y}
		f := project.Feature{Length: thick, Width: leaf}
		f.At.X, f.At.Y = lengthOf(p.back-thick/2), lengthOf(y)
		if try(f, at, false, geometry.Vec2{X: p.back - space, Y: y - leaf/2}, geometry.Vec2{X: p.back - 0.01, Y: y + leaf/2}) {
			return
		}
	}
}

// right returns the y of the hall's right wall.
func (h hall) right() float64 { return h.centre + h.wide/2 }
