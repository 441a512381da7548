// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// Around is what may stand in a beam in a room, worked out once for many places of the
// lens: the parts of the room, save the screen and the projector itself, then those who
// stand up in front of every seat.
type Around struct{ things []thing }

// thing is what stands in a beam as one.
type thing struct {
	part   place.Part
	stands bool
	solids []geometry.Solid
}

// AroundOf returns what is around the beam in room.
func AroundOf(room *place.Room) *Around {
	a := &Around{things: make([]thing, 0, len(room.Parts)+len(room.Seats))}
	for i := range room.Parts {
		if p := &room.Parts[i]; p.Kind != place.ScreenPart && p.Kind != place.ProjectorPart {
			a.things = append(a.things, thing{part: *p, solids: []geometry.Solid{p.Solid()}})
		}
	}
	who := place.PersonAt(room.Design, room.Design.Seating.Sitters.Others)
	for i := range room.Seats {
		s := &room.Seats[i]
		foot := s.Local(-float64(s.Chair.PanDepth), 0, 0) // calves against the chair
		foot.Z = room.Floor.At(foot.X, foot.Y)
		a.things = append(a.things, thing{part: place.Part{Kind: place.HeadPart, Row: s.Row, Seat: s.Number}, stands: true, solids: upright(who, foot)})
	}
	return a
}

// upright returns who stands on foot, as solids.
func upright(who place.Person, foot geometry.Vec) []geometry.Solid {
	body := who.Stand(foot)
	return []geometry.Solid{body.Head.Solid(), body.Trunk.Solid()}
}

// In returns what stands in any of the beams, each thing once with the beam in which it
// stands most, without the height that clears it.
func (a *Around) In(beams []Beam) (out []Obstacle) {
	for n := range a.things {
		t := &a.things[n]
		worst := Obstacle{Part: t.part, Standing: t.stands, Upright: math.Inf(1), ClearAt: math.NaN(), thing: n}
		for k := range t.solids {
			for i := range beams {
				depth, face, ok := beams[i].past(&t.solids[k], t.stands)
				if !ok || depth <= worst.Depth {
					continue
				}
				worst.Depth, worst.Face, worst.Shape, worst.Upright = depth, face, i, math.Inf(1)
				if z := math.Abs(beams[i].faces[face].Z); face == Above || face == Below {
					worst.Upright = depth / z
				}
			}
		}
		if worst.Depth > 0 {
			out = append(out, worst)
		}
	}
	return out
}
