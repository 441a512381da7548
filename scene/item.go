// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/project/place"
)

// Movable returns the item that a hit belongs to: a loudspeaker, the row of a
// chair or sitter, the screen, or the projector. ok is false for what does not move.
func (h Hit) Movable() (it place.Item, ok bool) {
	switch h.Kind {
	case place.SpeakerItem:
		return place.Item{Kind: place.SpeakerItem, Index: h.Speaker}, true
	case place.SeatItem:
		return place.Item{Kind: place.RowItem, Index: h.Row - 1}, true
	case place.ScreenItem:
		return place.Item{Kind: place.ScreenItem}, true
	case place.ProjectorItem:
		return place.Item{Kind: place.ProjectorItem}, true
	}
	return place.Item{}, false
}

// hot outlines the item that a press would grab.
func (s *painter) hot() {
	l := &Lines{Name: "hot", OnTop: true}
	const more = 0.015 // m
	put := func(b geometry.Box) {
		b.Half = b.Half.Add(geometry.Vec{X: more, Y: more, Z: more})
		edges(l, b, s.ink.Selected)
	}
	switch it := s.o.Hovered; {
	case it.Kind == place.SpeakerItem && it.Index >= 0 && it.Index < len(s.boxes):
		put(s.boxes[it.Index].Box)
	case it.Kind == place.ScreenItem:
		put(s.d.Screen.Sheet())
	case it.Kind == place.ProjectorItem:
		if box, ok := place.Cabinet(s.d); ok {
			put(box)
		}
	case it.Kind == place.RowItem:
		for _, seat := range s.seats {
			if seat.Row == it.Index+1 {
				put(seatBox(seat))
			}
		}
	}
	s.addLines(l)
}

// seatBox returns the upright box, along the chair's own axes, round a chair.
func seatBox(seat place.Seat) geometry.Box {
	var lo, hi geometry.Vec
	for i, part := range seat.ChairParts() {
		if part.Box == nil {
			continue
		}
		for k := range 8 {
			h := part.Box.Half
			p := geometry.Vec{X: choose(k&1, -h.X, h.X), Y: choose(k>>1&1, -h.Y, h.Y), Z: choose(k>>2, -h.Z, h.Z)}
			q := seat.Basis.Local(part.Box.Center.Add(part.Box.Basis.World(p)).Sub(seat.Ref))
			if i == 0 && k == 0 {
				lo, hi = q, q
			}
			lo = geometry.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y), Z: min(lo.Z, q.Z)}
			hi = geometry.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y), Z: max(hi.Z, q.Z)}
		}
	}
	return geometry.Box{Center: seat.Ref.Add(seat.Basis.World(lo.Lerp(hi, 0.5))), Basis: seat.Basis, Half: hi.Sub(lo).Mul(0.5)}
}

// edges draws the twelve edges of box; none when it is nowhere.
func edges(l *Lines, box geometry.Box, c RGB) {
	if !box.Center.Finite() || !box.Half.Finite() {
		return
	}
	corner := func(x, y, z float64) geometry.Vec {
		return box.Center.Add(box.Basis.World(geometry.Vec{X: x * box.Half.X, Y: y * box.Half.Y, Z: z * box.Half.Z}))
	}
	for _, u := range [2]float64{-1, 1} {
		for _, v := range [2]float64{-1, 1} {
			l.stroke(corner(-1, u, v), corner(1, u, v), c)
			l.stroke(corner(u, -1, v), corner(u, 1, v), c)
			l.stroke(corner(u, v, -1), corner(u, v, 1), c)
		}
	}
}
