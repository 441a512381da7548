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
	// m, the shoulders' middle behind the torso's axis
	shoulderForward = 0.03
)

// Person is a body size, worked out once and seated often.
type Person struct {
	sitting, eye, ear         float64 // above the seat, erect; metres, as all here
	above                     float64 // crown over ear
	breadth, length, pupils   float64
	shoulders, hips           float64
	thigh, shank, slump, sink float64
	stature                   float64
}

// PersonAt returns a person of that percentile of the design's mix of women and
// men, with the design's slump and seat sink.
func PersonAt(d *project.Design, percentile float64) Person {
	who := d.Seating.Sitters
	size := func(b bodySize) float64 { return b.at(percentile, who.Women) }
	sitting, ear := size(sittingHeight), size(tragionHeight)
	return Person{
		sitting: sitting, eye: size(eyeHeight), ear: ear, above: sitting - ear,
		breadth: size(headBreadth), length: size(headLength), pupils: size(pupilDistance),
		shoulders: size(shoulderBreadth), hips: size(hipBreadth),
		stature: size(stature),
		thigh:   size(buttockKnee), shank: size(kneeHeight),
		slump: float64(who.Slump), sink: float64(who.Sink),
	}
}

// WithCrown returns a person like p but with a head that reaches so far from ear to
// crown, metres: a long head, or a short one, on the trunk that p has.
func (p Person) WithCrown(above float64) Person {
	p.above = above
	return p
}

// Listener returns the sitter whose ears and eyes are checked, in seat s.
// Whoever needs many seats calls PersonAt once and In for each.
func Listener(d *project.Design, s Seat) Body { return PersonAt(d, d.Seating.Sitters.Listener).In(s) }

// Other returns the sitter who may be in the way, in seat s.
func Other(d *project.Design, s Seat) Body { return PersonAt(d, d.Seating.Sitters.Others).In(s) }

// In seats p in s.
//
// Sitting erect, heights above the loaded pan (pan less sink) are the survey's,
// less slump. Reclining turns the torso about the hip. Up to 30 degrees the head
// is carried back and down by it but stays level; from 35 degrees it rests on
// the headrest, where the chair has one: see rest. A chair without a headrest
// leaves it level at every recline.
func (p Person) In(s Seat) Body {
	q := p.Pose(&s)
	left, right := q.Ears()
	eyes, eyesUp := p.eyes()
	return Body{
		Seat:     s,
		EarLeft:  left,
		EarRight: right,
		EyeLeft:  q.head(eyes, -p.pupils/2, eyesUp),
		EyeRight: q.head(eyes, p.pupils/2, eyesUp),
		Crown:    q.head(-neckBack, 0, neckDrop+p.above),
		Hip:      q.at(-hipForward, 0, hipUp),
		Neck:     q.at(q.neckX, 0, q.neckZ),

		Head: q.Head(), NeckSolid: q.Neck(), Shoulders: q.Shoulders(),
		HipBreadth: p.hips,
		Thigh:      p.thigh,
		Shank:      p.shank,
	}
}

// Pose is a person in a seat, as In has it, of whom only what is asked for is
// worked out.
type Pose struct {
	p   Person
	s   *Seat
	pan float64 // loaded

	// In the chair's own frame, x back, z up from the loaded pan: the top of the
	// spine, and the axis of the torso.
	neckX, neckZ float64
	sin, cos     float64 // of the recline
	hSin, hCos   float64 // of half of it, by which the headrest tips
	// The head is tipped back by tip, and carried back square to the headrest's
	// face.
	tip, tipSin, tipCos float64
	backX, backZ        float64
}

// Pose seats p in s, which must not change as long as the pose is in use.
func (p Person) Pose(s *Seat) Pose {
	q := Pose{p: p, s: s, pan: float64(s.Chair.PanHeight) - p.sink}
	q.sin, q.cos = math.Sincos(s.Recline)
	q.hSin, q.hCos = math.Sincos(s.Recline / 2)
	armX, armZ := p.arm()
	q.neckX = -hipForward + armX*q.cos + armZ*q.sin
	q.neckZ = hipUp + armZ*q.cos - armX*q.sin
	q.lay()
	return q
}

// WithCrown returns q with a head as Person.WithCrown has it.
func (q Pose) WithCrown(above float64) Pose {
	q.p.above = above
	if q.tip > 0 {
		q.lay()
	}
	return q
}

// lay puts the head where it stays level or rests.
func (q *Pose) lay() {
	var back float64
	switch q.tip, back = q.p.rest(q.s, q.hSin, q.hCos); q.tip {
	case 0:
		q.tipSin, q.tipCos = 0, 1
	case q.s.Recline / 2:
		q.tipSin, q.tipCos = q.hSin, q.hCos
	default:
		q.tipSin, q.tipCos = math.Sincos(q.tip)
	}
	q.backX, q.backZ = back*q.hCos, -back*q.hSin
}

// at returns a point of the chair's frame.
func (q *Pose) at(x, y, z float64) geometry.Vec { return q.s.Local(x, y, q.pan+z) }

// head returns a point of the head, given from the top of the spine as the level
// head has it.
func (q *Pose) head(x, y, z float64) geometry.Vec {
	return q.at(q.neckX+x*q.tipCos+z*q.tipSin+q.backX, y, q.neckZ+z*q.tipCos-x*q.tipSin+q.backZ)
}

// Ears returns the two ears.
func (q *Pose) Ears() (left, right geometry.Vec) {
	return q.head(-neckBack, -q.p.breadth/2, neckDrop), q.head(-neckBack, q.p.breadth/2, neckDrop)
}

// Eye returns the point midway between the eyes.
func (q *Pose) Eye() geometry.Vec {
	x, z := q.p.eyes()
	return q.head(x, -q.p.pupils/2, z).Lerp(q.head(x, q.p.pupils/2, z), 0.5)
}

// Head returns the solid of the head.
func (q *Pose) Head() geometry.Ellipsoid {
	halfHeight := q.p.above * headHeight / 2
	return geometry.Ellipsoid{
		Center: q.head(-neckBack, 0, neckDrop+q.p.above-halfHeight),
		Basis:  reclined(q.s.Basis, q.tip),
		Radii:  geometry.Vec{X: q.p.length / 2, Y: q.p.breadth / 2, Z: halfHeight},
	}
}

// Neck returns the solid of the neck.
func (q *Pose) Neck() geometry.Ellipsoid {
	foot, top := q.shoulders(), q.head(-neckBack, 0, neckDrop)
	axis, _ := top.Sub(foot).Unit()
	return geometry.Ellipsoid{
		Center: foot.Lerp(top, 0.5),
		Basis:  alongW(axis, q.s.Basis.V),
		Radii:  geometry.Vec{X: neckRadius, Y: neckRadius, Z: foot.Dist(top)/2 + 0.02},
	}
}

// Shoulders returns the solid of the shoulders.
func (q *Pose) Shoulders() geometry.Ellipsoid {
	return geometry.Ellipsoid{
		Center: q.shoulders(),
		Basis:  reclined(q.s.Basis, q.s.Recline),
		Radii:  geometry.Vec{X: shoulderHalf, Y: q.p.shoulders / 2, Z: shoulderHalf},
	}
}

// shoulders returns the shoulders' middle. They ride on the torso, so they turn
// with it.
func (q *Pose) shoulders() geometry.Vec {
	z := q.p.sitting*shoulderTop - q.p.slump - shoulderHalf - hipUp
	return q.at(-hipForward+shoulderForward*q.cos+z*q.sin, 0, hipUp+z*q.cos-shoulderForward*q.sin)
}

// eyes returns how far behind the top of the spine and above it the eyes are,
// the head level.
func (p *Person) eyes() (back, up float64) { return -neckBack - eyeForward, neckDrop + p.eye - p.ear }

// arm returns how far back of the hip and above it the top of the spine is,
// sitting erect.
func (p Person) arm() (back, up float64) {
	return hipForward - earForward + neckBack, p.ear - p.slump - neckDrop - hipUp
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
