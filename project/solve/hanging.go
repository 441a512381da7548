// SPDX-License-Identifier: MIT

package solve

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// hanging is one loudspeaker that moves up and down its wall. It is placed anew at
// every height: a box that aims at the main listening position turns with the
// height and moves its off-centre drivers; a box whose tilt would push it into the
// wall is moved forward by as much.
type hanging struct {
	d       *project.Design
	k       int
	start   project.Loudspeaker
	main    geometry.Vec
	poly    geometry.Polygon
	allowed []float64 // by edge: how far the box as given reaches into the wall
	push    []float64
	// speed bounds how far any point of the box or its drivers moves when the
	// loudspeaker is raised by 1 m.
	speed float64
}

// newHanging returns loudspeaker k of d at the place start, ready to move between
// the heights lo and hi.
func newHanging(d *project.Design, k int, start project.Loudspeaker, main geometry.Vec, lo, hi float64) *hanging {
	h := &hanging{d: d, k: k, start: start, main: main, poly: d.Room.Polygon()}
	h.push = make([]float64, len(h.poly))
	h.allowed = make([]float64, len(h.poly))
	now := place.OneSpeaker(d, h.start, main)
	pushes(h.poly, now.Box, h.allowed)
	for i, a := range h.allowed {
		h.allowed[i] = max(a, buildTol)
	}
	h.setSpeed(lo, hi)
	return h
}

// at returns the loudspeaker with its reference point at height z.
func (h *hanging) at(z float64) place.Speaker {
	l := h.start
	p := l.At.Vec()
	p.Z = z
	const rounds, near = 12, 1e-7 // m; each round corrects a small share of the last
	for range rounds {
		l.At = project.PointOf(p)
		placed := place.OneSpeaker(h.d, l, h.main)
		if placed.Spec.Flush || l.Aim.Fixed {
			return placed
		}
		pushes(h.poly, placed.Box, h.push)
		moved := false
		for e, out := range h.push {
			if excess := out - h.allowed[e]; excess > near {
				n := h.poly.InwardNormal(e)
				p.X += n.X * excess
				p.Y += n.Y * excess
				moved = true
			}
		}
		if !moved {
			return placed
		}
	}
	l.At = project.PointOf(p)
	return place.OneSpeaker(h.d, l, h.main)
}

// setSpeed bounds the speeds between the heights lo and hi.
//
// A box that aims at the main position from the horizontal distance r turns by no
// more than sqrt2/r (yaw and pitch) for each metre that its reference point moves;
// one whose axis is built in at an angle turns faster, see amplified. Moving it
// forward moves the reference point too: with c = sqrt2 diag turn the move that
// each metre of move causes, the geometric series gives 1/(1-c). If c is not
// small there is no bound, and the search checks every step.
func (h *hanging) setSpeed(lo, hi float64) {
	now := place.OneSpeaker(h.d, h.start, h.main)
	spec := now.Spec
	h.speed = 1
	if spec.Flush || h.start.Aim.Fixed {
		return
	}
	const ladder = 16
	r, steepest, brought := math.Inf(1), 0.0, 0.0
	for n := range ladder + 1 {
		p := h.at(lo + (hi-lo)*float64(n)/ladder)
		v := p.At.Vec().Sub(h.main)
		r = min(r, math.Hypot(v.X, v.Y))
		steepest = max(steepest, math.Abs(p.Axis.Z))
		brought = max(brought, p.At.Vec().Dist(geometry.Vec{X: float64(h.start.At.X), Y: float64(h.start.At.Y), Z: p.At.Vec().Z}))
	}
	const safe = 0.9 // for heights between two of the ladder
	turn := math.Sqrt2 / (safe * r) * amplified(spec, min(steepest/safe, 1))
	diag := geometry.Vec{X: float64(spec.Depth), Y: float64(spec.Width) / 2, Z: float64(spec.Height) / 2}.Len()
	if i := spec.Deciding(); i >= 0 { // a driver may be wider than its box
		dr := spec.Drivers[i]
		diag = max(diag, math.Hypot(float64(dr.Right), float64(dr.Up))+float64(dr.Diameter)/2)
	}
	ref := 1.0
	if brought > 0 {
		c := math.Sqrt2 * diag * turn
		if !(c < 0.8) {
			h.speed = math.Inf(1)
			return
		}
		ref = 1 / (1 - c)
	}
	h.speed = ref * (1 + diag*turn)
}

// amplified returns the factor by which a box whose axis is built in at an angle
// turns faster than its axis, as long as the sine of the axis's elevation is at
// most z. With a = cos up cos right, b = sin up, m = |(a, b)|, p = cos up sin right
// the front's elevation is asin(z/m) - atan(b/a), its azimuth off by atan2(p, q)
// with p^2+q^2 = 1-z^2 (place.frontFor); this bounds both derivatives.
func amplified(m project.Model, z float64) float64 {
	if m.AimRight == 0 && m.AimUp == 0 {
		return 1
	}
	sr, cr := math.Sincos(m.AimRight.Radians())
	su, cu := math.Sincos(m.AimUp.Radians())
	len2 := cu*cr*cu*cr + su*su
	if len2 <= z*z || z >= 1 {
		return math.Inf(1)
	}
	e := 1 / math.Sqrt(len2-z*z)
	return 1 + e*(1+math.Sqrt(len2)*math.Abs(cu*sr)/(1-z*z))
}

// elevation returns the elevation of the loudspeaker's reference point from the
// main position, in radians.
func (h *hanging) elevation(p *place.Speaker) float64 {
	_, el, _ := geometry.AzEl(p.At.Vec().Sub(h.main))
	return el
}

// outOfShell returns a lower bound of how much h must rise before the room's shell
// is no longer in the way of its driver, now at p; metres.
func (h *hanging) outOfShell(p geometry.Vec) float64 {
	const flush = 0.05 // m, more than sight lets a driver lie outside the shell
	if p.Z < 0 {
		return max(-p.Z-flush, 0)
	}
	spec, _ := h.d.Model(h.start.Model)
	if p.Z > h.d.Room.CeilingAt(p.X, p.Y) || spec.Flush || h.start.Aim.Fixed {
		// The driver is above the ceiling, or a wall is in between in plan and the
		// loudspeaker does not turn: no height helps.
		return math.Inf(1)
	}
	// One that turns moves its driver a little in plan.
	const look = 0.005 // m
	return look
}
