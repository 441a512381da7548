// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Body is a sitter in a seat: where the ears and eyes are, and what of the
// sitter can stand in somebody's way. All points are in the room frame.
type Body struct {
	Seat              Seat
	EarLeft, EarRight geometry.Vec
	EyeLeft, EyeRight geometry.Vec
	Crown             geometry.Vec
	Hip, Neck         geometry.Vec // the torso's axis
	Head              geometry.Ellipsoid
	NeckSolid         geometry.Ellipsoid
	Shoulders         geometry.Ellipsoid
	HipBreadth        float64 // metres
	Thigh, Shank      float64 // buttock to knee, knee to floor; metres
}

// Ear returns the point midway between the ears, the middle of the head.
func (b Body) Ear() geometry.Vec { return b.EarLeft.Lerp(b.EarRight, 0.5) }

// Eye returns the point midway between the eyes.
func (b Body) Eye() geometry.Vec { return b.EyeLeft.Lerp(b.EyeRight, 0.5) }

// Proportions that the survey does not give. No source: common proportions of
// drawn figures, from memory; each moves ears and crown by less than the
// difference between P50 and P60.
const (
	hipForward   = 0.13 // m, hip joint before the back's plane
	hipUp        = 0.09 // m, hip joint above the loaded pan
	earForward   = 0.11 // m, ear before the back's plane, sitting erect
	neckDrop     = 0.09 // m, top of the spine below the ear
	neckBack     = 0.02 // m, top of the spine behind the ear
	eyeForward   = 0.08 // m, eye before the ear
	headHeight   = 1.77 // head height (chin to crown) / ear to crown
	neckRadius   = 0.06 // m
	shoulderTop  = 0.66 // height of the shoulders / sitting height
	shoulderHalf = 0.11 // m, half thickness and half height of the shoulders
)

// Person is a body size, worked out once and seated often.
type Person struct {
	sitting, eye, ear         float64 // above the seat, erect; metres, as all here
	breadth, length, pupils   float64
	shoulders, hips           float64
	thigh, shank, slump, sink float64
}

// PersonAt returns a person of that percentile of the design's mix of women and
// men, with the design's slump and seat sink.
func PersonAt(d *project.Design, percentile float64) Person {
	who := d.Seating.Sitters
	size := func(b bodySize) float64 { return b.at(percentile, who.Women) }
	return Person{
		sitting: size(sittingHeight), eye: size(eyeHeight), ear: size(tragionHeight),
		breadth: size(headBreadth), length: size(headLength), pupils: size(pupilDistance),
		shoulders: size(shoulderBreadth), hips: size(hipBreadth),
		thigh: size(buttockKnee), shank: size(kneeHeight),
		slump: float64(who.Slump), sink: float64(who.Sink),
	}
}

// Listener returns the sitter whose ears and eyes are checked, in seat s.
// Whoever needs many seats calls PersonAt once and In for each.
func Listener(d *project.Design, s Seat) Body { return PersonAt(d, d.Seating.Sitters.Listener).In(s) }

// Other returns the sitter who may be in the way, in seat s.
func Other(d *project.Design, s Seat) Body { return PersonAt(d, d.Seating.Sitters.Others).In(s) }

// In seats p in s.
//
// Sitting erect, heights above the loaded pan (pan less sink) are the survey's,
// less slump. Reclining turns the torso about the hip; the head is carried back
// and down by it but stays level, held towards the screen by the headrest.
func (p Person) In(s Seat) Body {
	pan := float64(s.Chair.PanHeight) - p.sink
	ear, eye, crown := p.ear-p.slump, p.eye-p.slump, p.sitting-p.slump

	// In the chair's own frame: x back, z up from the loaded pan.
	sin, cos := math.Sincos(s.Recline)
	armX, armZ := hipForward-earForward+neckBack, ear-neckDrop-hipUp
	neckX := -hipForward + armX*cos + armZ*sin
	neckZ := hipUp + armZ*cos - armX*sin
	earX := neckX - neckBack
	lift := neckZ - (ear - neckDrop) // how far reclining raised the head (negative)

	at := func(x, y, z float64) geometry.Vec { return s.Local(x, y, pan+z) }
	halfHeight := (crown - ear) * headHeight / 2
	head := geometry.Ellipsoid{
		Center: at(earX, 0, crown+lift-halfHeight),
		Basis:  s.Basis,
		Radii:  geometry.Vec{X: p.length / 2, Y: p.breadth / 2, Z: halfHeight},
	}
	// The shoulders ride on the torso, so they turn with it.
	shoulderZ := p.sitting*shoulderTop - p.slump - shoulderHalf - hipUp
	shX := -hipForward + 0.03*cos + shoulderZ*sin
	shZ := hipUp + shoulderZ*cos - 0.03*sin
	shoulders := geometry.Ellipsoid{
		Center: at(shX, 0, shZ),
		Basis:  reclined(s.Basis, s.Recline),
		Radii:  geometry.Vec{X: shoulderHalf, Y: p.shoulders / 2, Z: shoulderHalf},
	}
	foot := at(shX, 0, shZ)
	top := at(earX, 0, ear+lift)
	axis, _ := top.Sub(foot).Unit()
	return Body{
		Seat:     s,
		EarLeft:  at(earX, -p.breadth/2, ear+lift),
		EarRight: at(earX, p.breadth/2, ear+lift),
		EyeLeft:  at(earX-eyeForward, -p.pupils/2, eye+lift),
		EyeRight: at(earX-eyeForward, p.pupils/2, eye+lift),
		Crown:    at(earX, 0, crown+lift),
		Hip:      at(-hipForward, 0, hipUp),
		Neck:     at(neckX, 0, neckZ),
		Head:     head,
		NeckSolid: geometry.Ellipsoid{
			Center: foot.Lerp(top, 0.5),
			Basis:  alongW(axis, s.Basis.V),
			Radii:  geometry.Vec{X: neckRadius, Y: neckRadius, Z: foot.Dist(top)/2 + 0.02},
		},
		Shoulders:  shoulders,
		HipBreadth: p.hips,
		Thigh:      p.thigh,
		Shank:      p.shank,
	}
}

// reclined returns the basis b tipped back by angle: its up axis leans towards
// its back axis.
func reclined(b geometry.Basis, angle float64) geometry.Basis {
	s, c := math.Sincos(angle)
	return geometry.Basis{
		U: b.U.Mul(c).Sub(b.W.Mul(s)),
		V: b.V,
		W: b.W.Mul(c).Add(b.U.Mul(s)),
	}
}

// alongW returns a basis whose W is w and whose V is as near v as can be.
func alongW(w, v geometry.Vec) geometry.Basis {
	u, ok := v.Cross(w).Unit()
	if !ok {
		return geometry.WorldBasis()
	}
	return geometry.Basis{U: u, V: w.Cross(u), W: w}
}
