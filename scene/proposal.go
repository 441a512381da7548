// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/project"
	"earline/project/diff"
	"earline/project/place"
	"earline/project/sight"
)

// proposal draws the things that the proposed design moves: loudspeakers, rows and
// the screen at their new places, translucent, with a line from where each is now.
// Things that the proposal removes are crossed out.
func (s *painter) proposal() {
	to := s.o.Ghost
	if to == nil {
		return
	}
	p := proposed{
		ink:  s.ink,
		body: &Mesh{Name: "proposed", Alpha: 0.42, OneSided: true},
		// In a wall there is nothing else to be seen of them.
		flush: &Mesh{Name: "proposed loudspeakers", Alpha: 0.30, OneSided: true, Unlit: true, OnTop: true},
		top:   &Lines{Name: "proposed moves", OnTop: true},
	}
	p.speakers(s, to)
	p.rows(s, to)
	p.screen(s, to)
	p.projector(s, to)
	s.add(p.body)
	s.add(p.flush)
	s.addLines(p.top)
}

// proposed holds the meshes and lines of a proposal.
type proposed struct {
	ink         Palette
	body, flush *Mesh
	top         *Lines
}

// nudge is the least move worth drawing, metres.
const nudge = 0.0005

// move draws an arrow from a to b.
func (p *proposed) move(a, b geometry.Vec) {
	if !a.Finite() || !b.Finite() {
		return
	}
	along, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	p.top.stroke(a, b, p.ink.Proposed)
	head := min(0.10, a.Dist(b)/2)
	u := across(along)
	for _, side := range [4]geometry.Vec{u, u.Neg(), along.Cross(u), along.Cross(u).Neg()} {
		p.top.stroke(b, b.Sub(along.Mul(head)).Add(side.Mul(head*0.4)), p.ink.Proposed)
	}
}

func (p *proposed) box(m *Mesh, b geometry.Box) {
	if !b.Center.Finite() || !(b.Half.X > 0 && b.Half.Y > 0 && b.Half.Z > 0) {
		return
	}
	m.pen().to(b.Center, b.Basis).bevel(b.Half, 0.008, plainSkin(p.ink.Proposed))
}

// cross crosses out a thing that the proposal removes.
func (p *proposed) cross(b geometry.Box) {
	at := func(x, y, z float64) geometry.Vec {
		return b.Center.Add(b.Basis.World(geometry.Vec{X: x * b.Half.X, Y: y * b.Half.Y, Z: z * b.Half.Z}))
	}
	c := p.ink.Verdicts[sight.Blocked].Ray
	p.top.stroke(at(-1, -1, -1), at(1, 1, 1), c)
	p.top.stroke(at(-1, 1, -1), at(1, -1, 1), c)
	p.top.stroke(at(1, -1, -1), at(-1, 1, 1), c)
	p.top.stroke(at(1, 1, -1), at(-1, -1, 1), c)
}

func (p *proposed) speakers(s *painter, to *project.Design) {
	there := place.Speakers(to)
	for _, pair := range diff.Speakers(s.d, to) {
		if pair.Is < 0 {
			p.cross(s.boxes[pair.Was].Box)
			continue
		}
		is := there[pair.Is]
		if pair.Was >= 0 {
			was := s.boxes[pair.Was]
			if was.At.Vec().Dist(is.At.Vec()) <= nudge && was.Model == is.Model {
				continue
			}
			p.move(was.At.Vec(), is.At.Vec())
		}
		p.box(p.flush, is.Box)
		edges(p.top, is.Box, p.ink.Proposed)
	}
}

func (p *proposed) rows(s *painter, to *project.Design) {
	from := s.d.Seating.Rows
	other := place.PersonAt(to, to.Seating.Sitters.Others)
	old := make(map[[2]int]place.Seat, len(s.seats))
	for _, seat := range s.seats {
		old[[2]int{seat.Row, seat.Number}] = seat
	}
	seats := place.Seats(to)
	for i, row := range to.Seating.Rows {
		if i < len(from) && from[i].Equal(row) {
			for n := range row.Seats {
				delete(old, [2]int{i + 1, n + 1})
			}
			continue
		}
		if b, ok := place.Platform(to, i); ok {
			edges(p.top, b, p.ink.Proposed.times(0.7))
		}
		for _, fl := range place.Flights(to, i) {
			for _, b := range fl.Boxes {
				edges(p.top, b, p.ink.Proposed.times(0.7))
			}
		}
		for _, seat := range seats {
			if seat.Row != i+1 {
				continue
			}
			for _, part := range seat.ChairParts() {
				if part.Box != nil {
					p.box(p.body, *part.Box)
				}
			}
			if s.o.People {
				if h := other.In(seat).Head; h.Center.Finite() {
					p.body.pen().to(h.Center, h.Basis).ball(h.Radii, 14, p.ink.Proposed)
				}
			}
			key := [2]int{seat.Row, seat.Number}
			if was, ok := old[key]; ok {
				lift := float64(seat.Chair.PanHeight)
				if was.Ref.Dist(seat.Ref) > nudge {
					p.move(was.Local(0, 0, lift), seat.Local(0, 0, lift))
				}
			}
			delete(old, key)
		}
	}
	for _, seat := range s.seats {
		if _, gone := old[[2]int{seat.Row, seat.Number}]; gone {
			p.cross(seatBox(seat))
		}
	}
}

func (p *proposed) screen(s *painter, to *project.Design) {
	if s.d.Screen == to.Screen {
		return
	}
	c, right, up := to.Screen.Picture()
	if !c.Finite() || !(right.Y > 0 && up.Z > 0) {
		return
	}
	c.X += 0.004 // before what is there
	p.body.pen().plain(c.Sub(right).Sub(up), c.Add(right).Sub(up), c.Add(right).Add(up), c.Sub(right).Add(up), p.ink.Proposed)
	p.top.loop(p.ink.Proposed, c.Sub(right).Sub(up), c.Add(right).Sub(up), c.Add(right).Add(up), c.Sub(right).Add(up))
	if was, _, _ := s.d.Screen.Picture(); was.Dist(c) > nudge {
		p.move(was, c)
	}
}
