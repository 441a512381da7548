// SPDX-License-Identifier: MIT

package projecttest

import (
	"earline/geometry/unit"
	"earline/project"
)

// furniture draws a counter, a chimney or a beam into room b.
func (b *builder) furniture(room *builder) {
	if !b.chance(0.4) {
		return
	}
	f := project.Feature{Kind: one(b, project.Counter, project.Chimney, project.Beam), Turn: b.turn(),
		Length: b.length(0.15, 0.6), Width: b.length(0.3, 2), Height: b.length(0.8, 1.2)}
	f.At.X, f.At.Y = b.length(0.3, room.long), b.length(0.1, room.wide)
	switch top := unit.Length(b.d.Room.CeilingAt(float64(f.At.X), float64(f.At.Y))); f.Kind {
	case project.Chimney:
		f.Height = tidy(float64(top))
	case project.Beam:
		f.Height = b.length(0.1, 0.3)
		f.At.Z = tidy(float64(top - f.Height))
	}
	if !room.swallows(f) {
		b.d.Room.Features = append(b.d.Room.Features, f)
	}
}

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
