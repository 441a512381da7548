// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/place"
)

// zones outlines the areas where subwoofers may stand, on the floor or platform
// there, and names them.
func (s *painter) zones() {
	if !s.o.Zones {
		return
	}
	l := &Lines{Name: "sub zones"}
	for i := range s.d.SubZones {
		z := s.zone(i)
		mid := z[0].Lerp(z[2], 0.5)
		if !mid.Finite() {
			continue
		}
		l.loop(s.ink.Guide, z...)
		if s.o.Labels {
			s.list.Labels = append(s.list.Labels, Label{At: World(mid), Text: s.d.ZoneName(i), Ink: s.ink.Guide, Plate: s.ink.NamePlate, Hidden: true})
		}
	}
	s.addLines(l)
}

// zone returns the corners of sub zone i as drawn. A zone without width in the
// document becomes a narrow strip.
func (s *painter) zone(i int) []geometry.Vec {
	const (
		lift  = 0.012 // m above the carpet
		least = 0.06  // m of width
	)
	z := s.d.SubZones[i]
	ends := func(a, b unit.Length) (lo, hi float64) {
		lo, hi = float64(min(a, b)), float64(max(a, b))
		if more := least - (hi - lo); more > 0 {
			lo, hi = lo-more/2, hi+more/2
		}
		return lo, hi
	}
	x0, x1 := ends(z.From.X, z.To.X)
	y0, y1 := ends(z.From.Y, z.To.Y)
	floor := place.FloorOf(s.d).At((x0+x1)/2, (y0+y1)/2)
	at := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: floor + lift} }
	return []geometry.Vec{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)}
}
