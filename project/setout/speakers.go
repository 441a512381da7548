// SPDX-License-Identifier: MIT

package setout

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/place"
)

// Overhead is said of what hangs over people's heads.
const Overhead = "Hangs overhead: fixings and what carries them are for a licensed trade."

// Beam is said of the projector.
const Beam = "Never look into the lens; cover it while working in the beam."

// Electric is said of what is on the mains.
const Electric = "Mains: for a licensed electrician, to local code."

// overhead is from which height of its lower edge on something hangs over heads, metres
// above the floor: common practice, no source.
const overhead = 2.0

func (b *builder) speakers() {
	for k := range b.r.Speakers {
		sp := &b.r.Speakers[k]
		it := Item{
			ID: b.d.Speakers[k].ID, Kind: Speaker, Name: bs2051.InFull(sp.Name()), At: sp.At.Vec(), Mass: sp.Spec.Mass,
			Frame: &Frame{float64(sp.Spec.Width), float64(sp.Spec.Height), float64(sp.Spec.Depth)},
		}
		switch sp.Mount {
		case project.OnCeiling:
			it.On = OnCeiling
		case project.OnFloor:
			it.On = OnFloor
		case project.BehindScreen:
			it.On, it.Wall, it.Place = BehindScreen, b.screenWall(it.At), string(BehindScreen)
		default:
			it.On, it.Wall = OnWall, b.wallAt(it.At)
		}
		it.Aim = aimFrom(b.straight(sp.Mount, it.At), sp.Axis)
		lowest := it.At.Z
		for _, c := range sp.Box.Corners() {
			lowest = min(lowest, c.Z)
		}
		if sp.Mount == project.OnCeiling || sp.Mount == project.OnWall && lowest >= overhead {
			it.Caution = Overhead
		}
		out := b.add(it, k)
		if sp.Spec.Flush {
			out.Edges = b.edges(out, sp, float64(sp.Spec.Width), float64(sp.Spec.Height))
			if w, h := float64(sp.Spec.CutoutW), float64(sp.Spec.CutoutH); w > 0 && h > 0 {
				out.Cutout = b.edges(out, sp, w, h)
			}
		}
		for i, dr := range sp.Drivers {
			const same = 0.5e-3 // m
			if up := dr.Center.Z - sp.At.Vec().Z; math.Abs(up) > same {
				out.Drivers = append(out.Drivers, Driver{sp.Spec.Drivers[i].Band, dr.Center.Z - b.line})
			}
		}
	}
}

// edges returns those of a rectangle about the middle of the front of sp.
func (b *builder) edges(it *Item, sp *place.Speaker, width, height float64) *Cutout {
	if it.On == OnWall || it.On == BehindScreen {
		return b.onWallEdges(it, width/2, it.At.Z-height/2, it.At.Z+height/2)
	}
	u, v := sp.Front.U.Mul(height/2), sp.Front.V.Mul(width/2)
	e := b.overheadEdges(it, math.Abs(u.X)+math.Abs(v.X), math.Abs(u.Y)+math.Abs(v.Y))
	e.Width, e.Height = width, height
	if math.Abs(v.X) > math.Abs(v.Y) { // it lies the other way round
		e.Width, e.Height = height, width
	}
	return e
}

// Straight returns where loudspeaker l of d points that is neither turned nor tilted: out
// of its wall, down from the ceiling, on the floor to the back of the room. An Aim is from
// there.
func Straight(d *project.Design, l *project.Loudspeaker) geometry.Vec {
	return newTape(d).straight(l.Mount, l.At.Vec())
}

func (t *tape) straight(m project.Mount, at geometry.Vec) geometry.Vec {
	switch {
	case m == project.OnCeiling:
		return geometry.Vec{Z: -1}
	case m == project.OnFloor, len(t.walls) == 0:
		return geometry.Vec{X: 1}
	case m == project.BehindScreen:
		return level(t.walls[t.screenWall(at)-1].in)
	}
	return level(t.walls[t.wallAt(at)-1].in)
}

// aimFrom returns the turn and tilt of axis from straight.
func aimFrom(normal, axis geometry.Vec) *Aim {
	const plumb = 1e-6
	along := math.Hypot(axis.X, axis.Y)
	if normal.Z < 0 { // the ceiling
		a := &Aim{Tilt: math.Acos(min(max(-axis.Z, -1), 1)) / unit.Degree}
		if along > plumb {
			a.Turn = math.Atan2(axis.Y, -axis.X) / unit.Degree
		}
		return a
	}
	a := &Aim{Tilt: math.Atan2(axis.Z, along) / unit.Degree}
	if right := normal.Cross(geometry.Vec{Z: 1}); along > plumb {
		a.Turn = math.Atan2(axis.Dot(right), axis.Dot(normal)) / unit.Degree
	}
	return a
}
