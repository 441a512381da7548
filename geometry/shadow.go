// SPDX-License-Identifier: MIT

package geometry

import "math"

// shape is a convex part of the target's plane: the square |x|, |y| <= 1 cut by
// edges, and by a conic if it has one.
type shape struct {
	x0, x1 float64
	e0, e1 int // its edges in Scratch.edges
	conic  int // in Scratch.conics, or noConic
	owner  int // the solid whose shadow it is, as in Scratch.alone, or noSolid
}

const (
	noConic = -1
	noSolid = -1
)

// inFace is how far behind a face a target may reach and still count as lying
// in it, metres: far below any tape, far above rounding. What is set flush into
// a face is seen from before it.
const inFace = 1e-6

// edge is a straight piece of a shape's outline that is not the square's: from
// (x, y) over (dx, dy), dx not 0. The shape lies below an upper edge and above
// any other.
type edge struct {
	x, y, dx, dy float64
	upper        bool
}

// at returns the y of the edge's line at x.
func (e *edge) at(x float64) float64 { return e.y + (x-e.x)*(e.dy/e.dx) }

// cross appends to xs where the two edges meet.
func (e *edge) cross(xs []float64, f *edge) []float64 {
	d := float64(e.dx*f.dy) - float64(e.dy*f.dx)
	if d == 0 {
		return xs
	}
	wx, wy := f.x-e.x, f.y-e.y
	s := (wx*f.dy - wy*f.dx) / d
	t := (wx*e.dy - wy*e.dx) / d
	if s < 0 || s > 1 || t < 0 || t > 1 {
		return xs
	}
	return append(xs, e.x+s*e.dx)
}

// corner is a corner of outline; rim says that the side which starts there
// belongs to the square.
type corner struct {
	x, y float64
	rim  bool
}

// outline is a convex polygon, counter-clockwise. The square cut by the nine
// half-planes of a box's shadow has thirteen corners at most.
type outline struct {
	at [16]corner
	n  int
}

func (o *outline) square() {
	o.at[0] = corner{-1, -1, true}
	o.at[1] = corner{1, -1, true}
	o.at[2] = corner{1, 1, true}
	o.at[3] = corner{-1, 1, true}
	o.n = 4
}

// cut keeps the part of o where a x + b y + c <= 0 (Sutherland and Hodgman
// 1974, "Reentrant Polygon Clipping").
func (o *outline) cut(a, b, c float64) {
	var d [len(o.at)]float64
	in, out := false, false
	for i := range o.n {
		p := &o.at[i]
		d[i] = float64(a*p.x) + float64(b*p.y) + c
		if d[i] > 0 {
			out = true
		} else {
			in = true
		}
	}
	if !out {
		return
	}
	if !in {
		o.n = 0
		return
	}
	old, n := *o, o.n
	o.n = 0
	add := func(c corner) {
		if o.n < len(o.at) {
			o.at[o.n] = c
			o.n++
		}
	}
	for i := range n {
		j := i + 1
		if j == n {
			j = 0
		}
		p, q := old.at[i], old.at[j]
		inP, inQ := d[i] <= 0, d[j] <= 0
		if inP {
			add(p)
		}
		if inP != inQ {
			t := d[i] / (d[i] - d[j])
			// Where the side leaves, the cut begins; where it returns, it goes on.
			add(corner{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y), p.rim && inQ})
		}
	}
}

// addShape appends what o leaves of the square, cut by the conic with that
// index if it has one.
func (sc *Scratch) addShape(o *outline, conic int) {
	if o.n < 3 {
		return
	}
	s := shape{x0: 1, x1: -1, e0: len(sc.edges), conic: conic, owner: sc.owner}
	for i := range o.n {
		p, q := &o.at[i], &o.at[(i+1)%o.n]
		s.x0, s.x1 = min(s.x0, p.x), max(s.x1, p.x)
		if dx := q.x - p.x; !p.rim && dx != 0 {
			sc.edges = append(sc.edges, edge{p.x, p.y, dx, q.y - p.y, dx < 0})
		}
	}
	s.e1 = len(sc.edges)
	if conic != noConic {
		// A conic bounded in x ends at its turns.
		if q := &sc.conics[conic]; q.dd < 0 {
			d := q.dx*q.dx - q.dd*q.d1
			if d <= 0 {
				return
			}
			m, w := -q.dx/q.dd, -math.Sqrt(d)/q.dd
			s.x0, s.x1 = max(s.x0, m-w), min(s.x1, m+w)
		}
	}
	if s.x0 < s.x1 {
		sc.shapes = append(sc.shapes, s)
	}
}

// addConic keeps q and returns its index.
func (sc *Scratch) addConic(q conic) int {
	sc.conics = append(sc.conics, q)
	return len(sc.conics) - 1
}

// shadow adds the part of t that s hides from the eye; hidden reports that the eye
// is inside s.
func (sc *Scratch) shadow(s *Solid, eye Vec, t *Target) (hidden bool) {
	switch s.form {
	case boxForm:
		return sc.boxShadow(s, eye, t)
	case cylinderForm:
		return sc.cylinderShadow(s, eye, t)
	case triangleForm:
		return sc.triangleShadow(s, eye, t)
	}
	return sc.ellipsoidShadow(s, eye, t)
}

// ellipsoidShadow adds the part of t that s hides from the eye; hidden reports
// that the eye is inside s.
//
// Where s is the unit ball at the origin, write e for the eye and f = p - e for
// a point p of the plane. The line through both meets the ball where
// Q = |f|^2 - |e x f|^2 >= 0. The ball hides p when moreover p lies behind the
// polar plane of e (e.p <= 1), and when p lies in the ball. What the ball adds
// is the section in front of the polar plane, which meets the rest along the
// polar line only.
func (sc *Scratch) ellipsoidShadow(s *Solid, eye Vec, t *Target) (hidden bool) {
	e := s.unit(s.local(eye))
	if e.Len2() <= 1 {
		return true
	}
	p, u, v := s.unit(s.local(t.center)), s.unit(s.basis.Local(t.u)), s.unit(s.basis.Local(t.v))
	f := p.Sub(e)
	pa, pb, pc := e.Dot(u), e.Dot(v), e.Dot(p)-1 // the polar line

	o := &sc.outline
	o.square()
	o.cut(pa, pb, pc)
	if o.n > 0 {
		if q, ok := shadowConic(e, f, u, v); ok {
			sc.addShape(o, sc.addConic(q))
		}
	}
	o.square()
	o.cut(-pa, -pb, -pc)
	if o.n > 0 {
		if q, ok := sectionConic(p, u, v); ok {
			sc.addShape(o, sc.addConic(q))
		}
	}
	return false
}

// unit returns v, in the ellipsoid's axes, in units of its half-axes.
func (s *Solid) unit(v Vec) Vec {
	v = held(v)
	return Vec{v.X * s.inv.X, v.Y * s.inv.Y, v.Z * s.inv.Z}
}

// boxShadow adds the part of t that s hides from the eye; hidden reports that
// the eye is inside s. A point is hidden when it lies behind every face that
// looks at the eye, and inside every plane through the eye and an edge between
// a face that does and one that does not. A target that lies in such a face is
// not behind it.
func (sc *Scratch) boxShadow(s *Solid, eye Vec, t *Target) (hidden bool) {
	e, p := held(s.local(eye)), held(s.local(t.center))
	u, v := held(s.basis.Local(t.u)), held(s.basis.Local(t.v))
	// By axis: eye, centre, axes of the plane, half-sizes.
	ax := [3]boxAxis{
		{e.X, p.X, u.X, v.X, s.half.X},
		{e.Y, p.Y, u.Y, v.Y, s.half.Y},
		{e.Z, p.Z, u.Z, v.Z, s.half.Z},
	}
	if ax[0].side() == 0 && ax[1].side() == 0 && ax[2].side() == 0 {
		return true
	}
	o := &sc.outline
	o.square()
	for i := range ax {
		if a, side := &ax[i], ax[i].side(); side != 0 {
			behind := a.h - side*a.p
			if behind+t.extent(a.u, a.v) <= inFace {
				return false
			}
			o.cut(side*a.u, side*a.v, -behind)
		}
	}
	for i := range ax {
		a, b := &ax[i], &ax[(i+1)%3]
		for _, sa := range [2]float64{-1, 1} {
			for _, sb := range [2]float64{-1, 1} {
				if (sa == a.side()) == (sb == b.side()) {
					continue
				}
				na, nb := sb*b.h-b.e, a.e-sa*a.h
				if na*a.e+nb*b.e < 0 { // the centre would be cut off
					na, nb = -na, -nb
				}
				o.cut(na*a.u+nb*b.u, na*a.v+nb*b.v, na*(a.p-a.e)+nb*(b.p-b.e))
				if o.n == 0 {
					return false
				}
			}
		}
	}
	sc.addShape(o, noConic)
	return false
}

// boxAxis is what boxShadow needs to know along one axis of the box.
type boxAxis struct{ e, p, u, v, h float64 }

// side returns which face across this axis looks at the eye: 1, -1 or, between
// the two, 0.
func (a *boxAxis) side() float64 {
	switch {
	case a.e > a.h:
		return 1
	case a.e < -a.h:
		return -1
	}
	return 0
}
