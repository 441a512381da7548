// SPDX-License-Identifier: MIT

package pair

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// inside reports whether the middle of f is within the room or in its wall.
func inside(d *project.Design, f project.Feature) bool {
	const inWall = 0.1 // m, what a window or a door may lie outside the finished wall
	poly, at := d.Room.Polygon(), geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	return poly.Contains(at) || poly.Distance(at) <= inWall
}

// taken reports whether a feature of the kind of f stands where f would.
func taken(d *project.Design, f project.Feature) bool {
	for _, g := range d.Room.Features {
		if g.Kind == f.Kind && near(g.At.X, f.At.X) && near(g.At.Y, f.At.Y) && near(g.At.Z, f.At.Z) {
			return true
		}
	}
	return false
}

func tidy(v float64) unit.Length { return unit.Length(math.Round(v*1e7) / 1e7) }
