// SPDX-License-Identifier: MIT

package shell

import (
	"math"
	"slices"

	"earline/geometry"
)

// Volume returns the air in the room, in cubic metres: what is under the ceiling,
// less platforms and what is built in.
func (s *Shell) Volume() float64 {
	v := s.slopes.Volume(s.Outline)
	for i := range s.Surfaces {
		if on := &s.Surfaces[i]; on.Kind == Platform {
			v -= math.Abs(on.Outline.Area()) * on.Origin.Z
		}
	}
	for _, f := range s.room.Features {
		if InSurface(f.Kind) {
			continue
		}
		// What of it is in the room: under the ceiling, above what it stands on or in.
		b, floor := f.Box(), f.Outline()
		under := append(slices.Clone(s.slopes), geometry.Slope{Height: b.Center.Z + b.Half.Z})
		for i := range s.Surfaces {
			if on := &s.Surfaces[i]; on.Kind == Floor || on.Kind == Platform {
				bottom := max(b.Center.Z-b.Half.Z, on.Origin.Z)
				for _, p := range under.Pieces(within(on.Outline, floor)) {
					m := p.Outline.Centroid()
					v -= math.Abs(p.Outline.Area()) * max(under[p.Slope].At(m.X, m.Y)-bottom, 0)
				}
			}
		}
	}
	return max(v, 0)
}
