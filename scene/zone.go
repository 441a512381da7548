// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// zones outlines on the floor, or on the platform that is there, where
// subwoofers may stand, and names it. What is a mere line in the document is
// drawn as a narrow strip.
func (s *site) zones() {
	l := &Lines{Name: "sub zones"}
	const (
		lift  = 0.012 // m above the carpet
		least = 0.06  // m of width
	)
	for i, z := range s.d.SubZones {
		x0, x1 := math.Min(float64(z.From.X), float64(z.To.X)), math.Max(float64(z.From.X), float64(z.To.X))
		y0, y1 := math.Min(float64(z.From.Y), float64(z.To.Y)), math.Max(float64(z.From.Y), float64(z.To.Y))
		if more := least - (x1 - x0); more > 0 {
			x0, x1 = x0-more/2, x1+more/2
		}
		if more := least - (y1 - y0); more > 0 {
			y0, y1 = y0-more/2, y1+more/2
		}
		mid := geometry.Vec{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}
		if !mid.Finite() {
			continue
		}
		floor := 0.0
		for k := range s.d.Seating.Rows {
			if b, ok := s.d.Platform(k); ok && math.Abs(mid.X-b.Center.X) <= b.Half.X && math.Abs(mid.Y-b.Center.Y) <= b.Half.Y {
				floor = math.Max(floor, b.Center.Z+b.Half.Z)
			}
		}
		at := func(x, y float64) geometry.Vec { return geometry.Vec{X: x, Y: y, Z: floor + lift} }
		l.loop(guideInk, at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1))
		if s.o.Labels {
			s.list.Labels = append(s.list.Labels, Label{At: World(at(mid.X, mid.Y)), Text: s.d.ZoneName(i), Ink: guideInk, Plate: plateDark, Hidden: true})
		}
	}
	s.addLines(l)
}
