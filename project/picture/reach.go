// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// InRoom returns s cut to where the cabinet of the projector stays between walls, floor and
// ceiling, each direction with the others as they are; s itself of a projector behind a port.
func (r *Result) InRoom(s Stand) Stand {
	p, room := r.Design.Projector, r.Design.Room
	if p.Mount == project.PortMount {
		return s
	}
	lens := p.At.Vec()
	box := place.CabinetOf(r.Model, lens)
	lo, hi := box.Center.Sub(box.Half), box.Center.Add(box.Half)
	const hair = 1e-6 // m: a cabinet that touches a wall is in the room
	poly := room.Polygon()
	turned := make(geometry.Polygon, len(poly)) // x and y changed places
	for i, c := range poly {
		turned[len(poly)-1-i] = geometry.Vec2{X: c.Y, Y: c.X}
	}
	for _, y := range [3]float64{lo.Y + hair, lens.Y, hi.Y - hair} {
		s.FromWall = s.FromWall.between(turned.Spans(y), lens.X, lens.X-lo.X, hi.X-lens.X)
	}
	for _, x := range [3]float64{lo.X + hair, lens.X, hi.X - hair} {
		s.FromLeft = s.FromLeft.between(poly.Spans(x), lens.Y, lens.Y-lo.Y, hi.Y-lens.Y)
	}
	for _, x := range [2]float64{lo.X, hi.X} {
		for _, y := range [2]float64{lo.Y, hi.Y} {
			s.Height = s.Height.between([][2]float64{{0, room.CeilingAt(x, y)}}, lens.Z, lens.Z-lo.Z, hi.Z-lens.Z)
			for _, c := range room.Slopes() {
				free := c.At(x, y) - hi.Z
				s.FromWall = s.FromWall.under(lens.X, free, c.AlongX)
				s.FromLeft = s.FromLeft.under(lens.Y, free, c.AlongY)
			}
		}
	}
	return s
}

// between returns the part of s that is at least before after the start of a stretch and
// after before its end: of that of stretches which is nearest to at; s itself when there
// are none.
func (s Span) between(stretches [][2]float64, at, before, after float64) Span {
	best, off := [2]float64{math.Inf(-1), math.Inf(1)}, math.Inf(1)
	for _, st := range stretches {
		if d := max(st[0]-at, at-st[1], 0); d < off {
			best, off = st, d
		}
	}
	return Span{max(s.From, best[0]+before), min(s.To, best[1]-after)}
}

// under returns the part of s under a ceiling that is free above what stands at, and rises
// by slope along s. A level ceiling is for the height to clear.
func (s Span) under(at, free, slope float64) Span {
	switch {
	case slope > 0:
		s.From = max(s.From, at-free/slope)
	case slope < 0:
		s.To = min(s.To, at-free/slope)
	}
	return s
}
