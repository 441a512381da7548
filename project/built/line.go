// SPDX-License-Identifier: MIT

package built

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
)

// Line is what a quantity is measured from on site: the laser line, a wall, the centre
// line; without Words for a width and an angle. Figures on site are against it.
type Line struct {
	Words  string // "laser line", "left wall"
	origin float64
	turned bool // figures grow as the room frame's shrink
	round  bool // figures are degrees of a full turn
}

// Shown returns a value of the room frame as it is measured from l.
func (l Line) Shown(v float64) float64 {
	v -= l.origin
	if l.turned {
		v = -v
	}
	if l.round {
		v = math.Remainder(v, 360)
	}
	return v
}

// Frame returns a figure from the site in the room frame.
func (l Line) Frame(v float64) float64 {
	if l.turned {
		v = -v
	}
	v += l.origin
	if l.round {
		v = math.Remainder(v, 360)
	}
	const micrometre = 1e-6 // what computing adds is less, and what is measured more
	return math.Round(v/micrometre) * micrometre
}

// lines returns what quantity q of an item may be measured from: what it is measured from
// first, then what somebody may have taken instead.
func (s *Sheet) lines(it *Item, q Quantity) []Line {
	if q.Angle() && it.Place.Kind == place.SpeakerItem {
		return []Line{aimed(s.Design, &s.Design.Speakers[it.Place.Index], q)}
	}
	return lines(s.Design, q, it.at())
}

// aimed returns what the turn or tilt of a loudspeaker is measured from: see setout.Aim.
func aimed(d *project.Design, l *project.Loudspeaker, q Quantity) Line {
	switch {
	case l.Mount == project.OnCeiling && q == Tilt:
		return Line{origin: -90} // off plumb
	case l.Mount == project.OnCeiling:
		return Line{turned: true, round: true}
	case q == Tilt:
		return Line{}
	}
	az, _, _ := geometry.AzEl(setout.Straight(d, l))
	return Line{origin: float64(unit.FromRadians(az)), turned: true, round: true}
}

// lines is Sheet.lines of a length, and of something at a point of the room.
func lines(d *project.Design, q Quantity, at geometry.Vec) []Line {
	centre := Line{Words: project.CentreLine, origin: float64(d.Screen.Centre)}
	switch q {
	case Height:
		return []Line{{Words: "laser line", origin: d.Datum.Line()}, {Words: "floor"}}
	case FromScreen:
		front, back := walls(d, at, "screen"), walls(d, at, "back")
		if math.Abs(back[0].Shown(at.X)) < math.Abs(front[0].Shown(at.X)) { // the shorter tape, as in set-out
			front, back = back, front
		}
		return append(front, back...)
	case FromLeft:
		all := append([]Line{centre}, append(walls(d, at, "left"), walls(d, at, "right")...)...)
		for i, l := range all {
			if l.Words == d.Datum.AcrossFrom() {
				all[0], all[i] = all[i], all[0]
			}
		}
		return all
	}
	return nil
}

// walls returns the walls on one side of the room, where each is level with a point;
// the nearest first. Of a side without a straight wall it is where the room frame
// begins, or ends.
func walls(d *project.Design, at geometry.Vec, side string) []Line {
	var out []Line
	poly := d.Room.Polygon()
	for i := range poly {
		if d.Room.WallSide(i+1) != side {
			continue
		}
		a, b := poly[i], poly[(i+1)%len(poly)]
		l := Line{Words: d.Room.WallName(i + 1), turned: side == "back" || side == "right"}
		if side == "screen" || side == "back" {
			l.origin = level(a.Y, a.X, b.Y, b.X, at.Y)
		} else {
			l.origin = level(a.X, a.Y, b.X, b.Y, at.X)
		}
		if n := len(out); n > 0 && within(a, b, at, side) { // of several the one opposite
			out = append([]Line{l}, out...)
			continue
		}
		out = append(out, l)
	}
	if len(out) > 0 {
		return out
	}
	lo, hi := poly.Bounds()
	switch side {
	case "screen":
		return []Line{{Words: "screen wall", origin: lo.X}}
	case "back":
		return []Line{{Words: "back wall", origin: hi.X, turned: true}}
	case "left":
		return []Line{{Words: "left wall", origin: lo.Y}}
	}
	return []Line{{Words: "right wall", origin: hi.Y, turned: true}}
}

// level returns the height over t of the line through (t0, v0) and (t1, v1).
func level(t0, v0, t1, v1, t float64) float64 {
	if t0 == t1 {
		return v0
	}
	share := min(max((t-t0)/(t1-t0), 0), 1)
	return v0 + (v1-v0)*share
}

// within reports whether a wall from a to b is opposite a point.
func within(a, b geometry.Vec2, at geometry.Vec, side string) bool {
	from, to, t := a.X, b.X, at.X
	if side == "screen" || side == "back" {
		from, to, t = a.Y, b.Y, at.Y
	}
	return t >= min(from, to) && t <= max(from, to)
}
