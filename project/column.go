// SPDX-License-Identifier: MIT

package project

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
)

// Across returns the size of f along y before turning: of what is round, its
// diameter.
func (f Feature) Across() unit.Length {
	if f.Round {
		return f.Length
	}
	return f.Width
}

// Cylinder returns the solid of a round column, exact; ok is false for every other
// feature. How it is turned does not matter.
func (f Feature) Cylinder() (c geometry.Cylinder, ok bool) {
	return geometry.Cylinder{Center: f.At.Vec().Add(geometry.Vec{Z: float64(f.Height) / 2}), Basis: geometry.WorldBasis(),
		Radius: float64(f.Length) / 2, Half: float64(f.Height) / 2}, f.Round
}

// Solid returns the exact solid of f made ready for the kernel.
func (f Feature) Solid() geometry.Solid {
	if c, ok := f.Cylinder(); ok {
		return c.Solid()
	}
	return f.Box().Solid()
}

// Outline returns f as seen from above; of a round column, 32 sides about the
// circle: see geometry.Cylinder.Outline.
func (f Feature) Outline() geometry.Polygon {
	if c, ok := f.Cylinder(); ok {
		return c.Outline()
	}
	return f.Box().Outline()
}

// Overlap returns how far f and b reach into each other, metres, 0 when they are
// apart; see geometry.Overlap and geometry.Cylinder.Overlap.
func (f Feature) Overlap(b geometry.Box) float64 {
	if c, ok := f.Cylinder(); ok {
		return c.Overlap(b)
	}
	return geometry.Overlap(f.Box(), b)
}

// Holds reports whether p is inside f grown by slack on every side, metres.
func (f Feature) Holds(p geometry.Vec, slack float64) bool {
	b := f.Box()
	v := b.Basis.Local(p.Sub(b.Center))
	if math.Abs(v.Z) > b.Half.Z+slack {
		return false
	}
	if f.Round {
		return math.Hypot(v.X, v.Y) <= b.Half.X+slack
	}
	return math.Abs(v.X) <= b.Half.X+slack && math.Abs(v.Y) <= b.Half.Y+slack
}

// Corners returns the corners of f; of a round column, 64 points on the rim of its
// foot and as many on that of its top: no point of it lies farther out than they
// do by more than 0.0012 of its radius, and none along x or y.
func (f Feature) Corners() []geometry.Vec {
	c, ok := f.Cylinder()
	if !ok {
		p := f.Box().Corners()
		return p[:]
	}
	const around = 64
	out := make([]geometry.Vec, 0, 2*around)
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		for _, z := range [2]float64{-c.Half, c.Half} {
			out = append(out, c.Center.Add(geometry.Vec{X: c.Radius * cos, Y: c.Radius * sin, Z: z}))
		}
	}
	return out
}
