// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
)

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
func (s *Seat) resting(angle float64) float64 {
	if !(s.Chair.Headrest > 0) {
		return 0
	}
	t := min(max((angle-levelTo)/(restsFrom-levelTo), 0), 1)
	return t * t * (3 - 2*t)
}

// HoldsHeadrest reports whether the sitter's head has begun to rest at every recline
// of l: the headrest is then where the head lies on it, raised.
func (s *Seat) HoldsHeadrest(l Lean) bool { return s.Chair.Headrest > 0 && l.From >= levelTo }

// tip returns by how much the head is tipped back at that recline: at rest, as
// the headrest is (HeadrestBox).
func (s *Seat) tip(angle float64) float64 { return s.resting(angle) * angle / 2 }

// rest returns how the head of p lies in s: turned back about the top of the
// spine by tip, then carried back by so much square to the headrest's face. sin and
// cos are those of half the recline.
//
// At rest the back of the head, half its length behind its middle, lies in the
// plane of the headrest's face; or, where the head sits so low that it meets the
// face of the chair's back first, the head touches that. On the way from level
// to rest both grow alike.
func (p *Person) rest(s *Seat, sin, cos float64) (tip, back float64) {
	w := s.resting(s.Recline)
	if w == 0 {
		return 0, 0
	}
	_, armZ := p.arm()
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

func restOf(s *Seat, sink float64) restFrame {
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

// headAt returns where a point of the head of c in seat s is that lies ahead
// metres before the ears' axis and up above it, for people whose crowns are above
// over their ears, reclined by any angle of l.
//
// Leaned back no farther than the head stays level, it moves with the top of the
// spine. At rest it lies against the headrest, so that its place is known from
// the headrest's foot: a turn by the recline, to the foot, and one by half of it.
// In between it is known from there too, but for the head's own turn, by its tip.
// Where l has some of each, three turns hold it: the spine's, by the recline; the
// way that the head is carried back, by half of it; and the head's own.
func (c *Crowd) headAt(s Seat, l Lean, ahead float64, up, above interval) geometry.Sweep {
	from, to := s.resting(l.From), s.resting(l.To)
	switch {
	case to == 0:
		shift := s.Basis.World(geometry.Vec{X: -neckBack - ahead, Z: neckDrop})
		return geometry.Sweep{Origin: c.hip(s).Add(shift), Basis: s.Basis, Turns: [3]geometry.Turn{c.arm(l)},
			Low: geometry.Vec{Z: up.lo}, High: geometry.Vec{Z: up.hi}}
	case from == 1:
		r := c.rest(s, l, above)
		high := float64(s.Chair.BackHeight)
		x := interval{-ahead, -ahead}.minus(r.half).minus(r.held)
		z := r.up.plus(up)
		return geometry.Sweep{Origin: s.Local(0, 0, float64(s.Chair.PanHeight)), Basis: s.Basis, Turns: [3]geometry.Turn{
			geometry.NewTurn(0, 0, high, high, l.From, l.To),
			geometry.NewTurn(x.lo, x.hi, z.lo, z.hi, l.From/2, l.To/2)}}
	case l.From >= levelTo:
		// How far the top of the spine is behind the headrest's foot, and then
		// carried, goes over with the head from where a level head has it to where
		// one at rest does.
		r := c.rest(s, l, above)
		high := float64(s.Chair.BackHeight)
		rest := interval{neckBack, neckBack}.minus(r.half).minus(r.held)
		x := r.neck.towards(rest, from).with(r.neck.towards(rest, to))
		z := r.up.minus(interval{neckDrop, neckDrop})
		return geometry.Sweep{Origin: s.Local(0, 0, float64(s.Chair.PanHeight)), Basis: s.Basis, Turns: [3]geometry.Turn{
			geometry.NewTurn(0, 0, high, high, l.From, l.To),
			geometry.NewTurn(x.lo, x.hi, z.lo, z.hi, l.From/2, l.To/2),
			c.nod(s, l, ahead, up)}}
	}
	back := c.carried(s, l, above)
	return geometry.Sweep{Origin: c.hip(s), Basis: s.Basis, Turns: [3]geometry.Turn{
		c.arm(l),
		geometry.NewTurn(back.lo, back.hi, 0, 0, l.From/2, l.To/2),
		c.nod(s, l, ahead, up)}}
}

// nod returns the turn of a point of the head, as in headAt, about the top of the
// spine.
func (c *Crowd) nod(s Seat, l Lean, ahead float64, up interval) geometry.Turn {
	return geometry.NewTurn(-neckBack-ahead, -neckBack-ahead, neckDrop+up.lo, neckDrop+up.hi, s.tip(l.From), s.tip(l.To))
}

// rested is where heads at rest lie from the headrest's foot, in its own frame.
type rested struct {
	neck interval // top of the spine, behind it
	up   interval // ears, above it
	half interval // length of the head
	held interval // see heldBefore
}

// rest bounds rested for everyone of c, their crowns above over their ears, at
// rest at any recline of l. Interval arithmetic (Moore 1966, "Interval
// Analysis"): sizes grow with the percentile, and sine, cosine and tangent are
// monotone up to a quarter turn, so each ends where its terms do.
func (c *Crowd) rest(s Seat, l Lean, above interval) rested {
	sin0, cos0 := math.Sincos(l.From / 2)
	sin1, cos1 := math.Sincos(l.To / 2)
	sin, cos, tan := interval{sin0, sin1}, interval{cos1, cos0}, interval{sin0 / cos0, sin1 / cos1}
	f := restOf(&s, c.from.sink)
	_, z0 := c.from.arm()
	_, z1 := c.to.arm()
	r := rested{
		neck: cos.times(interval{f.neckBehind, f.neckBehind}).plus(interval{z0 - f.behind, z1 - f.behind}.times(sin)),
		up: interval{z0 - f.over, z1 - f.over}.times(cos).minus(sin.times(interval{f.neckAhead, f.neckAhead})).
			plus(interval{neckDrop, neckDrop}),
		half: interval{c.from.length / 2, c.to.length / 2},
	}
	// What holds the head before the headrest's plane grows with above and tan,
	// and shrinks with half, in its first term; the middle's height counts in the
	// second.
	drop := r.up.plus(above.times(interval{overEar, overEar})).times(tan)
	r.held = interval{
		max(math.Hypot(r.half.hi, above.lo*headHeight/2*tan.lo)-r.half.hi-drop.hi, 0),
		max(math.Hypot(r.half.lo, above.hi*headHeight/2*tan.hi)-r.half.lo-drop.lo, 0),
	}
	return r
}

// carried bounds how far the heads of c are carried back by the headrest.
func (c *Crowd) carried(s Seat, l Lean, above interval) interval {
	w := interval{s.resting(l.From), s.resting(l.To)}
	if w.hi == 0 {
		return interval{}
	}
	r := c.rest(s, Lean{max(l.From, levelTo), max(l.To, levelTo)}, above)
	return w.times(interval{neckBack, neckBack}.minus(r.neck).minus(r.half).minus(r.held))
}

// fromSpine returns e, a set that headAt gave, as the top of the spine carries
// it: where it is from there no longer depends on how tall the sitter is, as far
// as that can be.
func (c *Crowd) fromSpine(s Seat, l Lean, e geometry.Sweep) geometry.Sweep {
	if s.resting(l.To) == 0 || l.From < levelTo {
		return e // it is so already
	}
	back := c.carried(s, l, c.above)
	if s.resting(l.From) < 1 {
		e.Origin = c.hip(s)
		e.Turns[0] = c.arm(l)
		e.Turns[1] = geometry.NewTurn(back.lo, back.hi, 0, 0, l.From/2, l.To/2)
		return e
	}
	r := c.rest(s, l, c.above)
	t := &e.Turns[1]
	ahead := r.half.plus(r.held).hi + t.X[0] // negated
	e.Origin = c.hip(s)
	e.Turns[0] = c.arm(l)
	t.X = [2]float64{ahead - neckBack + back.lo, ahead - neckBack + back.hi}
	t.Z = [2]float64{t.Z[0] - r.up.lo + neckDrop, t.Z[1] - r.up.hi + neckDrop}
	return e
}
