// SPDX-License-Identifier: MIT

package projecttest

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// features draws what is built in.
func (b *builder) features() {
	for range b.IntN(5) {
		var f project.Feature
		switch kind := one(b, project.Soffit, project.Soffit, project.Column, project.Door, project.Stage, project.Light, project.Vent, project.Window); kind {
		case project.Soffit:
			f = b.alongWall(b.between(0.15, 0.6))
			f.Height = b.length(0.15, 0.5)
			f.At.Z = unit.Length(b.d.Room.CeilingAt(float64(f.At.X), float64(f.At.Y))) - f.Height
			f.Kind, f.Name = kind, one(b, "", "left soffit", "back soffit")
		case project.Column:
			f = project.Feature{Length: b.length(0.15, 0.5), Width: b.length(0.15, 0.5)}
			if b.chance(0.5) { // against a wall
				f = b.alongWall(b.between(0.1, 0.5))
				f.Length = min(f.Length, b.length(0.15, 0.6))
			} else {
				f.At.X, f.At.Y = b.length(0.1, b.long), b.length(0, b.wide)
				f.Turn = b.turn()
				if f.Round = b.chance(0.5); f.Round {
					f.Width = one(b, 0, f.Length)
				}
			}
			f.Kind, f.Height = kind, unit.Length(b.d.Room.CeilingAt(float64(f.At.X), float64(f.At.Y)))
			if b.chance(0.2) {
				f.Height = b.length(0.8, 2)
			}
		case project.Door, project.Window:
			f = b.alongWall(b.between(0.03, 0.12))
			f.Kind, f.Height = kind, b.length(1.9, 2.1)
			if kind == project.Door {
				f.Swing = one(b, project.InLeft, project.OutRight, project.Sliding)
			} else {
				f.At.Z, f.Height = 0.9, b.length(0.4, 1.1)
			}
		case project.Stage:
			f = project.Feature{Kind: kind, Length: b.length(0.4, 1.2), Width: unit.Length(b.wide), Height: b.length(0.1, 0.45)}
			f.At.X, f.At.Y = f.Length/2, f.Width/2
		case project.Light, project.Vent:
			f = project.Feature{Kind: kind, Length: b.length(0.1, 0.8), Width: b.length(0.1, 0.6), Height: b.length(0.03, 0.3), Turn: b.turn()}
			f.At.X, f.At.Y = b.length(0.3, b.long), b.length(0.1, b.wide)
			f.At.Z = unit.Length(b.d.Room.CeilingAt(float64(f.At.X), float64(f.At.Y))) - f.Height
		}
		f.At.X, f.At.Y, f.At.Z = tidy(float64(f.At.X)), tidy(float64(f.At.Y)), tidy(float64(f.At.Z))
		if f.Round && f.Width != 0 {
			f.Width = f.Length
		}
		f.Length, f.Width, f.Height = tidy(float64(f.Length)), tidy(float64(f.Width)), tidy(float64(f.Height))
		if b.swallows(f) && !b.chance(0.02) {
			continue
		}
		b.d.Room.Features = append(b.d.Room.Features, f)
	}
}

func (b *builder) turn() unit.Degrees {
	if b.chance(0.6) {
		return one[unit.Degrees](b, 0, 0, 0, 90, -90, 180, 45)
	}
	return b.degrees(-180, 180)
}

// alongWall returns a box of that depth against a stretch of a wall, its base on
// the floor and 0 high.
func (b *builder) alongWall(deep float64) project.Feature {
	wall := b.IntN(len(b.poly))
	p, q := b.poly[wall], b.poly[(wall+1)%len(b.poly)]
	long := math.Hypot(q.X-p.X, q.Y-p.Y)
	from, to := 0.0, long
	if long > 0.4 && b.chance(0.5) {
		from = b.between(0, long/2)
		to = b.between(from+0.1, long)
	}
	in := b.poly.InwardNormal(wall)
	mid := (from + to) / 2 / long
	f := project.Feature{
		At: project.Point{X: unit.Length(p.X + (q.X-p.X)*mid + in.X*deep/2), Y: unit.Length(p.Y + (q.Y-p.Y)*mid + in.Y*deep/2)},
		// Along x before it is turned.
		Length: unit.Length(to - from), Width: unit.Length(deep),
	}
	switch turn := unit.Degrees(math.Atan2(q.Y-p.Y, q.X-p.X) * 180 / math.Pi); {
	case q.Y == p.Y && b.chance(0.8):
	case q.X == p.X && b.chance(0.8): // as people type it
		f.Length, f.Width = f.Width, f.Length
	default:
		f.Turn = turn
	}
	f.Length, f.Width = max(f.Length, 0.001), max(f.Width, 0.001)
	return f
}

// swallows reports whether somebody's head is in f.
func (b *builder) swallows(f project.Feature) bool {
	box := f.Box()
	for _, r := range b.d.Seating.Rows {
		for _, p := range heads(b.d, r) {
			const free = 0.12 // m
			l := box.Basis.Local(p.Sub(box.Center))
			if math.Abs(l.X) < box.Half.X+free && math.Abs(l.Y) < box.Half.Y+free && math.Abs(l.Z) < box.Half.Z+free {
				return true
			}
		}
	}
	return false
}

// face is a face of a box: its middle, its normal out of the box and its halves.
type face struct{ middle, normal, u, v geometry.Vec }

// featureFace returns a face of a feature: of a round column's side, the line in which
// that of the box about it touches it.
func (b *builder) featureFace(f project.Feature) face {
	of := b.faceOf(f.Box())
	if f.Round && of.normal.Z == 0 {
		of.u = geometry.Vec{}
	}
	return of
}

// faceOf returns a face of box, most often one that is seen from the room.
func (b *builder) faceOf(box geometry.Box) face {
	var f face
	for range 10 {
		if f = b.anyFace(box); b.inside(f.middle.Add(f.normal.Mul(0.05))) {
			break
		}
	}
	return f
}

func (b *builder) anyFace(box geometry.Box) face {
	s := one(b, 1.0, -1)
	x, y, z := box.Basis.U.Mul(box.Half.X), box.Basis.V.Mul(box.Half.Y), box.Basis.W.Mul(box.Half.Z)
	switch b.IntN(5) {
	case 0, 1:
		return face{box.Center.Add(x.Mul(s)), box.Basis.U.Mul(s), y, z}
	case 2, 3:
		return face{box.Center.Add(y.Mul(s)), box.Basis.V.Mul(s), x, z}
	}
	return face{box.Center.Add(z.Mul(s)), box.Basis.W.Mul(s), x, y}
}
