// SPDX-License-Identifier: MIT

package scene

import (
	"fmt"
	"slices"

	"earline/project"
	"earline/project/crew"
	"earline/project/place"
)

// Object is a part of a room that somebody else's program can hide, move or light by
// itself: a wall, a row of chairs, a loudspeaker.
type Object struct {
	Group  string // "Room", "Seating", "Loudspeakers" ...
	Name   string // unique in its group
	Meshes []Mesh
}

// Objects returns the room of d part by part, as a client sees it: what Build draws
// for Options.Client, without what is seen only on paper. people is whether the sitters
// are among them. Safe from any goroutine as long as nobody changes d meanwhile.
func Objects(d *project.Design, people bool) []Object {
	o := Default()
	o.Client, o.People, o.Palette = true, people, Lamplight()
	whole := painterOf(d, nil, o)

	jobs := whole.parts()
	lists := whole.draw(jobs)
	var out []Object
	for i, j := range jobs {
		if m := lists[i].Meshes; len(m) > 0 {
			out = append(out, Object{j.group, j.name, m})
		}
	}
	return out
}

// component is what an Object is drawn by.
type component struct {
	group, name string
	draw        func(s *painter)
}

// parts returns how the room is drawn part by part.
func (whole *painter) parts() []component {
	d := whole.d
	var out []component
	add := func(group, name string, draw func(s *painter)) {
		out = append(out, component{group, name, draw})
	}
	if len(whole.plan.corners) >= 3 {
		for i := range whole.plan.corners {
			add("Room", d.Room.WallName(i+1), func(s *painter) {
				m := &Mesh{Name: "wall", OneSided: true}
				s.wall(m, i)
				s.add(m)
			})
		}
		add("Room", "ceiling", func(s *painter) {
			m := &Mesh{Name: "ceiling", OneSided: true}
			s.ceiling(m)
			s.add(m)
		})
		add("Room", "floor", func(s *painter) {
			m := &Mesh{Name: "floor", OneSided: true}
			bases := s.bases()
			s.floor(m, bases)
			s.border(m, bases)
			s.slab(m)
			s.add(m)
		})
		for i := range d.Seating.Rows {
			add("Room", fmt.Sprintf("platform of row %d", i+1), func(s *painter) {
				m, lights := &Mesh{Name: "platform", OneSided: true}, &Mesh{Name: "step lights", Unlit: true}
				s.rising(m, lights, i, s.bases())
				s.add(m)
				s.add(lights)
			})
		}
	}
	add("Room", "screen", (*painter).screen)
	for i, f := range d.Room.Features {
		add("Built in", fmt.Sprintf("%d %s", i+1, f.Words()), func(s *painter) {
			s.only(func(d *project.Design) { d.Room.Features = d.Room.Features[i : i+1] })
			s.features()
		})
	}
	for i := range d.LightGroups {
		add("Light", fmt.Sprintf("%d %s", i+1, d.LightName(i)), func(s *painter) {
			s.only(func(d *project.Design) { d.LightGroups = d.LightGroups[i : i+1] })
			s.lamps()
		})
	}
	for i, t := range d.Room.Treatments {
		name := t.Name
		if name == "" {
			name = "treatment"
		}
		add("Treatment", fmt.Sprintf("%d %s", i+1, name), func(s *painter) {
			s.only(func(d *project.Design) { d.Room.Treatments = d.Room.Treatments[i : i+1] })
			s.runs = nil
			s.treatments()
		})
	}
	for i, r := range whole.runs {
		add("Treatment", fmt.Sprintf("panels %d, %s", i+1, d.Room.PanelPlace(r.Wall)), func(s *painter) {
			s.only(func(d *project.Design) { d.Room.Treatments = nil })
			s.runs = s.runs[i : i+1]
			s.treatments()
		})
	}
	for i := range d.Seating.Rows {
		seats := rowSeats(whole.seats, i+1)
		add("Seating", fmt.Sprintf("row %d", i+1), func(s *painter) { s.ofRow(i+1, seats); s.chairs() })
		if whole.o.People {
			add("People", fmt.Sprintf("row %d", i+1), func(s *painter) { s.ofRow(i+1, seats); s.people() })
		}
	}
	for i := range d.Speakers {
		add("Loudspeakers", d.Speakers[i].Name(), func(s *painter) { s.boxes = s.boxes[i : i+1]; s.speakers() })
	}
	if _, ok := place.Cabinet(d); ok {
		add("Projector", "projector", (*painter).projector)
	}
	return out
}

// draw draws parts side by side, each into a list of its own.
func (whole *painter) draw(parts []component) []List {
	lists := make([]List, len(parts))
	var done crew.Crew
	for i := range parts {
		done.Go(func() {
			s := *whole
			s.list = &lists[i]
			parts[i].draw(&s)
		})
	}
	done.Wait()
	return lists
}

// only has s draw a copy of its design in which keep has left one thing.
func (s *painter) only(keep func(d *project.Design)) {
	d := *s.d
	keep(&d)
	s.d = &d
}

// ofRow has s draw the seats of one row, counted from 1.
func (s *painter) ofRow(row int, seats []place.Seat) {
	before := slices.IndexFunc(s.seats, func(o place.Seat) bool { return o.Row == row })
	s.o.Seat, s.o.FromSeat, s.seats = s.o.Seat-before, s.o.FromSeat-before, seats
}

// rowSeats returns the seats of a row, counted from 1.
func rowSeats(all []place.Seat, row int) []place.Seat {
	var out []place.Seat
	for _, s := range all {
		if s.Row == row {
			out = append(out, s)
		}
	}
	return out
}
