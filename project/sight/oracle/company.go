// SPDX-License-Identifier: MIT

package oracle

// Crowd is people of a room's mix of women and men, worked out once.
type Crowd struct {
	room   *Room
	people []person
	crown  float64 // of the longest head, above the ear, metres
}

// Guest is who sits in a seat, and how.
type Guest struct {
	Who     int     // which of the Crowd
	Recline float64 // degrees
	Lowered float64 // of the headrest: 0 raised, 1 let down onto the back
	// LongHead is whether whoever is in the others' way has the longest head of
	// the crowd, whatever the trunk.
	LongHead bool
}

// Crowd returns the people of those percentiles; the longest head is that of the
// highest.
func (r *Room) Crowd(percentiles []float64) *Crowd {
	c := &Crowd{room: r}
	for _, p := range percentiles {
		c.people = append(c.people, personAt(p, r.doc.Seating.Sitters.Women))
		c.crown = max(c.crown, ansur.crown.at(p, r.doc.Seating.Sitters.Women))
	}
	return c
}

// Reclines are the least and the greatest recline of the chair in a seat,
// degrees.
func (r *Room) Reclines(seat int) (least, greatest float64) {
	c := &r.Seats[seat].chair
	return c.MinRecline, c.MaxRecline
}

// Seat returns the room with a guest in every seat, both as listener and in the
// others' way. Everything else stays where it is; the loudspeakers aim as before.
func (c *Crowd) Seat(guests []Guest) *Room {
	r := *c.room
	r.Seats = append([]Seat(nil), r.Seats...)
	r.sit(func(i int) (a, b person, recline, lowered float64) {
		g := &guests[i]
		p := c.people[g.Who]
		q := p
		if g.LongHead {
			q.crown = max(q.crown, c.crown)
		}
		return p, q, g.Recline, g.Lowered * r.Seats[i].chair.Headrest
	})
	for i, g := range guests {
		r.Seats[i].heldHigh = g.Recline > 30 && g.Lowered > 0
	}
	return &r
}

// besideTheHead is whether s is the sitter's own headrest, lowered, under a head
// that rests on it: that one is held raised.
func (r *Room) besideTheHead(seat int, s *Solid) bool {
	own := &r.Seats[seat]
	return own.heldHigh && s.Kind == "headrest" && s.Row == own.Row && s.Seat == own.Number
}

// Blocks returns something that the straight path from an ear (0 left, 1 right)
// to the deciding driver enters, or nil: Path in brief.
func (r *Room) Blocks(seat, speaker, ear int) *Solid {
	d := &r.Speakers[speaker].Drivers[r.Speakers[speaker].Deciding]
	from := r.Seats[seat].Ears[ear]
	enters := func(s *Solid) bool {
		if r.forEar(seat, speaker, s) == never || r.besideTheHead(seat, s) || fromLine(from, d.Centre, s.Centre) > s.ball {
			return false
		}
		_, _, ok := s.Enter(from, d.Centre)
		return ok
	}
	for n := range r.Solids {
		if enters(&r.Solids[n]) {
			return &r.Solids[n]
		}
	}
	for k := range r.Speakers {
		if enters(&r.Speakers[k].Box) {
			return &r.Speakers[k].Box
		}
	}
	if s := &r.Seats[seat].shoulders; enterable(s, from, d.Centre) {
		return s
	}
	if r.walls.outside(from) > touch || d.pardon.far {
		return Shell
	}
	if _, _, ok := r.walls.leaves(from, d.Centre, &d.pardon, nil); ok {
		return Shell
	}
	return nil
}

func enterable(s *Solid, a, b Vec) bool {
	_, _, ok := s.Enter(a, b)
	return ok
}

// Covers returns something that hides any of some points all over the picture,
// its edges and corners among them, from the eyes in a seat; the Shell where the
// eyes are behind the picture; nil for nothing: View in brief.
func (r *Room) Covers(seat int) *Solid {
	eye := r.Seats[seat].Eye
	if eye.X <= r.Picture.X || r.walls.outside(eye) > touch {
		return Shell
	}
	const across, up = 12, 6
	var points []Vec
	for i := range across + 1 {
		for k := range up + 1 {
			points = append(points, r.Picture.add(r.PictureRight.times(2*float64(i)/across-1)).add(r.PictureUp.times(2*float64(k)/up-1)))
		}
	}
	v := View{Eye: eye, target: target{centre: r.Picture, u: r.PictureRight, v: r.PictureUp}}
	covers := func(s *Solid) bool {
		if r.forEye(seat, s) == never || r.besideTheHead(seat, s) || v.besides(s) {
			return false
		}
		for _, p := range points {
			if enterable(s, eye, p) {
				return true
			}
		}
		return false
	}
	for n := range r.Solids {
		if covers(&r.Solids[n]) {
			return &r.Solids[n]
		}
	}
	for k := range r.Speakers {
		if covers(&r.Speakers[k].Box) {
			return &r.Speakers[k].Box
		}
	}
	for _, p := range points {
		if _, _, ok := r.walls.leaves(eye, p, &pardon{}, nil); ok {
			return Shell
		}
	}
	return nil
}
