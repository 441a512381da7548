// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project/place"
)

// Passage is where whoever walks from a door to the seats of a row is in the beam of a
// shape.
type Passage struct {
	Rows     []int   // counted from 1
	From, To float64 // from the screen wall; in between one may be clear
	Shape    int     // index in Result.Shapes, of the one in whose beam one is most
	// Upright is how far one would have to be shorter; not a number where one reaches in
	// from a side.
	Upright float64
	// ClearAt is the least height of the lens at which the beam of every shape passes over
	// everybody on the way; not a number where no height under the ceiling does.
	ClearAt float64
}

// Walkers are people on the ways from the doors of a room to its seats, a step apart,
// worked out once for many places of the lens.
type Walkers struct {
	rows  int
	steps []step
}

// step is somebody on the way.
type step struct {
	foot   geometry.Vec
	top    float64
	on     []bool // the ways to which rows, from 0
	solids []geometry.Solid
}

// WalkersOf returns who walks in room: those who may be in the way, upright, one for every
// nth step of the ways.
func WalkersOf(room *place.Room, nth int) *Walkers {
	w := &Walkers{rows: len(room.Design.Seating.Rows)}
	const arrived = 0.35 // m: from there on one stands at the seat, see Around
	who := place.PersonAt(room.Design, room.Design.Seating.Sitters.Others)
	at := map[geometry.Vec]int{}
	for _, way := range place.Ways(room) {
		end := way.Feet[len(way.Feet)-1]
		for n := 0; n < len(way.Feet); n += nth {
			foot := way.Feet[n]
			if math.Hypot(foot.X-end.X, foot.Y-end.Y) < arrived {
				break
			}
			i, known := at[foot]
			if !known {
				i = len(w.steps)
				at[foot] = i
				body := who.Stand(foot)
				w.steps = append(w.steps, step{foot: foot, top: body.Top(), on: make([]bool, w.rows), solids: []geometry.Solid{body.Head.Solid(), body.Trunk.Solid()}})
			}
			w.steps[i].on[room.Seats[way.Seat].Row-1] = true
		}
	}
	return w
}

// in returns how s stands in any of the beams: the worst of them.
func (s *step) in(beams []Beam) (o Obstacle, ok bool) {
	const wide = 0.3 // m: from the feet to the farthest of anybody
	o.Upright = math.Inf(1)
	for i := range beams {
		b := &beams[i]
		if s.foot.X-wide < b.Lens.X && s.top < min(b.Lower(min(s.foot.X+wide, b.Lens.X)), b.Lower(max(s.foot.X-wide, b.Corners[0].X))) {
			continue // the beam passes over
		}
		for k := range s.solids {
			if depth, face, met := b.past(&s.solids[k], true); met && depth > o.Depth {
				o.Depth, o.Face, o.Shape, o.Upright, ok = depth, face, i, math.Inf(1), true
				if z := math.Abs(b.faces[face].Z); face == Below {
					o.Upright = depth / z
				}
			}
		}
	}
	return o, ok
}

// In returns how many of the walkers are in any of the beams.
func (w *Walkers) In(beams []Beam) (n int) {
	for i := range w.steps {
		if _, in := w.steps[i].in(beams); in {
			n++
		}
	}
	return n
}

// Passages returns where those who walk from a door to their seats are in the beam. It is
// worked out at every call, for it takes longer than the rest of r and few ask for it.
func (r *Result) Passages() (out []Passage) {
	if !r.before() {
		return nil
	}
	lens := r.Design.Projector.At.Vec()
	beams := r.beams(lens)
	w := WalkersOf(place.Of(r.Design), 1)
	rows := make([]Passage, w.rows)
	worst, solids := make([]Obstacle, w.rows), make([][]geometry.Solid, w.rows)
	for i := range w.steps {
		s := &w.steps[i]
		o, in := s.in(beams)
		if !in {
			continue
		}
		for row, on := range s.on {
			if !on {
				continue
			}
			p := &rows[row]
			if p.Rows == nil {
				*p = Passage{Rows: []int{row + 1}, From: s.foot.X, To: s.foot.X, Upright: math.NaN(), ClearAt: math.NaN()}
			}
			p.From, p.To = min(p.From, s.foot.X), max(p.To, s.foot.X)
			if o.Depth > worst[row].Depth {
				worst[row], p.Shape = o, o.Shape
			}
			if !math.IsInf(o.Upright, 1) && !(p.Upright > o.Upright) {
				p.Upright = o.Upright
			}
			solids[row] = append(solids[row], s.solids...)
		}
	}
	for row := range rows {
		p := &rows[row]
		if p.Rows == nil {
			continue
		}
		p.ClearAt = r.clearAt(lens, solids[row])
		last := len(out) - 1
		if last >= 0 && out[last].From == p.From && out[last].To == p.To && out[last].Upright == p.Upright {
			out[last].Rows = append(out[last].Rows, row+1)
			continue
		}
		out = append(out, *p)
	}
	return out
}

// WalkingWords says where on the way to the seats one is in the beam, and which height of
// the lens clears that, a sentence for each stretch.
func (r *Result) WalkingWords() (out []string) {
	for _, p := range r.Passages() {
		where := fmt.Sprintf("from %s to %s from the screen wall", r.show(p.From), r.show(p.To))
		if p.From == p.To {
			where = r.show(p.From) + " from the screen wall"
		}
		by := ""
		if !math.IsNaN(p.Upright) {
			by = fmt.Sprintf(", up to %s too high", r.show(p.Upright))
		}
		out = append(out, fmt.Sprintf("Whoever walks from the door to %s is in the beam of %s %s%s; %s.", rowsWords(p.Rows), r.Shapes[p.Shape].Called, where, by, r.clearWords(p.ClearAt)))
	}
	return out
}

// rowsWords names rows: "row 2", "rows 1 and 2".
func rowsWords(rows []int) string {
	if len(rows) == 1 {
		return fmt.Sprintf("row %d", rows[0])
	}
	names := make([]string, len(rows))
	for i, n := range rows {
		names[i] = fmt.Sprint(n)
	}
	return "rows " + strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
