// SPDX-License-Identifier: MIT

package projecttest

import (
	"earline/geometry/unit"
	"earline/project"
)

// projector draws a projector: under the ceiling or on a shelf, as often as not at the
// height of heads, and seldom behind a port. It may reach into what is there.
func (b *builder) projector() {
	m := project.ProjectorModel{ID: "projector", Light: 2000, Calibrated: 0.8, Aged: 0.7, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: b.between(0.5, 1.5), ThrowMax: b.between(1.5, 3), ShiftUp: one(b, 0, 0.5, 0.8), ShiftRight: one(b, 0, 0.25),
		ShiftShape: one(b, project.ShiftEllipse, project.ShiftDiamond, project.ShiftRectangle),
		Width:      b.length(0.2, 0.7), Height: b.length(0.1, 0.4), Depth: b.length(0.2, 0.8)}
	if b.chance(0.3) {
		m.LensAhead = b.length(0.01, 0.1)
	}
	b.d.ProjectorModels = append(b.d.ProjectorModels, m)
	lo, hi := b.poly.Bounds()
	least := max(lo.X+0.3, float64(b.d.Screen.Distance)+0.2)
	at := project.Point{X: unit.Length(b.between(least, max(least, hi.X-0.3))), Y: b.length(lo.Y+0.3, hi.Y-0.3), Z: b.length(0.7, 2.2)}
	if b.chance(0.3) {
		at.Z = unit.Length(b.d.Room.CeilingAt(float64(at.X), float64(at.Y))) - b.length(0.15, 0.6)
	}
	b.d.Projector = project.Projector{Model: m.ID, At: at, Fill: one(b, project.Zoom, project.Scaled, project.Anamorphic),
		Mount: one(b, project.CeilingMount, project.CeilingMount, project.CeilingMount, project.ShelfMount, project.ShelfMount, project.PortMount)}
}
