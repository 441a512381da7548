// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/project/fit"
	"earline/project/place"
)

// clashes draws what cannot be built: a frame round it with crosses on its sides, which
// no other thing has, so that it stands out without its colour too.
func (s *painter) clashes() {
	l := &Lines{Name: "clashes", OnTop: true}
	done := map[place.Item]bool{}
	for _, f := range fit.Findings(s.d) {
		it := f.Item()
		if done[it] || it.Index < 0 {
			continue
		}
		done[it] = true
		switch {
		case it.Kind == place.SpeakerItem && it.Index < len(s.boxes):
			crossed(l, s.boxes[it.Index].Box, s.ink.Unbuildable)
		case it.Kind == place.FeatureItem && it.Index < len(s.d.Room.Features):
			crossed(l, s.d.Room.Features[it.Index].Box(), s.ink.Unbuildable)
		case it.Kind == place.ScreenItem:
			crossed(l, s.d.Screen.Sheet(), s.ink.Unbuildable)
		case it.Kind == place.ProjectorItem:
			if b, ok := place.Cabinet(s.d); ok {
				crossed(l, b, s.ink.Unbuildable)
			}
		case it.Kind == place.RowItem:
			for _, seat := range s.seats {
				if seat.Row == it.Index+1 {
					crossed(l, seatBox(seat), s.ink.Unbuildable)
				}
			}
		}
	}
	s.addLines(l)
}

// crossed draws the edges of a box a little outside it, and the diagonals of its faces.
func crossed(l *Lines, b geometry.Box, ink RGB) {
	const more = 0.02 // m
	b.Half = b.Half.Add(geometry.Vec{X: more, Y: more, Z: more})
	edges(l, b, ink)
	at := func(u, v, w float64) geometry.Vec {
		return b.Center.Add(b.Basis.World(geometry.Vec{X: u * b.Half.X, Y: v * b.Half.Y, Z: w * b.Half.Z}))
	}
	for _, side := range [2]float64{-1, 1} {
		for _, slope := range [2]float64{-1, 1} {
			l.stroke(at(side, -1, -slope), at(side, 1, slope), ink)
			l.stroke(at(-1, side, -slope), at(1, side, slope), ink)
			l.stroke(at(-1, -slope, side), at(1, slope, side), ink)
		}
	}
}
