// SPDX-License-Identifier: MIT

package projecttest

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// planes adds planes to the ceiling: along and across the room, as gables and hips
// are, or askew, down to knee walls of 1.6 m.
func (b *builder) planes() {
	const knee = 1.6 // m
	c := &b.d.Room.Ceiling
	lo, hi := b.poly.Bounds()
	for want, tries := 2+b.IntN(3), 0; len(c.Planes) < want && tries < 200; tries++ {
		from := geometry.Vec2{X: b.between(lo.X, hi.X), Y: b.between(lo.Y, hi.Y)}
		way := one(b, geometry.Vec2{X: 1}, geometry.Vec2{X: -1}, geometry.Vec2{Y: 1}, geometry.Vec2{Y: -1},
			geometry.Vec2{X: 2*b.Float64() - 1, Y: 2*b.Float64() - 1})
		to := from.Add(way.Mul(b.between(0.5, 2)))
		if to.X < 0 || to.Y < 0 || to.X > hi.X || to.Y > hi.Y || from.Dist(to) < 0.3 {
			continue
		}
		h := b.between(0.75, 1) * b.d.Room.CeilingAt(from.X, from.Y)
		p := project.CeilingPlane{From: project.Corner{X: tidy(from.X), Y: tidy(from.Y)}, FromHeight: tidy(h),
			To: project.Corner{X: tidy(to.X), Y: tidy(to.Y)}, ToHeight: unit.Length(max(float64(tidy(h-from.Dist(to)*b.between(-0.2, 1))), 0))}
		c.Planes = append(c.Planes, p)
		if !b.counts(knee) {
			c.Planes = c.Planes[:len(c.Planes)-1]
		}
	}
}

// counts reports whether every plane of the ceiling is the lowest over some of the
// floor, and none below knee.
func (b *builder) counts(knee float64) bool {
	s := b.d.Room.Slopes()
	area := make([]float64, len(s))
	for _, p := range s.Pieces(b.poly) {
		area[p.Slope] = math.Abs(p.Outline.Area())
	}
	for _, a := range area[1:] {
		if a < 0.05 {
			return false
		}
	}
	low, _ := s.Range(b.poly)
	return low >= knee
}
