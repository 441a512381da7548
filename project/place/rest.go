// SPDX-License-Identifier: MIT

package place

import "math"

// How the head of a far reclined sitter rests on the headrest, or on the chair's
// back below it. No source: that a reclined head rests, tipped as its rest is, is
// common practice of drawn figures and what a chair's headrest is for.

// Between these reclines the head goes over from level to resting. No source:
// that people let go somewhere about there, and the five degrees it takes, are
// ours.
const (
	levelTo   = 30 * math.Pi / 180
	restsFrom = 35 * math.Pi / 180
)

// resting returns how far the head of a sitter who reclines by angle has gone
// over, from 0, level, to 1, at rest. It grows with the angle, without a corner.
func (s Seat) resting(angle float64) float64 {
	if !(s.Chair.Headrest > 0) {
		return 0
	}
	t := min(max((angle-levelTo)/(restsFrom-levelTo), 0), 1)
	return t * t * (3 - 2*t)
}

// tip returns by how much the head is tipped back at that recline: at rest, as
// the headrest is (HeadrestBox).
func (s Seat) tip(angle float64) float64 { return s.resting(angle) * angle / 2 }

// rest returns how the head of p lies in s: turned back about the top of the
// spine by tip, then carried back by so much square to the headrest's face.
//
// At rest the back of the head, half its length behind its middle, lies in the
// plane of the headrest's face; or, where the head sits so low that it meets the
// face of the chair's back first, the head touches that. On the way from level
// to rest both grow alike.
func (p Person) rest(s Seat) (tip, back float64) {
	w := s.resting(s.Recline)
	if w == 0 {
		return 0, 0
	}
	_, armZ := p.arm()
	sin, cos := math.Sincos(s.Recline / 2)
	c := restOf(s, p.sink)
	neck := c.neckBehind*cos + (armZ-c.behind)*sin
	up := (armZ-c.over)*cos - c.neckAhead*sin + neckDrop
	a := p.length / 2
	held := heldBefore(a, p.above, up+p.above*overEar, sin/cos)
	return w * s.Recline / 2, w * (neckBack - neck - a - held)
}

// overEar is how far the head's middle is above the ears, as a share of ear to
// crown.
const overEar = 1 - headHeight/2

// restFrame says where the top of the spine lies from the foot of a headrest
// that tips by h, half the recline, in the headrest's own frame (back, up):
//
//	neckBehind cos h + (armZ - behind) sin h
//	(armZ - over) cos h - neckAhead sin h
//
// for armZ above the hip when erect. It is the sum of hip, arm turned by the
// recline, less the foot of the headrest at the top of the reclined back.
type restFrame struct{ neckBehind, behind, over, neckAhead float64 }

func restOf(s Seat, sink float64) restFrame {
	const armX = hipForward - earForward + neckBack
	high := float64(s.Chair.BackHeight)
	return restFrame{
		neckBehind: armX - hipForward, behind: hipUp + high - sink,
		over: high + sink - hipUp, neckAhead: armX + hipForward,
	}
}

// heldBefore returns how far before the headrest's plane the chair's back holds a
// head of half-length a and so much from ear to crown, whose middle is up above
// the headrest's foot; tan is that of the angle between the two faces, which meet
// at the foot. The ellipsoid of half-axes a and c reaches
// sqrt(a² cos² + c² sin²) towards the back.
func heldBefore(a, above, up, tan float64) float64 {
	c := above * headHeight / 2
	return max(math.Hypot(a, c*tan)-a-up*tan, 0)
}
