// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// dimension adds the rows of one side of a plan: loudspeakers and picture from the
// corner, then features and rows, then the whole.
func (s *set) dimension(v *view, name string) {
	side := s.side(name)
	at := func(x, y float64) float64 { return along(v, side, geometry.Vec{X: x, Y: y}) }
	across := name == "screen" || name == "back" // the side runs along y
	from, to := at(s.lo.X, s.lo.Y), at(s.hi.X, s.lo.Y)
	if across {
		to = at(s.lo.X, s.hi.Y)
	}
	var speakers []stop
	for i := range s.room.Speakers {
		l := &s.room.Speakers[i]
		if s.besides(l, name) {
			speakers = append(speakers, stop{at: at(float64(l.At.X), float64(l.At.Y)), name: l.Name()})
		}
	}
	s.runs(v, side, from, false, s.leaner(speakers))

	features := stopsAt(from, to)
	d := s.design
	for _, f := range d.Room.Features {
		if f.Kind.Overhead() || s.nearSide(geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}) != name {
			continue
		}
		hx, hy := place.Extent(f)
		if across {
			features = append(features, stopsAt(at(0, float64(f.At.Y)-hy), at(0, float64(f.At.Y)+hy))...)
		} else {
			features = append(features, stopsAt(at(float64(f.At.X)-hx, 0), at(float64(f.At.X)+hx, 0))...)
		}
	}
	for i := range s.outline { // corners on that side
		if c := s.outline[i]; s.nearSide(c) == name || s.onSide(c, name) {
			features = append(features, stopsAt(at(c.X, c.Y))...)
		}
	}
	switch name {
	case "screen":
		c, r, _ := d.Screen.Picture()
		features = append(features, stopsAt(at(0, c.Y-r.Y), at(0, c.Y+r.Y))...)
	case "left": // rows are told once
		for i := range d.Seating.Rows {
			if b, ok := place.Platform(d, i); ok {
				features = append(features, stopsAt(at(b.Center.X-b.Half.X, 0), at(b.Center.X+b.Half.X, 0))...)
			}
		}
	case "right":
		if s.lean > 0 {
			break
		}
		features = append(features, stopsAt(at(float64(d.Screen.Distance), 0))...)
		for _, r := range d.Seating.Rows {
			features = append(features, stopsAt(at(float64(r.Distance), 0))...)
		}
	}
	lo, hi := min(from, to), max(from, to)
	inside := features[:0]
	for _, f := range features {
		if f.at > lo-1e-6 && f.at < hi+1e-6 {
			inside = append(inside, f)
		}
	}
	told := s.parts(v, side, inside)
	if name == "screen" || name == "left" || told && s.lean == 0 {
		s.chain(v, side, stopsAt(from, to))
	}
}

// sideOf returns the side of the plan beside which a loudspeaker is dimensioned.
func (s *set) sideOf(l *place.Speaker) string {
	if l.Mount == project.BehindScreen {
		return "screen"
	}
	return s.nearSide(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)})
}

// leaner returns stops as they are dimensioned on paper of this size.
func (s *set) leaner(stops []stop) []stop {
	switch s.lean {
	case 0:
		return stops
	case 1:
		bare := slices.Clone(stops)
		for i := range bare {
			bare[i].name = ""
		}
		return bare
	}
	return nil
}

// besides reports whether a loudspeaker is dimensioned on that side of the plan: the
// side it is at, and what stands free also along the room. Those on the ceiling are
// dimensioned on the ceiling.
func (s *set) besides(l *place.Speaker, name string) bool {
	at := s.sideOf(l)
	switch {
	case l.Mount == project.OnCeiling:
		return false
	case at == name:
		return true
	case l.Mount == project.OnWall:
		return false
	}
	x, y := float64(l.At.X), float64(l.At.Y)
	if at == "screen" || at == "back" {
		hand := "left"
		if y > (s.lo.Y+s.hi.Y)/2+1e-6 {
			hand = "right"
		}
		return hand == name
	}
	end := "screen"
	if x > (s.lo.X+s.hi.X)/2 {
		end = "back"
	}
	return end == name
}

// nearSide returns the side of the rectangle about the room that is nearest.
func (s *set) nearSide(q geometry.Vec2) string {
	best, name := math.Inf(1), ""
	for _, c := range []struct {
		by   float64
		name string
	}{{q.X - s.lo.X, "screen"}, {q.Y - s.lo.Y, "left"}, {s.hi.Y - q.Y, "right"}, {s.hi.X - q.X, "back"}} {
		if c.by < best-1e-6 {
			best, name = c.by, c.name
		}
	}
	return name
}

// onSide reports whether a corner lies on that side of the rectangle about the room.
func (s *set) onSide(q geometry.Vec2, name string) bool {
	const on = 1e-3 // m
	switch name {
	case "screen":
		return q.X-s.lo.X < on
	case "left":
		return q.Y-s.lo.Y < on
	case "right":
		return s.hi.Y-q.Y < on
	}
	return s.hi.X-q.X < on
}
