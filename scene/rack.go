// SPDX-License-Identifier: MIT

package scene

import (
	"math/rand/v2"

	"earline/geometry"
)

// Equipment in racks (IEC 60297-3-100, from memory): how wide a front is, and how high a
// unit, metres.
const (
	frontWide = 0.4826
	rackUnit  = 0.04445
)

// rack draws a cabinet, and on the side that looks into the room fronts of equipment. They
// are no particular ones.
func (s *painter) rack(p pen, b geometry.Box) {
	h, shell := b.Half, s.coats.cabinet.RGB
	p.bevel(h, min(0.006, h.X/4, h.Y/4, h.Z/4), plainSkin(shell))
	side, deep, half := s.facingIn(b)
	up := geometry.Vec{Z: 1}
	front := p.to(side.Mul(deep), geometry.Basis{U: up.Cross(side), V: up, W: side})
	const edge, proud = 0.04, 0.003 // m
	x := min(frontWide/2, half-edge)
	if x < edge {
		return
	}
	r := rand.New(rand.NewPCG(1, uint64(len(s.d.Room.Features)))) // the same each time
	for top := h.Z - edge; ; {
		bottom := top - rackUnit*float64(1+r.IntN(4))
		if bottom < edge-h.Z {
			return
		}
		plate := front.by(0, (top+bottom)/2, 0)
		tone := 1.15 + 0.5*r.Float64()
		plate.of(Metal).bevel(geometry.Vec{X: x, Y: (top-bottom)/2 - 0.001, Z: proud}, 0.001, plainSkin(shell.times(tone)))
		if r.Float64() < 0.4 { // a grille over a fan
			plate.rect(-0.7*x, 0.7*x, -(top-bottom)/2+0.012, (top-bottom)/2-0.012, proud+0.0005, shell.times(0.8))
		}
		top = bottom
	}
}

// facingIn returns the side of an upright box that looks most into the room: its normal in
// the frame of the box, how far out it lies, and half its width.
func (s *painter) facingIn(b geometry.Box) (side geometry.Vec, deep, half float64) {
	middle := s.d.Room.Polygon().Centroid()
	in := geometry.Vec{X: middle.X - b.Center.X, Y: middle.Y - b.Center.Y}
	x, y := in.Dot(b.Basis.U), in.Dot(b.Basis.V)
	switch {
	case x*x >= y*y && x >= 0:
		return geometry.Vec{X: 1}, b.Half.X, b.Half.Y
	case x*x >= y*y:
		return geometry.Vec{X: -1}, b.Half.X, b.Half.Y
	case y >= 0:
		return geometry.Vec{Y: 1}, b.Half.Y, b.Half.X
	}
	return geometry.Vec{Y: -1}, b.Half.Y, b.Half.X
}
