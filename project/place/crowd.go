// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// What follows says where the bodies of a whole range of people, and the chairs
// they recline, can be: convex sets that hold every one of them, for answers
// that are certain of all. A person is a percentile: all sizes of one body are
// of that percentile, as Person has it; but the heads that may be in the way
// reach from ear to crown as far as anybody's in the range, whatever the trunk.
// The narrower the range of percentiles and reclines, the closer the sets lie to
// the bodies; for one percentile and one recline they are the body (its neck to
// within rounding).

// Crowd is the people of a design's mix between two percentiles. It splits into
// narrower ranges. Only one goroutine at a time may split a Crowd or its parts.
type Crowd struct {
	d        *project.Design
	from, to member   // the smallest and the largest body
	heads    interval // crown over ear of anybody in the whole range
	above    interval // crown over ear
	stretch  interval // ear over the shoulders' middle, sitting erect
	look     interval // eye over ear
	halves   *[2]Crowd
}

// member is one person of a crowd.
type member struct {
	Person
	score, percentile float64
}

// memberOfScore returns the person at normal score z.
func memberOfScore(d *project.Design, z float64) member {
	p := 100 * normal(z)
	return member{PersonAt(d, p), z, p}
}

// CrowdBetween returns everyone of the design's mix from percentile low to high, both
// between 0.01 and 99.99 and low not above high. Where they are one percentile
// it is that one body.
func CrowdBetween(d *project.Design, low, high float64) *Crowd {
	// Differences of two sizes need not grow with the percentile; both sizes do,
	// so between two percentiles a difference is held by their ends. In steps as
	// fine as this that errs by 1 cm at most; narrower crowds err by less.
	const levels = 4
	const steps = 1 << levels
	if low == high {
		one := memberAt(d, low)
		return between(d, one, one, interval{one.above, one.above})
	}
	women := d.Seating.Sitters.Women
	heads := interval{tragionToCrown.at(low, women), tragionToCrown.at(high, women)}
	z0, z1 := score(low/100), score(high/100)
	list := make([]*Crowd, steps)
	last := memberAt(d, low)
	for i := range list {
		next := memberAt(d, high)
		if i+1 < steps {
			next = memberOfScore(d, z0+(z1-z0)*float64(i+1)/steps)
		}
		list[i] = between(d, last, next, heads)
		last = next
	}
	for len(list) > 1 {
		for i := 0; i < len(list); i += 2 {
			a, b := list[i], list[i+1]
			list[i/2] = &Crowd{d: d, from: a.from, to: b.to, heads: heads, above: a.above.with(b.above),
				stretch: a.stretch.with(b.stretch), look: a.look.with(b.look), halves: &[2]Crowd{*a, *b}}
		}
		list = list[:len(list)/2]
	}
	return list[0]
}

// memberAt returns the person of percentile p, kept to its last digit.
func memberAt(d *project.Design, p float64) member { return member{PersonAt(d, p), score(p / 100), p} }

// between returns the crowd from a to b, of a range with these heads.
func between(d *project.Design, a, b member, heads interval) *Crowd {
	shoulder := func(f member) float64 { return f.sitting*shoulderTop - shoulderHalf }
	return &Crowd{d: d, from: a, to: b, heads: heads,
		above:   interval{a.sitting - b.ear, b.sitting - a.ear},
		stretch: interval{a.ear - neckDrop - shoulder(b), b.ear - neckDrop - shoulder(a)},
		look:    interval{a.eye - b.ear, b.eye - a.ear},
	}
}

// Low and High return the percentiles between which c is.
func (c *Crowd) Low() float64  { return c.from.percentile }
func (c *Crowd) High() float64 { return c.to.percentile }

// Small and Large return the smallest and the largest person of c.
func (c *Crowd) Small() Person { return c.from.Person }
func (c *Crowd) Large() Person { return c.to.Person }

// LongHead returns how far the longest head of the whole range reaches from ear to
// crown, metres; ok is false where p, of c, has it, or a longer one.
func (c *Crowd) LongHead(p Person) (above float64, ok bool) {
	return c.heads.hi, c.heads.hi > p.above
}

// Spread returns by how much the ears of c differ in height, metres.
func (c *Crowd) Spread() float64 { return c.to.ear - c.from.ear }

// Halves returns the smaller and the larger people of c; both are c where all
// are alike.
func (c *Crowd) Halves() (small, large *Crowd) {
	if c.from.score == c.to.score {
		return c, c
	}
	if c.halves == nil {
		mid := memberOfScore(c.d, (c.from.score+c.to.score)/2)
		c.halves = &[2]Crowd{*between(c.d, c.from, mid, c.heads), *between(c.d, mid, c.to, c.heads)}
	}
	return &c.halves[0], &c.halves[1]
}

// Clone returns a copy of c that another goroutine may split.
func (c *Crowd) Clone() *Crowd {
	out := *c
	if c.halves != nil {
		out.halves = &[2]Crowd{*c.halves[0].Clone(), *c.halves[1].Clone()}
	}
	return &out
}

// Lean is a range of reclines, in radians behind upright, less than half a
// circle wide.
type Lean struct{ From, To float64 }

// Mid returns the recline in the middle of l.
func (l Lean) Mid() float64 { return l.From + (l.To-l.From)/2 }

// Halves splits the reclines l of s: where the head begins to rest or to go over,
// as far as they lie within l, since the sets lie closer on either side of these;
// else in the middle.
func (s *Seat) Halves(l Lean) (lower, upper Lean) {
	at := l.Mid()
	if s.Chair.Headrest > 0 {
		switch {
		case l.From < restsFrom && restsFrom < l.To:
			at = restsFrom
		case l.From < levelTo && levelTo < l.To:
			at = levelTo
		}
	}
	return Lean{l.From, at}, Lean{at, l.To}
}

// Stages splits the reclines l of s into those at which the head stays level, goes
// over and rests, as far as l has them.
func (s *Seat) Stages(l Lean) []Lean {
	if s.resting(l.To) == 0 || s.resting(l.From) == 1 {
		return []Lean{l}
	}
	var out []Lean
	for _, at := range [2]float64{levelTo, restsFrom} {
		if l.From < at && at < l.To {
			out = append(out, Lean{l.From, at})
			l.From = at
		}
	}
	return append(out, l)
}

// Travel returns about how far the head moves from one end of the reclines l of
// s to the other, metres.
func (s *Seat) Travel(l Lean) float64 {
	const (
		arm  = 0.6  // m, about how far the head is from the hip
		over = 0.12 // m, about how far it goes over to rest
	)
	return arm*(l.To-l.From) + over*(s.resting(l.To)-s.resting(l.From))
}

// Leans returns every recline of the seat's chair.
func (s Seat) Leans() Lean {
	return Lean{s.Chair.MinRecline.Radians(), s.Chair.MaxRecline.Radians()}
}

// arm returns the place, erect, of the top of the spine from the hip of c.
func (c *Crowd) arm(l Lean) geometry.Turn {
	who := &c.d.Seating.Sitters
	up := -float64(who.Slump) - neckDrop - hipUp
	x := hipForward - earForward + neckBack
	return geometry.NewTurn(x, x, c.from.ear+up, c.to.ear+up, l.From, l.To)
}

// hip returns the point of s about which the torso turns.
func (c *Crowd) hip(s Seat) geometry.Vec {
	pan := float64(s.Chair.PanHeight) - float64(c.d.Seating.Sitters.Sink)
	return s.Local(-hipForward, 0, pan+hipUp)
}

// Ears returns where the ears of c in seat s can be, reclined by any angle of l:
// left (-1), right (1), or both and all between (0).
func (c *Crowd) Ears(s Seat, l Lean, side int) geometry.Sweep {
	e := c.headAt(s, l, 0, interval{}, c.above)
	near, far := c.from.breadth/2, c.to.breadth/2
	switch {
	case side < 0:
		e.Low.Y, e.High.Y = -far, -near
	case side > 0:
		e.Low.Y, e.High.Y = near, far
	default:
		e.Low.Y, e.High.Y = -far, far
	}
	return e
}

// Eyes returns where the point between the eyes of c in seat s can be.
func (c *Crowd) Eyes(s Seat, l Lean) geometry.Sweep {
	return c.headAt(s, l, eyeForward, c.look, c.above)
}

// Part returns what holds that part of every sitter of c in seat s, or of the
// chair, reclined by any angle of l. anyHeight lets the headrest stand anywhere
// from lowered onto the back to raised, as the chair's model has it. ok is false
// for a part that does not recline (pan and arms) or that the chair does not
// have.
func (c *Crowd) Part(s Seat, l Lean, kind PartKind, anyHeight bool) (geometry.Sweep, bool) {
	chair := &s.Chair
	thick, high := float64(chair.BackThickness), float64(chair.BackHeight)
	switch kind {
	case HeadPart:
		return c.head(s, l), true
	case NeckPart:
		return c.neck(s, l), true
	case ShoulderPart:
		lo, hi := c.shoulderArm()
		return geometry.Sweep{Origin: c.hip(s), Basis: s.Basis,
			Turns: [3]geometry.Turn{geometry.NewTurn(shoulderForward, shoulderForward, lo, hi, l.From, l.To)},
			// Round about the axis on which they turn: they look alike leaned back.
			Radii: geometry.Vec{X: shoulderHalf, Y: c.to.shoulders / 2, Z: shoulderHalf}}, true
	case BackPart:
		half := float64(chair.PanWidth) / 2
		return geometry.Sweep{Origin: s.Local(0, 0, float64(chair.PanHeight)), Basis: s.Basis,
			Turns: [3]geometry.Turn{geometry.NewTurn(0, thick, 0, high, l.From, l.To)},
			Low:   geometry.Vec{Y: -half}, High: geometry.Vec{Y: half}}, true
	case HeadrestPart:
		up := float64(chair.Headrest)
		if !(up > 0) {
			return geometry.Sweep{}, false
		}
		low := high
		if anyHeight {
			low -= up
		}
		half := float64(chair.HeadrestWidth) / 2
		return geometry.Sweep{Origin: s.Local(0, 0, float64(chair.PanHeight)), Basis: s.Basis,
			Turns: [3]geometry.Turn{
				geometry.NewTurn(0, 0, low, high, l.From, l.To),
				geometry.NewTurn(0, thick*0.7, 0, up, l.From/2, l.To/2)},
			Low: geometry.Vec{Y: -half}, High: geometry.Vec{Y: half}}, true
	}
	return geometry.Sweep{}, false
}

// shoulderArm returns how far the shoulders' middle is above the hip, erect.
func (c *Crowd) shoulderArm() (lo, hi float64) {
	down := float64(c.d.Seating.Sitters.Slump) + shoulderHalf + hipUp
	return c.from.sitting*shoulderTop - down, c.to.sitting*shoulderTop - down
}

// head returns what holds the head. An ellipsoid of half-axes a and c tipped by
// t is the unit ball mapped by a symmetric matrix; for two tips these differ by
// |a - c| sin(difference of the tips) (norm). So the one for the middle, swollen
// by that, holds them all.
func (c *Crowd) head(s Seat, l Lean) geometry.Sweep {
	above := c.above.with(c.heads)
	h := c.headAt(s, l, 0, above.times(interval{overEar, overEar}), above)
	h.Radii = geometry.Vec{X: c.to.length / 2, Y: c.to.breadth / 2, Z: above.hi * headHeight / 2}
	if from, to := s.tip(l.From), s.tip(l.To); to > 0 {
		h.Lean[0], h.Lean[1] = math.Sincos(from + (to-from)/2)
		h.Ball = math.Abs(h.Radii.X-h.Radii.Z) * math.Sin((to-from)/2)
	}
	return h
}

// neck returns what holds the neck: its middle turns with shoulders and head;
// its axis does too, and its length changes. An ellipsoid of half-length L along
// the unit vector a and radius r across is the unit ball mapped by
// r + (L - r) a a', so that one for the middle of the range, swollen by
// |dL| + |L - r| sin(angle between the axes), holds them all.
func (c *Crowd) neck(s Seat, l Lean) geometry.Sweep {
	lo, hi := c.shoulderArm()
	arm := c.arm(l)
	x := (shoulderForward + arm.X[0]) / 2
	n := geometry.Sweep{Origin: c.hip(s), Basis: s.Basis,
		Turns: [3]geometry.Turn{geometry.NewTurn(x, x, (lo+arm.Z[0])/2, (hi+arm.Z[1])/2, l.From, l.To)}}
	// From the shoulders' middle to between the ears, at the middle of the range:
	// along the torso, then with the head.
	bx := arm.X[0] - shoulderForward
	sin, cos := math.Sincos(l.Mid())
	g := (c.stretch.lo + c.stretch.hi) / 2
	vx, vz := bx*cos+g*sin, g*cos-bx*sin
	off := (c.stretch.hi-c.stretch.lo)/2 + chord(math.Hypot(bx, c.stretch.hi), l.To-l.From)
	if from, to := s.tip(l.From), s.tip(l.To); to > 0 {
		back := c.carried(s, l, c.above.with(c.heads))
		n.Turns[1] = geometry.NewTurn(back.lo/2, back.hi/2, 0, 0, l.From/2, l.To/2)
		n.Turns[2] = geometry.NewTurn(-neckBack/2, -neckBack/2, neckDrop/2, neckDrop/2, from, to)
		sin, cos = math.Sincos(l.Mid() / 2)
		b := (back.lo + back.hi) / 2
		tipSin, tipCos := math.Sincos(from + (to-from)/2)
		vx += b*cos - neckBack*tipCos + neckDrop*tipSin
		vz += -b*sin + neckDrop*tipCos + neckBack*tipSin
		off += (back.hi-back.lo)/2 + chord(max(math.Abs(back.lo), math.Abs(back.hi)), (l.To-l.From)/2) +
			chord(math.Hypot(neckBack, neckDrop), to-from)
	} else {
		vx, vz = vx-neckBack, vz+neckDrop
		n.Origin = n.Origin.Add(s.Basis.World(geometry.Vec{X: -neckBack / 2, Z: neckDrop / 2}))
	}
	length := math.Hypot(vx, vz)
	half := length/2 + 0.02
	n.Lean = [2]float64{vx / length, vz / length}
	n.Radii = geometry.Vec{X: neckRadius, Y: neckRadius, Z: half}
	n.Ball = off/2 + math.Abs(half-neckRadius)*min(off/length, 1)
	return n
}

// chord returns how far the end of an arm so long is from where it is in the
// middle of a turn so wide.
func chord(arm, turn float64) float64 { return arm * 2 * math.Sin(turn/4) }

// Own returns the differences of a point of the sitter (an ear of that side, as
// in Ears, or between the eyes) and of that part of the sitter's own chair or
// shoulders: both take part in one recline and are of one person. anyHeight and ok
// are as in Part, but for a headrest on which the head rests.
func (c *Crowd) Own(s Seat, l Lean, from *geometry.Sweep, kind PartKind, anyHeight bool) (geometry.Sweep, bool) {
	part, ok := c.Part(s, l, kind, anyHeight && !s.HoldsHeadrest(l))
	if !ok {
		return part, false
	}
	if kind != ShoulderPart {
		return from.Minus(&part), true
	}
	e := c.fromSpine(s, l, *from)
	d := e.Minus(&part)
	d.Turns[0].Z = [2]float64{c.stretch.lo, c.stretch.hi}
	return d, true
}
