// SPDX-License-Identifier: MIT

package layout

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// seat is a chair and how it is used.
type seat struct {
	project.Chair
	recline unit.Degrees
	// least is the least distance from row to row, widest the most from seat to seat.
	least, widest float64
}

// usualSeats are the chairs of a room that has none, the most comfortable first. Their
// backs end below the ears: a headrest beside a head stands in the way of whatever
// comes from the side.
func usualSeats() []seat {
	return []seat{
		{project.Chair{ID: "lounge", Name: "Lounge recliner", PanHeight: 0.43, PanDepth: 0.53, PanWidth: 0.56,
			BackHeight: 0.5, BackThickness: 0.14, ArmWidth: 0.11, ArmHeight: 0.18,
			MinRecline: 10, MaxRecline: 35, Footrest: 0.38, Upholstery: "chair-leather"}, 10, 1.36, 0.95},
		{project.Chair{ID: "theatre", Name: "Theatre chair", PanHeight: 0.44, PanDepth: 0.48, PanWidth: 0.5,
			BackHeight: 0.5, BackThickness: 0.12, ArmWidth: 0.08, ArmHeight: 0.18,
			MinRecline: 8, MaxRecline: 20, Upholstery: "chair-leather"}, 8, 1.05, 0.75},
	}
}

// seatsOf returns the chairs that the rows of d have, as they have them, then its other
// chairs; those of a bar left out. Without any it returns the usual ones.
func seatsOf(d *project.Design) []seat {
	var all []seat
	add := func(c project.Chair, recline unit.Degrees) {
		if slices.ContainsFunc(all, func(s seat) bool { return s.ID == c.ID }) {
			return
		}
		all = append(all, newSeat(c, recline))
	}
	for _, r := range d.Seating.Rows {
		if c, ok := d.Chair(r.Chair); ok && !atBar(d, r) {
			add(c, r.Recline)
		}
	}
	if len(all) == 0 {
		for _, c := range d.Chairs {
			if !atBar(d, project.Row{Chair: c.ID}) {
				add(c, c.MinRecline)
			}
		}
	}
	if len(all) == 0 {
		return usualSeats()
	}
	return all[:1]
}

// newSeat returns how a chair is used: with so much way between a footrest or knees and
// the reclined back in front (rules row-passage, row-footrest, row-knees).
func newSeat(c project.Chair, recline unit.Degrees) seat {
	const way, leastRow = 0.28, 1.0 // m
	back := float64(c.BackThickness) + float64(c.BackHeight+c.Headrest)*math.Sin(recline.Radians())
	least := float64(c.PanDepth+c.Footrest) + back + way
	if c.Footrest == 0 {
		least += 0.1 // knees
	}
	s := seat{Chair: c, recline: recline, least: max(least, leastRow)}
	s.widest = s.narrowest() + 0.27
	return s
}

// narrowest returns the least distance from seat to seat: a pan and one arm.
func (s seat) narrowest() float64 { return float64(s.PanWidth+s.ArmWidth) + 0.02 }

// half returns half the width of the chair with both its arms.
func (s seat) half() float64 { return float64(s.PanWidth)/2 + float64(s.ArmWidth) }

// reach returns how far the chair reaches before and behind its row's line.
func (s seat) reach() (before, behind float64) {
	return float64(s.PanDepth), float64(s.BackThickness) + float64(s.BackHeight)*math.Sin(s.recline.Radians())
}

// sitters are where eyes, ears and crowns are in a chair, from where its pan meets
// its back.
type sitters struct{ eye, ear, crown geometry.Vec }

func sittersIn(d *project.Design, c seat) sitters {
	at := place.Seat{Basis: geometry.WorldBasis(), Chair: c.Chair, Recline: c.recline.Radians()}
	me, other := place.Listener(d, at), place.Other(d, at)
	return sitters{me.Eye(), me.Ear(), other.Crown}
}

func (p *planner) sitters(c seat) sitters {
	key := seatKey{c.ID, c.recline}
	s, ok := p.sat[key]
	if !ok {
		s = sittersIn(p.base, c)
		p.sat[key] = s
	}
	return s
}

type seatKey struct {
	chair   string
	recline unit.Degrees
}
