// SPDX-License-Identifier: MIT

// Package built says what a room is like as it was built: the plan with what was
// measured on site, audited again and compared with the plan, what must be moved, the
// most harmful first, and what may stay. It writes the list that goes to the site and
// reads it back, and asks about a figure that looks like a slip of the tape.
package built

import (
	"earline/geometry/unit"
	"earline/project"
)

// Of returns d as it was built: the plan with what was measured in its place. What was
// not measured is as planned. d is not changed; the room returned has no measurements
// of its own. One that measurements made impossible is refused by its Validate.
func Of(d *project.Design) *project.Design {
	items := Items(d)
	b := bare(d)
	for i := range items {
		items[i].build(b, d)
	}
	return b
}

// bare returns a copy of the plan without measurements.
func bare(d *project.Design) *project.Design {
	c := d.Clone()
	c.AsBuilt = project.AsBuilt{}
	return c
}

// build puts what was measured of it in b, a copy of d, in the place of what is planned.
func (it *Item) build(b, d *project.Design) {
	for i := range it.Measures {
		if m := &it.Measures[i]; !m.same() {
			it.put(b, m.Quantity, m.Measured)
		}
	}
}

// put gives it another value, in metres of the room frame or degrees.
func (it *Item) put(b *project.Design, q Quantity, v float64) {
	length := unit.Length(v)
	switch l := it.of(b).(type) {
	case *project.Loudspeaker:
		switch q {
		case FromScreen:
			l.At.X = length
		case FromLeft:
			l.At.Y = length
		case Height:
			l.At.Z = length
		case Turn, Tilt:
			if !l.Aim.Fixed { // the other angle stays as planned
				l.Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(it.planned(Turn)), Elevation: unit.Degrees(it.planned(Tilt))}
			}
			if q == Turn {
				l.Aim.Azimuth = unit.Degrees(v)
			} else {
				l.Aim.Elevation = unit.Degrees(v)
			}
		}
	case *project.Row:
		switch q {
		case FromScreen:
			l.Distance = length
		case FromLeft:
			l.Centre = length - l.Stagger
		case Height:
			l.Riser = length
		}
	case *project.Feature:
		switch q {
		case FromScreen:
			l.At.X = length
		case FromLeft:
			l.At.Y = length
		case Height:
			if off := length - l.At.Z; l.Kind.Overhead() && l.Height > off {
				l.Height -= off // its top stays under the ceiling
			}
			l.At.Z = length
		case Turn:
			l.Turn = unit.Degrees(v)
		case Width:
			if l.Round {
				l.Length = length
			} else {
				l.Width = length
			}
		}
	case *project.Projector:
		switch q {
		case FromScreen:
			l.At.X = length
		case FromLeft:
			l.At.Y = length
		case Height:
			l.At.Z = length
		}
	case *project.Screen:
		switch q {
		case FromScreen:
			l.Distance = length
		case FromLeft:
			l.Centre = length
		case Height:
			l.Bottom = length
		case Width:
			l.Width = length
		}
	}
}
