// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Speaker is a loudspeaker worked out: where its box and drivers are and where
// its axis points.
type Speaker struct {
	project.Loudspeaker
	Spec project.Model
	// Front is the basis of its box: W points out of the front, V to the right
	// of someone who looks at the front, U downwards.
	Front geometry.Basis
	// Axis is the unit vector along which it radiates.
	Axis    geometry.Vec
	Box     geometry.Box
	Drivers []geometry.Disc // as Spec.Drivers, normal to the front
}

// Speakers works out every loudspeaker, in the order of d.Speakers. One that names
// no known model gets an empty Spec and no drivers (Validate refuses it).
func Speakers(d *project.Design) []Speaker {
	return speakers(d, MainPoint(d))
}

func speakers(d *project.Design, main geometry.Vec) []Speaker {
	out := make([]Speaker, len(d.Speakers))
	for i, l := range d.Speakers {
		out[i] = OneSpeaker(d, l, main)
	}
	return out
}

// OneSpeaker works out l, aiming at main unless its aim is fixed.
func OneSpeaker(d *project.Design, l project.Loudspeaker, main geometry.Vec) Speaker {
	spec, _ := d.Model(l.Model)
	p := Speaker{Loudspeaker: l, Spec: spec}
	at := l.At.Vec()

	aim := main.Sub(at)
	if l.Aim.Fixed {
		aim = geometry.Direction(l.Aim.Azimuth.Radians(), l.Aim.Elevation.Radians())
	}
	axis, ok := aim.Unit()
	if !ok {
		axis = geometry.Vec{X: 1}
	}
	front := axis
	switch {
	case spec.Flush:
		front = surfaceNormal(d, l)
		built := lookAlong(front)
		axis = turned(built, spec.AimRight.Radians(), spec.AimUp.Radians())
	case spec.AimRight != 0 || spec.AimUp != 0:
		front = frontFor(axis, spec.AimRight.Radians(), spec.AimUp.Radians())
	}
	p.Axis, p.Front = axis, lookAlong(front)
	half := geometry.Vec{X: float64(spec.Height) / 2, Y: float64(spec.Width) / 2, Z: float64(spec.Depth) / 2}
	p.Box = geometry.Box{Center: at.Sub(p.Front.W.Mul(half.Z)), Basis: p.Front, Half: half}
	p.Drivers = make([]geometry.Disc, len(spec.Drivers))
	for i, dr := range spec.Drivers {
		p.Drivers[i] = geometry.Disc{
			Center: at.Add(p.Front.V.Mul(float64(dr.Right))).Sub(p.Front.U.Mul(float64(dr.Up))),
			Normal: p.Front.W,
			Radius: float64(dr.Diameter) / 2,
		}
	}
	return p
}

// lookAlong returns the basis whose W is the unit vector w, whose V is level
// (to the right of someone who looks against w) and whose U points downwards.
// Straight up or down, V is the room's right as seen facing the screen.
func lookAlong(w geometry.Vec) geometry.Basis {
	up := geometry.Vec{Z: 1}
	v, ok := w.Cross(up).Unit()
	if !ok || math.Hypot(w.X, w.Y) < 1e-9 {
		v = geometry.Vec{Y: 1}
	} else {
		v = v.Neg()
	}
	return geometry.Basis{U: v.Cross(w), V: v, W: w}
}

// turned returns the direction found by turning right and up from b.W.
func turned(b geometry.Basis, right, up float64) geometry.Vec {
	sr, cr := math.Sincos(right)
	su, cu := math.Sincos(up)
	return b.W.Mul(cu * cr).Add(b.V.Mul(cu * sr)).Sub(b.U.Mul(su))
}

// frontFor returns where the front of a box must face so that its axis, built in
// at right and up from the front, points along axis: the inverse of turned with
// the front's own basis. Where no box that hangs level can do it, the front is
// turned up or down as far as it goes: no farther than straight up or down.
func frontFor(axis geometry.Vec, right, up float64) geometry.Vec {
	az, _, _ := geometry.AzEl(axis)
	sr, cr := math.Sincos(right)
	su, cu := math.Sincos(up)
	// The height of the axis is a sin(e) + b cos(e) for a front at elevation e.
	a, b := cu*cr, su
	e := math.Asin(min(max(axis.Z/math.Hypot(a, b), -1), 1)) - math.Atan2(b, a)
	e = min(max(e, -math.Pi/2), math.Pi/2)
	heading := math.Atan2(cu*sr, a*math.Cos(e)-b*math.Sin(e))
	return geometry.Direction(az-heading, e)
}

// surfaceNormal returns the unit normal, into the room, of the surface that
// carries a flush loudspeaker: the ceiling, the floor, or the nearest wall.
func surfaceNormal(d *project.Design, l project.Loudspeaker) geometry.Vec {
	switch l.Mount {
	case project.OnCeiling:
		return d.Room.CeilingNormal(float64(l.At.X), float64(l.At.Y))
	case project.OnFloor:
		return geometry.Vec{Z: 1}
	case project.BehindScreen:
		return geometry.Vec{X: 1}
	}
	n := d.Room.WallNormal(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)})
	return geometry.Vec{X: n.X, Y: n.Y}
}

// Woofer returns where the low sound of p starts: the middle of its drivers for it, or
// of all drivers where none is, or its reference point.
func (p *Speaker) Woofer() geometry.Vec {
	var low []geometry.Vec
	for i, dr := range p.Spec.Drivers {
		if dr.Band == project.Sub || dr.Band == project.Low || dr.Band == project.Full {
			low = append(low, p.Drivers[i].Center)
		}
	}
	if low == nil {
		for _, dr := range p.Drivers {
			low = append(low, dr.Center)
		}
	}
	if low == nil {
		return p.At.Vec()
	}
	var middle geometry.Vec
	for _, c := range low {
		middle = middle.Add(c.Mul(1 / float64(len(low))))
	}
	return middle
}
