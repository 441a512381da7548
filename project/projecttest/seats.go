// SPDX-License-Identifier: MIT

package projecttest

import (
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// chairs draws one or two models, with or without arms and headrest.
func (b *builder) chairs() {
	for _, id := range []string{"chair", "recliner"}[:1+b.IntN(2)] {
		c := project.Chair{ID: id, Name: id, PanHeight: b.length(0.35, 0.5), PanDepth: b.length(0.45, 0.6), PanWidth: b.length(0.48, 0.62),
			BackHeight: b.length(0.4, 0.75), BackThickness: b.length(0.05, 0.2),
			MinRecline: one[unit.Degrees](b, -5, 0, 0, 8), MaxRecline: b.degrees(30, 80), Footrest: one[unit.Length](b, 0, 0.4)}
		if b.chance(0.7) {
			c.ArmWidth, c.ArmHeight = b.length(0.05, 0.2), b.length(0.12, 0.3)
		}
		if b.chance(0.6) {
			c.Headrest, c.HeadrestWidth = b.length(0.08, 0.25), b.length(0.2, 0.5)
		}
		b.d.Chairs = append(b.d.Chairs, c)
	}
}

// seating draws 1 to 5 rows, straight or curved, staggered, on platforms.
func (b *builder) seating() {
	b.chairs()
	s := &b.d.Seating
	s.Sitters = project.Sitters{Listener: 50, Others: 95, Women: 0.5, Sink: 0.03, Slump: 0.04}
	if b.chance(0.5) {
		s.Sitters = project.Sitters{Listener: one(b, 1.0, 5, 25, 50, 75, 95, 99), Others: one(b, 1.0, 5, 50, 95, 99),
			Women: one(b, 0, 0.5, 1, b.Float64()), Sink: b.length(0, 0.08), Slump: b.length(0, 0.1)}
	}
	left := b.o.Seats
	x := float64(b.d.Screen.Distance) + b.between(0.25, 0.45)*b.long
	riser, step := unit.Length(0), one(b, 0, b.length(0.1, 0.35))
	for want := 1 + b.IntN(5); want > 0 && left > 0; want-- {
		pitch := b.between(1.0, 1.7)
		if row, ok := b.row(x, riser, left, pitch); ok {
			s.Rows = append(s.Rows, row)
			left -= row.Seats
			riser += step
		}
		if x += pitch; x > b.long-0.4 {
			break
		}
	}
	if len(s.Rows) == 0 { // one seat in the middle of the floor
		at := b.middle(0.7 * b.long)
		s.Rows = []project.Row{{Chair: b.d.Chairs[0].ID, Distance: unit.Length(at.X), Seats: 1, Pitch: 0.7,
			Centre: unit.Length(at.Y), Recline: b.d.Chairs[0].MinRecline}}
	}
	if !b.o.Inside && b.chance(0.04) { // a slip
		r := &s.Rows[b.IntN(len(s.Rows))]
		r.Centre += one[unit.Length](b, -1, 1) * unit.Length(b.wide/2)
	}
	s.Main.Row = b.IntN(len(s.Rows) + 1)
	if s.Main.Row == 0 {
		m := s.Rows[b.IntN(len(s.Rows))]
		s.Main.At = project.Point{X: m.Distance, Y: m.Centre, Z: m.Riser + 1.1}
	}
}

// row draws a row at x of at most so many seats, pitch before the next. ok is
// false when none fits.
func (b *builder) row(x float64, riser unit.Length, most int, pitch float64) (row project.Row, ok bool) {
	chair := b.d.Chairs[b.IntN(len(b.d.Chairs))]
	m := b.middle(x)
	for try := range 30 {
		r := project.Row{Chair: chair.ID, Distance: unit.Length(x), Riser: riser,
			Seats: 1 + b.IntN(min(most, 6)), Pitch: chair.PanWidth + chair.ArmWidth + b.length(0, 0.15),
			Centre:  unit.Length(m.Y),
			Recline: min(b.degrees(float64(chair.MinRecline), float64(chair.MaxRecline)), chair.MaxRecline)}
		if b.chance(0.5) {
			r.Recline = min(max(b.degrees(0, 30), chair.MinRecline), chair.MaxRecline)
		}
		if riser > 0 || b.chance(0.1) {
			r.Riser = max(riser, 0.1)
			r.Front, r.Back = b.length(0.5, 1), unit.Length(max(pitch-0.9, 0.2))
			if b.chance(0.3) { // to the back wall
				r.Back = 20
			}
		}
		if b.chance(0.3) {
			r.Curve = max(b.length(3, 12), r.Pitch*unit.Length(r.Seats)/2)
		}
		if b.chance(0.3) {
			r.Stagger = b.length(-0.4, 0.4)
		}
		if try > 20 {
			r.Seats, r.Stagger = 1, 0
		}
		if b.fits(r) {
			return r, true
		}
	}
	return project.Row{}, false
}

// fits reports whether everybody in row r is within the shell.
func (b *builder) fits(r project.Row) bool {
	for _, p := range heads(b.d, r) {
		if !b.inside(p) {
			return false
		}
	}
	return true
}

// heads returns the ears and eyes of a row alone, and where it sits.
func heads(d *project.Design, row project.Row) []geometry.Vec {
	alone := *d
	alone.Seating.Rows = []project.Row{row}
	var out []geometry.Vec
	for _, s := range place.Seats(&alone) {
		b := place.Listener(&alone, s)
		seat := s.Ref
		seat.Z += 0.4
		out = append(out, b.EarLeft, b.EarRight, b.Eye(), seat)
	}
	return out
}
