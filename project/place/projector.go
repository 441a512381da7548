// SPDX-License-Identifier: MIT

package place

import (
	"earline/geometry"
	"earline/project"
)

// Cabinet returns the box of the projector of d, level and square to the screen, the lens
// in the middle of its front. ok is false where there is none in the room: none at all, or
// one behind a port.
func Cabinet(d *project.Design) (geometry.Box, bool) {
	m, ok := d.ProjectorModel(d.Projector.Model)
	if !ok || !d.Projector.Given() || d.Projector.Mount == project.PortMount {
		return geometry.Box{}, false
	}
	return CabinetOf(m, d.Projector.At.Vec()), true
}

// CabinetOf returns the box of a projector whose front lens has its middle at lens.
func CabinetOf(m project.ProjectorModel, lens geometry.Vec) geometry.Box {
	half := geometry.Vec{X: float64(m.Depth) / 2, Y: float64(m.Width) / 2, Z: float64(m.Height) / 2}
	return geometry.Box{Center: lens.Add(geometry.Vec{X: float64(m.LensAhead) + half.X}), Basis: geometry.WorldBasis(), Half: half}
}
