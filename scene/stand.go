// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// stand draws what carries a box that stands on the floor: feet, or a stand where it is
// higher. It is drawn for a client alone, since nothing that is judged knows of it.
func (s *painter) stand(p pen, b place.Speaker) {
	const (
		hair  = 0.002 // m: it stands already
		foot  = 0.06  // m, the highest
		plate = 0.012 // m
	)
	if !s.o.Client || b.Mount != project.OnFloor || b.Spec.Flush {
		return
	}
	at := b.Box.Center
	low := at.Z
	for k := range 8 {
		h := b.Box.Half
		low = min(low, at.Add(b.Box.Basis.World(geometry.Vec{X: choose(k&1, -h.X, h.X), Y: choose(k>>1&1, -h.Y, h.Y), Z: choose(k>>2, -h.Z, h.Z)})).Z)
	}
	floor := place.FloorOf(s.d).At(at.X, at.Y)
	gap := low - floor
	if !(gap > hair) {
		return
	}
	// Forward and to the side, level.
	u, ok := geometry.Vec{X: b.Front.W.X, Y: b.Front.W.Y}.Unit()
	if !ok {
		u = geometry.Vec{X: 1}
	}
	p = p.to(geometry.Vec{X: at.X, Y: at.Y, Z: floor}, geometry.Basis{U: u, V: geometry.Vec{X: -u.Y, Y: u.X}, W: geometry.Vec{Z: 1}})
	x, y := float64(b.Spec.Depth)/2, float64(b.Spec.Width)/2
	if gap <= foot {
		const r, in = 0.022, 0.05 // m
		for _, q := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			p.by(q[0]*max(x-in, x/2), q[1]*max(y-in, y/2), 0).lathe([]turning{{r: r, z: 0, c: rubber}, {r: 0.8 * r, z: gap, c: rubber}}, 10, 1)
		}
		return
	}
	steel := plainSkin(lacquer)
	p.by(0, 0, plate/2).bevel(geometry.Vec{X: min(x, 0.16), Y: min(y, 0.14), Z: plate / 2}, 0.004, steel)
	p.by(0, 0, gap-plate/2).bevel(geometry.Vec{X: 0.8 * min(x, 0.12), Y: 0.8 * min(y, 0.12), Z: plate / 2}, 0.004, steel)
	p.by(-0.02, 0, gap/2).bevel(geometry.Vec{X: 0.022, Y: 0.038, Z: gap/2 - plate}, 0.008, steel)
}
