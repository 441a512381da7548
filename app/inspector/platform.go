// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// platform adds where the platform of the row ends across the room, and its steps.
func (in *Inspector) platform(f *field.Form, raised func() bool) {
	in.toWall(f, "Platform from left", "platform of", func(d *project.Design) *unit.Length { return &d.Seating.Rows[in.row].Left },
		func(b [2]unit.Length) unit.Length { return b[0] }).When(raised)
	in.toWall(f, "Platform to, from left", "platform of", func(d *project.Design) *unit.Length { return &d.Seating.Rows[in.row].Right },
		func(b [2]unit.Length) unit.Length { return b[1] }).When(raised)

	open := in.section(f, "Steps", func() string {
		if n := len(in.flights()); n > 0 {
			return plural(n, "flight")
		}
		return "none"
	}, &in.open.steps, raised)
	some := func() bool { return open() && in.flight < len(in.flights()) }
	in.picks(f, &in.flight, func() []string {
		var names []string
		for _, s := range in.flights() {
			names = append(names, string(s.Side))
		}
		return names
	}).When(some)
	listButtons(f, field.NewButton("", in.addSteps), in.duplicateSteps, in.removeSteps, some).When(open)
	words := func() texts { return texts{what: fmt.Sprintf("change the steps of row %d", in.row+1)} }
	choice(in, f, "Side", words,
		func() []project.Side {
			return []project.Side{project.FrontSide, project.BackSide, project.LeftSide, project.RightSide}
		},
		func(s project.Side) string { return string(s) }, steps(in, func(s *project.Steps) *project.Side { return &s.Side })).When(some)
	across := func(yes bool) func() bool {
		return func() bool {
			if !some() {
				return false
			}
			side := in.flights()[in.flight].Side
			return (side == project.FrontSide || side == project.BackSide) == yes
		}
	}
	at := steps(in, func(s *project.Steps) *unit.Length { return &s.At })
	in.length(f, "Middle from left", words, at).When(across(true))
	in.length(f, "Middle from screen", words, at).When(across(false))
	why(in.length(f, "Step width", words, steps(in, func(s *project.Steps) *unit.Length { return &s.Width })).When(some), "aisle-stepped")
	why(in.length(f, "Tread", words, steps(in, func(s *project.Steps) *unit.Length { return &s.Tread })).When(some), "steps")
	why(in.length(f, "Rise, at most", words, steps(in, func(s *project.Steps) *unit.Length { return &s.Rise })).When(some), "step-height")
	in.prose(f, func() string {
		if !some() {
			return ""
		}
		for _, fl := range place.Flights(in.host.Design(), in.row) {
			if fl.Index == in.flight {
				return fmt.Sprintf("Rises %d times by %s.", fl.Risers, unit.Length(fl.Rise).Format(in.metric()))
			}
		}
		return ""
	})
}

// flights are the flights of steps of the row that is shown.
func (in *Inspector) flights() []project.Steps {
	return in.host.Design().Seating.Rows[in.row].Steps
}

// steps returns a place within the flight that is shown.
func steps[T any](in *Inspector, of func(*project.Steps) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Steps { return d.Seating.Rows[in.row].Steps }, in.flight, of)
	}
}

// toWall adds a length across the room that is the wall while it is 0. A step away
// from the wall begins at it.
func (in *Inspector) toWall(f *field.Form, name, what string, at value[unit.Length], wall func(fromTo [2]unit.Length) unit.Length) *field.Line {
	return in.lengthOr(f, name, "wall", func() string { return fmt.Sprintf("change the %s row %d", what, in.row+1) }, at, func() unit.Length {
		lo, hi := in.host.Design().Room.Polygon().Bounds()
		return wall([2]unit.Length{unit.Length(lo.Y), unit.Length(hi.Y)})
	}, 1)
}

// addSteps adds a flight at the front of the platform, at its left end: only where
// to begin.
func (in *Inspector) addSteps() {
	box, ok := place.Platform(in.host.Design(), in.row)
	if !ok {
		return
	}
	const wide, tread, rise = 0.9, 0.3, 0.19 // m, as stairs are built
	half := min(wide/2, box.Half.Y)
	in.insertSteps("add steps to", project.Steps{Side: project.FrontSide, Tread: tread, Rise: rise,
		At: unit.Length(millimetres(box.Center.Y - box.Half.Y + half)), Width: unit.Length(millimetres(2 * half))})
}

func (in *Inspector) duplicateSteps() {
	all := in.flights()
	if in.flight >= len(all) {
		return
	}
	s := all[in.flight]
	if box, ok := place.Platform(in.host.Design(), in.row); ok && (s.Side == project.FrontSide || s.Side == project.BackSide) {
		s.At = unit.Length(millimetres(2*box.Center.Y)) - s.At // as far from the other end
	}
	in.insertSteps("duplicate the steps of", s)
}

func (in *Inspector) insertSteps(label string, s project.Steps) {
	at := min(in.flight+1, len(in.flights()))
	err := in.host.Do(fmt.Sprintf("%s row %d", label, in.row+1), "", func(d *project.Design) {
		r := &d.Seating.Rows[in.row]
		r.Steps = slices.Insert(r.Steps, at, s)
	})
	if err != nil {
		in.note(field.Plain(err))
		return
	}
	in.flight = at
	in.show()
}

func (in *Inspector) removeSteps() {
	i := in.flight
	if i >= len(in.flights()) {
		return
	}
	in.note(field.Plain(in.host.Do(fmt.Sprintf("remove steps of row %d", in.row+1), "", func(d *project.Design) {
		r := &d.Seating.Rows[in.row]
		r.Steps = slices.Delete(r.Steps, i, i+1)
	})))
}
