// SPDX-License-Identifier: MIT

package add

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// meet returns l where a direction from the main position leaves the room: a flush
// one in the wall or the ceiling, any other before it, its whole box, as it aims at
// the main position, in the room; behind a screen that passes sound, if there is
// room. ok is false when no such place is on the way.
func (f *finder) meet(l project.Loudspeaker, az, el unit.Degrees) (project.Loudspeaker, bool) {
	const steep = 85 // degrees
	dir := geometry.Direction(az.Radians(), max(min(el, steep), -steep).Radians())
	t, mount := f.leaves(dir)
	if !(t > 0) || math.IsInf(t, 1) {
		return l, false
	}
	l.Mount = mount
	spec, _ := f.d.Model(l.Model)
	if spec.Flush {
		if mount == project.OnFloor {
			return l, false
		}
		at := f.main.Add(dir.Mul(t))
		l.At = project.Point{X: fine(at.X), Y: fine(at.Y), Z: fine(at.Z)}
		return l, true
	}
	if s, ok := f.throughScreen(dir, t); ok {
		return f.behindScreen(l, dir, s)
	}
	const least, shift = 0.3, 0.001 // m: from the main position; at least so far at a time
	for t > least {
		l.At = point(f.main.Add(dir.Mul(t)))
		out := f.sticksOut(place.OneSpeaker(f.d, l, f.main).Box)
		if out <= 0 {
			return l, true
		}
		t -= max(out, shift)
	}
	return l, false
}

// behindScreen moves l back from the picture, which is t from the main position, until
// its whole box is behind it.
func (f *finder) behindScreen(l project.Loudspeaker, dir geometry.Vec, t float64) (project.Loudspeaker, bool) {
	l.Mount = project.BehindScreen
	for {
		l.At = point(f.main.Add(dir.Mul(t)))
		b := place.OneSpeaker(f.d, l, f.main).Box
		if f.sticksOut(b) > 0 {
			return l, false // too deep for what is behind the picture
		}
		before := f.before(b)
		if before <= 0 {
			return l, true
		}
		t += max(before, 0.001)
	}
}

// leaves returns how far it is from the main position to where a direction leaves the
// room, and what carries a loudspeaker there.
func (f *finder) leaves(dir geometry.Vec) (t float64, mount project.Mount) {
	t = math.Inf(1)
	if dir.Z < 0 {
		t, mount = -f.main.Z/dir.Z, project.OnFloor
	}
	if s := f.d.Room.Slopes().Way(f.main, dir); s >= 0 && s < t {
		t, mount = s, project.OnCeiling
	}
	p := geometry.Vec2{X: f.main.X, Y: f.main.Y}
	d := geometry.Vec2{X: dir.X, Y: dir.Y}
	for i := range f.poly {
		a, b := f.poly.Edge(i)
		run := b.Sub(a)
		across := d.Cross(run)
		if across == 0 {
			continue
		}
		s, along := a.Sub(p).Cross(run)/across, a.Sub(p).Cross(d)/across
		if s > 0 && along >= 0 && along <= 1 && s < t {
			t, mount = s, project.OnWall
		}
	}
	return t, mount
}

// throughScreen returns how far it is to just behind the picture, where a direction
// goes through it, sound passes it, and it is met before the room ends.
func (f *finder) throughScreen(dir geometry.Vec, end float64) (float64, bool) {
	s := f.d.Screen
	if !s.Transparent || dir.X >= 0 {
		return 0, false
	}
	const behind = 0.02 // m
	t := (float64(s.Distance) - behind - f.main.X) / dir.X
	if t <= 0 || t >= end {
		return 0, false
	}
	return t, f.onPicture(f.main.Add(dir.Mul(t)))
}

// onPicture reports whether a point is behind or before the picture as seen square to
// it.
func (f *finder) onPicture(p geometry.Vec) bool {
	c, right, up := f.d.Screen.Picture()
	return math.Abs(p.Y-c.Y) <= right.Y && math.Abs(p.Z-c.Z) <= up.Z
}

// before returns how far a box reaches before the picture.
func (f *finder) before(b geometry.Box) float64 {
	front := math.Inf(-1)
	for _, c := range b.Corners() {
		front = max(front, c.X)
	}
	const behind = 0.005 // m
	return front + behind - float64(f.d.Screen.Distance)
}

// sticksOut returns how far a box, with a little air about it, is outside the room.
func (f *finder) sticksOut(b geometry.Box) float64 {
	const air = 0.004 // m: places are rounded to millimetres
	b.Half = b.Half.Add(geometry.Vec{X: air, Y: air, Z: air})
	out := 0.0
	for _, c := range b.Corners() {
		q := geometry.Vec2{X: c.X, Y: c.Y}
		if !f.poly.Contains(q) {
			out = max(out, f.poly.Distance(q))
		}
		out = max(out, c.Z-f.d.Room.CeilingAt(c.X, c.Y), -c.Z)
	}
	return out
}

// point returns v to the millimetre, as places are typed.
func point(v geometry.Vec) project.Point {
	mm := func(v float64) unit.Length { return unit.Length(math.Round(v*1000) / 1000) }
	return project.Point{X: mm(v.X), Y: mm(v.Y), Z: mm(v.Z)}
}

// fine returns v free of the dust of binary fractions: in a wall to a tenth of a
// micrometre.
func fine(v float64) unit.Length { return unit.Length(math.Round(v*1e7) / 1e7) }
