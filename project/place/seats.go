// SPDX-License-Identifier: MIT

package place

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
)

// Seat is one place to sit, worked out from its row.
type Seat struct {
	// Row and Number count from 1; Number from the listener's left.
	Row, Number int
	// Ref is where the seat pan meets the back, at the height of the platform.
	Ref geometry.Vec
	// Basis is the chair's: U backwards, V to the sitter's right, W up.
	Basis   geometry.Basis
	Chair   project.Chair
	Recline float64 // radians behind upright
}

// Name returns the short name of s: "2.3" is row 2 seat 3.
func (s Seat) Name() string { return fmt.Sprintf("%d.%d", s.Row, s.Number) }

// Seats returns every seat, row by row from the front, from left to right. Rows
// that name no known chair are left out (Validate refuses them).
func Seats(d *project.Design) []Seat {
	var n int
	for _, r := range d.Seating.Rows {
		n += max(r.Seats, 0)
	}
	seats := make([]Seat, 0, n)
	for i, r := range d.Seating.Rows {
		chair, ok := d.Chair(r.Chair)
		if !ok {
			continue
		}
		for k := range r.Seats {
			off := (float64(k) - float64(r.Seats-1)/2) * float64(r.Pitch)
			ref := geometry.Vec{
				X: float64(r.Distance),
				Y: float64(r.Centre + r.Stagger),
				Z: float64(r.Riser),
			}
			basis := geometry.WorldBasis()
			if radius := float64(r.Curve); radius > 0 {
				// The arc's centre lies radius before the row's middle; the
				// outer seats come forward and turn in towards it.
				a := off / radius
				s, c := math.Sincos(a)
				ref.X += radius * (c - 1)
				ref.Y += radius * s
				basis = geometry.YawBasis(a)
			} else {
				ref.Y += off
			}
			seats = append(seats, Seat{
				Row: i + 1, Number: k + 1, Ref: ref, Basis: basis,
				Chair: chair, Recline: r.Recline.Radians(),
			})
		}
	}
	return seats
}

// Local returns the room-frame point of a seat whose offset from Ref is back,
// right and up, in metres, in the chair's own frame.
func (s Seat) Local(back, right, up float64) geometry.Vec {
	return s.Ref.Add(s.Basis.World(geometry.Vec{X: back, Y: right, Z: up}))
}

// MainPoint returns the main listening position: the point midway between the
// ears of a listener in the middle of the main row, or the fixed point.
func MainPoint(d *project.Design) geometry.Vec {
	m := d.Seating.Main
	if m.Row < 1 || m.Row > len(d.Seating.Rows) {
		return m.At.Vec()
	}
	row := d.Seating.Rows[m.Row-1]
	chair, ok := d.Chair(row.Chair)
	if !ok {
		return m.At.Vec()
	}
	seat := Seat{
		Row: m.Row,
		Ref: geometry.Vec{
			X: float64(row.Distance), Y: float64(row.Centre + row.Stagger), Z: float64(row.Riser)},
		Basis: geometry.WorldBasis(), Chair: chair, Recline: row.Recline.Radians(),
	}
	b := Listener(d, seat)
	return b.Ear()
}
