// SPDX-License-Identifier: MIT

package move

import (
	"earline/geometry"
	"earline/project"
)

// projector moves the lens, with the cabinet behind it. It snaps to the middle of the
// screen.
func (m *Move) projector(by geometry.Vec, g Grip) Step {
	step := m.grid(g.Other)
	to := m.start
	middle, _, _ := m.d.Screen.Picture()
	var met []*mark
	if m.axes.X {
		to.X, _ = settle(to.X, to.X+by.X, step, 0, nil)
	}
	if m.axes.Y {
		var k *mark
		if to.Y, k = settle(to.Y, to.Y+by.Y, step, g.Reach, []mark{{at: middle.Y, from: middle, text: "middle of the screen"}}); k != nil {
			met = append(met, k)
		}
	}
	if m.axes.Z {
		to.Z, _ = settle(to.Z, to.Z+by.Z, step, 0, nil)
	}
	return Step{Label: "move the projector", Edit: func(d *project.Design) { d.Projector.At = project.PointOf(to) }, Guides: guides(met, to)}
}
