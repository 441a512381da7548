// SPDX-License-Identifier: MIT

package geometry

// Wall is a flat side of a room, seen from within: it hides what lies behind it
// from an eye before it. An eye behind it or in its plane has nothing hidden by
// it: whatever leaves a room leaves it through a wall that is seen from within.
type Wall struct {
	At Vec // a point of its plane
	In Vec // unit normal, into the room
	// From and To are where it ends: it reaches from the upright line through
	// one to that through the other. The same point twice: it has no end, like a
	// ceiling.
	From, To Vec2
}

// Behind returns how far p lies behind the wall's plane, metres; negative before
// it.
func (w *Wall) Behind(p Vec) float64 { return w.In.Dot(w.At.Sub(p)) }

// Endless reports whether the wall has no ends.
func (w *Wall) Endless() bool { return w.From == w.To }

// Crosses reports whether the straight path from a point before the wall to one
// behind its plane goes through the wall itself, not past its ends.
func (w *Wall) Crosses(from, to Vec) bool {
	if w.Endless() {
		return true
	}
	d := Vec2{to.X - from.X, to.Y - from.Y}
	a := w.From.Sub(Vec2{from.X, from.Y})
	b := w.To.Sub(Vec2{from.X, from.Y})
	p, q, turn := a.Cross(d), b.Cross(d), a.Cross(b)
	if turn < 0 {
		p, q = -p, -q
	}
	return p >= 0 && q <= 0
}

// Gap returns how far seg passes beside a wall that has ends, as seen from above,
// metres: 0 where it goes through.
func (w *Wall) Gap(seg Segment) float64 {
	a, b := Vec2{seg.A.X, seg.A.Y}, Vec2{seg.B.X, seg.B.Y}
	d, e := b.Sub(a), w.To.Sub(w.From)
	if (d.Cross(w.From.Sub(a)) > 0) != (d.Cross(w.To.Sub(a)) > 0) &&
		(e.Cross(a.Sub(w.From)) > 0) != (e.Cross(b.Sub(w.From)) > 0) {
		return 0
	}
	return min(distToSegment(a, w.From, w.To), distToSegment(b, w.From, w.To),
		distToSegment(w.From, a, b), distToSegment(w.To, a, b))
}

// hides reports whether an eye does not see p for the wall.
func (w *Wall) hides(eye, p Vec) bool {
	return w.Behind(eye) < 0 && w.Behind(p) > inFace && w.Crosses(eye, p)
}

// wallShadow adds the part of t that w hides from the eye: what lies behind its
// plane and between the upright planes through the eye and its ends. Nothing of
// a target that lies in the wall is hidden.
func (sc *Scratch) wallShadow(w *Wall, eye Vec, t *Target) {
	if w.Behind(eye) >= 0 {
		return
	}
	u, v, behind := w.In.Dot(t.u), w.In.Dot(t.v), w.Behind(t.center)
	if behind+t.extent(u, v) <= inFace {
		return // before the wall, or in it
	}
	o := &sc.outline
	o.square()
	o.cut(u, v, -behind)
	if !w.Endless() {
		e := Vec2{eye.X, eye.Y}
		a, b := w.From.Sub(e), w.To.Sub(e)
		if a.Cross(b) < 0 {
			a, b = b, a
		}
		// To the left of a, to the right of b, as seen from the eye.
		c, u, v := Vec2{t.center.X - eye.X, t.center.Y - eye.Y}, Vec2{t.u.X, t.u.Y}, Vec2{t.v.X, t.v.Y}
		o.cut(-a.Cross(u), -a.Cross(v), -a.Cross(c))
		o.cut(b.Cross(u), b.Cross(v), b.Cross(c))
	}
	sc.addShape(o, noConic)
}
