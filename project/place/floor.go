// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Platform returns the platform of row i (from 0): a box from wall to wall. ok
// is false for a row on the room's floor.
func Platform(d *project.Design, i int) (geometry.Box, bool) {
	r := d.Seating.Rows[i]
	if r.Riser <= 0 || r.Front+r.Back <= 0 {
		return geometry.Box{}, false
	}
	lo, hi := d.Room.Polygon().Bounds()
	front := math.Max(float64(r.Distance-r.Front), lo.X)
	back := math.Min(float64(r.Distance+r.Back), hi.X)
	if back <= front || hi.Y <= lo.Y {
		return geometry.Box{}, false
	}
	return geometry.Box{
		Center: geometry.Vec{X: (front + back) / 2, Y: (lo.Y + hi.Y) / 2, Z: float64(r.Riser) / 2},
		Basis:  geometry.WorldBasis(),
		Half:   geometry.Vec{X: (back - front) / 2, Y: (hi.Y - lo.Y) / 2, Z: float64(r.Riser) / 2},
	}, true
}

// Floor is the platforms that stand on the room's floor.
type Floor []geometry.Box

// FloorOf returns the floor of d.
func FloorOf(d *project.Design) Floor {
	var f Floor
	for i := range d.Seating.Rows {
		if b, ok := Platform(d, i); ok {
			f = append(f, b)
		}
	}
	return f
}

// At returns how high one stands at (x, y), metres: on the room's floor, 0, or
// on the highest platform there. Platforms reach from wall to wall, so that y
// does not matter, and their edges belong to them.
func (f Floor) At(x, _ float64) float64 {
	z := 0.0
	for i := range f {
		if b := &f[i]; x >= b.Center.X-b.Half.X && x <= b.Center.X+b.Half.X {
			z = max(z, b.Center.Z+b.Half.Z)
		}
	}
	return z
}
