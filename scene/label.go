// SPDX-License-Identifier: MIT

package scene

import (
	"fmt"
	"strings"

	"earline/geometry"
	"earline/project/bs2051"
	"earline/project/place"
	"earline/project/sight"
)

// markers shows the main listening position.
func (s *painter) markers() {
	at := place.MainPoint(s.d)
	if !at.Finite() {
		return
	}
	m := &Mesh{Name: "main position", Unlit: true}
	m.pen().by(at.X, at.Y, at.Z).ball(geometry.Vec{X: 0.022, Y: 0.022, Z: 0.022}, 10, s.ink.Selected)
	l := &Lines{Name: "main position axes", OnTop: true}
	for _, d := range [3]geometry.Vec{{X: 0.13}, {Y: 0.13}, {Z: 0.13}} {
		l.stroke(at.Sub(d), at.Add(d), s.ink.Selected)
	}
	s.add(m)
	s.addLines(l)
}

// tag adds a label unless it is empty.
func (s *painter) tag(at geometry.Vec, text string, ink, plate RGB, bold bool) {
	if at.Finite() && text != "" {
		s.list.Labels = append(s.list.Labels, Label{At: World(at), Text: text, Ink: ink, Plate: plate, Bold: bold})
	}
}

// nameplate is where the name of a loudspeaker stands: over its front.
func nameplate(b *place.Speaker) geometry.Vec {
	return b.At.Vec().Add(b.Front.W.Mul(0.06)).Sub(b.Front.U.Mul(b.Box.Half.X + 0.05))
}

// labels names loudspeakers, rows, and what blocks the selected path.
func (s *painter) labels() {
	if !s.o.Labels {
		return
	}
	for i := range s.boxes {
		b := &s.boxes[i]
		at := nameplate(b)
		switch {
		case i == s.o.Speaker:
			s.tag(at, bs2051.InFull(b.Name()), s.ink.Reverse, s.ink.Selected, true)
		case s.o.Hovered == (place.Item{Kind: place.SpeakerItem, Index: i}):
			s.tag(at, bs2051.InFull(b.Name()), s.ink.Reverse, s.ink.Selected, false) // bold ones take the place of others
		default:
			s.tag(at, b.Name(), s.ink.Name, s.ink.NamePlate, false)
		}
	}
	for i, seat := range s.seats {
		half := float64(seat.Chair.PanWidth)/2 + float64(seat.Chair.ArmWidth)
		if seat.Number == 1 {
			s.tag(seat.Local(-float64(seat.Chair.PanDepth)/2, -half-0.18, 0.10), fmt.Sprintf("Row %d", seat.Row), s.ink.Name, s.ink.NamePlate, false)
		}
		if s.o.Drawing.plan() && i != s.o.Seat {
			s.tag(seat.Local(-0.3*float64(seat.Chair.PanDepth), 0, float64(seat.Chair.PanHeight)), seat.Name(), s.ink.Name, s.ink.NamePlate, false)
		}
		if i == s.o.Seat && i != s.o.FromSeat {
			s.tag(seat.Local(0.1, 0, float64(seat.Chair.PanHeight+seat.Chair.BackHeight+seat.Chair.Headrest)+0.22),
				fmt.Sprintf("Row %d seat %d", seat.Row, seat.Number), s.ink.Reverse, s.ink.Selected, true)
		}
	}
	if s.o.Drawing.plan() {
		s.walls()
	}
	s.verdictLabel()
}

// walls names the walls that a letter tells apart: which is left and which is back, a
// plan shows by itself.
func (s *painter) walls() {
	const inside = 0.12 // m from the wall, in the room
	outline := s.d.Room.Polygon()
	for i := range outline {
		if name := s.d.Room.WallName(i + 1); !strings.HasSuffix(name, "wall") {
			a, b := outline.Edge(i)
			at := a.Add(b).Mul(0.5).Add(outline.InwardNormal(i).Mul(inside))
			s.tag(geometry.Vec{X: at.X, Y: at.Y}, name, s.ink.Name, s.ink.NamePlate, false)
		}
	}
}

// verdictLabel labels the selected path with what is nearest to it and how near.
func (s *painter) verdictLabel() {
	r := s.r
	if r == nil || s.o.Rays == NoRays || s.o.Seat < 0 || s.o.Seat >= len(r.Seats) || s.o.Speaker < 0 || s.o.Speaker >= len(r.Speakers) ||
		len(r.Pairs) < len(r.Seats)*len(r.Speakers) {
		return
	}
	pair := r.Pair(s.o.Seat, s.o.Speaker)
	if pair.Verdict < sight.Tight || pair.Deciding() == nil {
		return
	}
	path, look := pair.Deciding(), s.ink.Verdicts[pair.Verdict]
	at := path.Enter
	if pair.Verdict == sight.Tight {
		at = path.Nearest
	}
	text := fmt.Sprintf("%s, %s", r.Words(path.Blocker), s.clearance(path.Clearance))
	s.tag(above(at, 0.10), text, look.Ink, look.Plate, true)
}

// clearance returns a signed clearance in words, in the design's units.
func (s *painter) clearance(metres float64) string {
	if s.metric() {
		return fmt.Sprintf("%+.0f mm", metres*1000)
	}
	return fmt.Sprintf("%+.1f in", metres/0.0254)
}
