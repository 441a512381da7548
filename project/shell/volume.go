// SPDX-License-Identifier: MIT

package shell

import (
	"math"

	"earline/geometry"
)

// Volume returns the air in the room: the ceiling is flat, so its mean height is
// that over the centroid of the footprint; less platforms and what is built in.
func (s *Shell) Volume() float64 {
	c := centroid(s.Outline)
	v := math.Abs(s.Outline.Area()) * s.room.CeilingAt(c.X, c.Y)
	for i := range s.Surfaces {
		if on := &s.Surfaces[i]; on.Kind == Platform {
			v -= math.Abs(on.Outline.Area()) * on.Origin.Z
		}
	}
	for _, f := range s.room.Features {
		if InSurface(f.Kind) {
			continue
		}
		// What of it is in the room, above what it stands on or in.
		b, floor := f.Box(), f.Outline()
		top := min(b.Center.Z+b.Half.Z, s.room.CeilingAt(b.Center.X, b.Center.Y))
		for i := range s.Surfaces {
			if on := &s.Surfaces[i]; on.Kind == Floor || on.Kind == Platform {
				bottom := max(b.Center.Z-b.Half.Z, on.Origin.Z)
				v -= math.Abs(within(on.Outline, floor).Area()) * max(top-bottom, 0)
			}
		}
	}
	return max(v, 0)
}

// centroid returns that of the area of p.
func centroid(p geometry.Polygon) geometry.Vec2 {
	var sum geometry.Vec2
	area := 0.0
	for i := 2; i < len(p); i++ {
		a := p[i-1].Sub(p[0]).Cross(p[i].Sub(p[0])) / 2
		sum = sum.Add(p[0].Add(p[i-1]).Add(p[i]).Mul(a / 3))
		area += a
	}
	if area == 0 {
		return geometry.Vec2{}
	}
	return sum.Mul(1 / area)
}
