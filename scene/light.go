// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// The renderer has one lamp and no shadows. The light in a corner, under a chair or
// along a step is part of the colours made here. None of it is measured: it only
// has to look right.

// base is the rectangle that a chair covers on its floor.
type base struct {
	at     geometry.Vec
	b      geometry.Basis
	hx, hy float64
}

func (s *painter) bases() []base {
	out := make([]base, len(s.seats))
	for i, c := range s.seats {
		depth, lean := float64(c.Chair.PanDepth), float64(c.Chair.BackThickness)*0.5
		out[i] = base{
			at: c.Local((lean-depth)/2, 0, 0), b: c.Basis,
			hx: (depth + lean) / 2, hy: float64(c.Chair.PanWidth)/2 + float64(c.Chair.ArmWidth),
		}
	}
	return out
}

// shade returns the brightness of the floor at height z under and around the
// chairs: 1 in the open.
func shade(bases []base, x, y, z float64) float64 {
	const reach = 0.45 // m
	light := 1.0
	for i := range bases {
		c := &bases[i]
		if math.Abs(c.at.Z-z) > 0.01 {
			continue
		}
		dx, dy := x-c.at.X, y-c.at.Y
		if far := c.hx + c.hy + reach; dx*dx+dy*dy > far*far {
			continue
		}
		u := math.Abs(dx*c.b.U.X+dy*c.b.U.Y) - c.hx
		v := math.Abs(dx*c.b.V.X+dy*c.b.V.Y) - c.hy
		gap := math.Hypot(max(u, 0), max(v, 0))
		light = min(light, 0.42+0.58*step(-0.05, reach, gap))
	}
	return light
}

// glow returns how much of the picture's light falls on (x, y, z), 0 to about 1.
func (s *painter) glow(x, y, z float64) float64 {
	c, r, u := s.d.Screen.Picture()
	dx, dy, dz := x-c.X, y-c.Y, z-c.Z
	if dx <= 0 {
		return 0
	}
	d2 := dx*dx + dy*dy + dz*dz
	return min(4*r.Y*u.Z*dx/math.Sqrt(d2)/(d2+0.5), 1)
}
