// SPDX-License-Identifier: MIT

package projecttest

import (
	"earline/geometry/unit"
	"earline/project"
)

// platforms makes islands of some platforms and draws steps up to some.
func (b *builder) platforms() {
	_, hi := b.d.Room.Polygon().Bounds()
	for i := range b.d.Seating.Rows {
		r := &b.d.Seating.Rows[i]
		if r.Riser <= 0 {
			continue
		}
		half := r.Pitch * unit.Length(r.Seats) / 2
		left, right := r.Centre+r.Stagger-half, r.Centre+r.Stagger+half
		if b.chance(0.4) {
			r.Left = max(left-b.length(0, 0.6), 0)
		}
		if b.chance(0.4) {
			r.Right = max(right+b.length(0, 0.6), r.Left+0.1)
		}
		for b.chance(0.4) && len(r.Steps) < 3 {
			s := project.Steps{Side: one(b, project.FrontSide, project.BackSide, project.LeftSide, project.RightSide),
				Width: b.length(0.4, 1.4), Tread: b.length(0.2, 0.4), Rise: b.length(0.1, 0.22)}
			s.At = max(r.Distance+b.length(-0.4, 0.4), 0)
			if s.Side == project.FrontSide || s.Side == project.BackSide {
				s.At = one(b, max(left-b.length(0, 0.5), 0), right+b.length(0, 0.5), unit.Length(hi.Y)/2)
			}
			r.Steps = append(r.Steps, s)
		}
	}
}
