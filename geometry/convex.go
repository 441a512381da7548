// SPDX-License-Identifier: MIT

package geometry

import "math"

// Convex is a convex set known by its support: at is a point of the set that is
// farthest along n, n not zero. Reach is n.at less a number that does not depend
// on n, or n.at itself; nothing here reads it. A *Solid is one.
type Convex interface {
	Support(n Vec) (reach float64, at Vec)
}

// Bracket says how far apart two convex sets are, in metres.
type Bracket struct {
	// Lower is certain: the sets are at least so far apart or, if it is
	// negative, a move of -Lower along Normal parts them.
	Lower float64
	// Upper is certain too when the sets are apart: two of their points are no
	// farther from each other. It is 0 when they meet.
	Upper float64
	// Normal is the unit vector, from the second set to the first, that gives
	// Lower: the plane square to it parts them. The second set reaches as far as
	// Most along it: Normal.y is no greater for any of its points y.
	Normal Vec
	Most   float64
}

// Distance brackets the distance from b to a: the two sets never enter but by
// their supports, so that every bound found on the way is a certificate,
//
//	Lower = min over x in a of u.x - max over y in b of u.y
//
// for a unit vector u. It stops as soon as Lower >= enough, or when the bracket
// is no wider than tol, or when the sets are found to meet, and after at most 64
// steps. first is a guess of the direction from b to a; a good one (such as the
// normal found for sets nearly alike) saves most of the work. It need not be a
// unit vector and may be zero.
//
// Method: Gilbert, Johnson and Keerthi 1988, "A fast procedure for computing the
// distance between complex objects in three-dimensional space", IEEE J. Robotics
// and Automation 4(2), with the bounds of its section III; the nearest point of
// each simplex by regions (Ericson 2005, "Real-Time Collision Detection",
// sections 5.1.5 and 5.1.6). Lower errs by some 1e-15 of the largest coordinate.
func Distance(a, b Convex, first Vec, enough, tol float64) Bracket {
	const steps = 64
	const nothing = 1e-13 // m: an origin so near the simplex lies in it
	u, ok := first.Unit()
	if !ok {
		u = Vec{Z: 1}
	}
	out := Bracket{Lower: math.Inf(-1), Upper: math.Inf(1), Normal: u}
	var s simplex
	for range steps {
		_, p := a.Support(u.Neg())
		_, q := b.Support(u)
		w := p.Sub(q)
		if l := u.Dot(w); l > out.Lower {
			out.Lower, out.Normal, out.Most = l, u, u.Dot(q)
			if l >= enough {
				out.Upper = min(out.Upper, w.Len())
				return out
			}
		}
		if out.Upper-out.Lower <= tol || s.has(w) {
			return out
		}
		v, inside := s.add(w)
		d := v.Len()
		if inside || d < nothing {
			if out.Lower <= nothing { // else rounding deceives: they are apart
				out.Upper = 0
			}
			return out
		}
		if s.n > 1 && !(d < out.Upper) { // rounding: no progress
			return out
		}
		out.Upper = d
		u = v.Mul(1 / d)
	}
	return out
}

// simplex is up to four points of the difference of two sets.
type simplex struct {
	p [4]Vec
	n int
}

func (s *simplex) has(w Vec) bool {
	for i := range s.n {
		if s.p[i] == w {
			return true
		}
	}
	return false
}

// add takes w up, drops the points that the point v nearest to the origin does
// not need, and returns v; inside reports that the origin is in the simplex.
func (s *simplex) add(w Vec) (v Vec, inside bool) {
	s.p[s.n] = w
	s.n++
	switch s.n {
	case 1:
		return w, false
	case 2:
		return s.line(s.p[0], s.p[1]), false
	case 3:
		return s.triangle(s.p[0], s.p[1], s.p[2]), false
	}
	return s.tetrahedron()
}

func (s *simplex) line(a, b Vec) Vec {
	d := b.Sub(a)
	l2 := d.Len2()
	t := -a.Dot(d)
	switch {
	case t <= 0 || !(l2 > 0):
		s.p[0], s.n = a, 1
		return a
	case t >= l2:
		s.p[0], s.n = b, 1
		return b
	}
	s.p[0], s.p[1], s.n = a, b, 2
	return a.Add(d.Mul(t / l2))
}

func (s *simplex) triangle(a, b, c Vec) Vec {
	ab, ac := b.Sub(a), c.Sub(a)
	d1, d2 := -ab.Dot(a), -ac.Dot(a)
	if d1 <= 0 && d2 <= 0 {
		s.p[0], s.n = a, 1
		return a
	}
	d3, d4 := -ab.Dot(b), -ac.Dot(b)
	if d3 >= 0 && d4 <= d3 {
		s.p[0], s.n = b, 1
		return b
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return s.line(a, b)
	}
	d5, d6 := -ab.Dot(c), -ac.Dot(c)
	if d6 >= 0 && d5 <= d6 {
		s.p[0], s.n = c, 1
		return c
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return s.line(a, c)
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		return s.line(b, c)
	}
	sum := va + vb + vc
	if !(sum > 0) {
		return s.line(a, b) // no area
	}
	s.p[0], s.p[1], s.p[2], s.n = a, b, c, 3
	// A mean of the corners lies within, whatever its weights: Upper stays certain.
	return a.Add(ab.Mul(vb / sum)).Add(ac.Mul(vc / sum))
}

func (s *simplex) tetrahedron() (v Vec, inside bool) {
	p := s.p
	best, found := math.Inf(1), false
	var kept simplex
	for i := range p {
		a, b, c, d := p[i], p[(i+1)%4], p[(i+2)%4], p[(i+3)%4]
		n := b.Sub(a).Cross(c.Sub(a))
		// Does the origin lie on the other side of the face a, b, c than d? A
		// flat tetrahedron has no inside: look at every face.
		side, own := -n.Dot(a), n.Dot(d.Sub(a))
		const flat = 1e-10 // of the face's extent: no thickness to be inside of
		if side*own > 0 && own*own > flat*flat*n.Len2()*b.Sub(a).Len2() {
			continue
		}
		var t simplex
		if w := t.triangle(a, b, c); w.Len2() < best {
			best, v, kept, found = w.Len2(), w, t, true
		}
	}
	if !found {
		return Vec{}, true
	}
	*s = kept
	return v, false
}

// Turn is what a rectangle covers that stands in the plane of a basis' U and W
// and turns about its V: the points (x cos t + z sin t, 0, z cos t - x sin t)
// for x and z in their ranges and t from one angle to another. A recline is such
// a turn: U leans backwards, W upwards. The zero value is the point 0.
type Turn struct {
	X, Z                   [2]float64
	cos0, sin0, cos1, sin1 float64
}

// NewTurn returns the turn of [x0, x1] x [z0, z1] from angle from to angle to,
// in radians, less than half a circle apart.
func NewTurn(x0, x1, z0, z1, from, to float64) Turn {
	t := Turn{X: [2]float64{x0, x1}, Z: [2]float64{z0, z1}}
	t.sin0, t.cos0 = math.Sincos(from)
	t.sin1, t.cos1 = t.sin0, t.cos0
	if to != from {
		t.sin1, t.cos1 = math.Sincos(to)
	}
	return t
}

// farthest returns the point of t farthest along (nx, nz). A corner (x, z) that is
// turned by t reaches x gx + z gz, with gx = nx cos t - nz sin t and gz = nx sin t
// + nz cos t. Each of these changes sign at most once on the way, so that, mostly,
// the signs at the ends say which corner it is.
func (t *Turn) farthest(nx, nz float64) (x, z float64) {
	gx0, gx1 := nx*t.cos0-nz*t.sin0, nx*t.cos1-nz*t.sin1
	gz0, gz1 := nx*t.sin0+nz*t.cos0, nx*t.sin1+nz*t.cos1
	fromX, toX := choose(t.X, gx0, gx1)
	fromZ, toZ := choose(t.Z, gz0, gz1)
	best := math.Inf(-1)
	for i := fromX; i <= toX; i++ {
		cx := t.X[i]
		for k := fromZ; k <= toZ; k++ {
			cz := t.Z[k]
			// The reach is a cos t + b sin t: greatest at the angle of (a, b) if
			// that is in the range, else at an end.
			a, b := cx*nx+cz*nz, cz*nx-cx*nz
			cos, sin := t.cos0, t.sin0
			r := cx*gx0 + cz*gz0
			if t.cos0*b >= t.sin0*a && t.sin1*a >= t.cos1*b && a*(t.cos0+t.cos1)+b*(t.sin0+t.sin1) > 0 {
				r = math.Sqrt(a*a + b*b)
				cos, sin = a/r, b/r
			} else if r1 := cx*gx1 + cz*gz1; r1 > r {
				cos, sin, r = t.cos1, t.sin1, r1
			}
			if r > best {
				best, x, z = r, cx*cos+cz*sin, cz*cos-cx*sin
			}
		}
	}
	return x, z
}

// choose returns the indexes of the ends of a range that may reach farthest by a
// factor that goes from g0 to g1 and changes sign once at most.
func choose(ends [2]float64, g0, g1 float64) (from, to int) {
	switch {
	case ends[0] == ends[1] || g0 <= 0 && g1 <= 0:
		return 0, 0
	case g0 >= 0 && g1 >= 0:
		return 1, 1
	}
	return 0, 1
}

// Sweep is the convex hull of a solid in every place that a range of turns,
// shifts and sizes puts it: the sum (Minkowski) of three turns, a box, an
// ellipsoid and a ball, in the axes of Basis from Origin. Its support is exact,
// in closed form: no polygon stands for an arc. The zero value but for its
// Basis is the origin.
type Sweep struct {
	Origin Vec
	Basis  Basis
	Turns  [3]Turn
	// Low and High are the corners of the box.
	Low, High Vec
	// Radii are the ellipsoid's half-axes along U, V, W, leaned back (W towards U)
	// about V by an angle of sine and cosine Lean; the zero Lean is none.
	Radii Vec
	Lean  [2]float64
	// Ball is the radius of the ball, metres.
	Ball float64
}

// Support makes Sweep a Convex; reach is n.at.
func (s *Sweep) Support(n Vec) (reach float64, at Vec) {
	l := s.Basis.Local(n)
	p := Vec{s.Low.X, s.Low.Y, s.Low.Z}
	if l.X > 0 {
		p.X = s.High.X
	}
	if l.Y > 0 {
		p.Y = s.High.Y
	}
	if l.Z > 0 {
		p.Z = s.High.Z
	}
	for i := range s.Turns {
		t := &s.Turns[i]
		if t.X != ([2]float64{}) || t.Z != ([2]float64{}) {
			x, z := t.farthest(l.X, l.Z)
			p.X += x
			p.Z += z
		}
	}
	if s.Radii != (Vec{}) {
		sin, cos := s.Lean[0], s.Lean[1]
		if s.Lean == ([2]float64{}) {
			cos = 1
		}
		q := Vec{(l.X*cos - l.Z*sin) * s.Radii.X, l.Y * s.Radii.Y, (l.Z*cos + l.X*sin) * s.Radii.Z}
		if r := q.Len(); r > 0 {
			r = 1 / r
			x, z := q.X*s.Radii.X*r, q.Z*s.Radii.Z*r
			p.X += x*cos + z*sin
			p.Y += q.Y * s.Radii.Y * r
			p.Z += z*cos - x*sin
		}
	}
	at = s.Origin.Add(s.Basis.World(p))
	if s.Ball > 0 {
		if l := n.Len(); l > 0 {
			at = at.Add(n.Mul(s.Ball / l))
		}
	}
	return n.Dot(at), at
}

// Minus returns the differences s - o of the places that two solids take when
// their first turns are by one and the same angle, and their second, and their
// third. Both have one Basis; turns that both have, the same range of angles.
// Everything else about them varies apart.
func (s *Sweep) Minus(o *Sweep) Sweep {
	d := *s
	d.Origin = s.Origin.Sub(o.Origin)
	for i := range d.Turns {
		a, b := &d.Turns[i], &o.Turns[i]
		if *a == (Turn{}) {
			*a = *b
			a.X, a.Z = [2]float64{}, [2]float64{}
		}
		a.X = [2]float64{a.X[0] - b.X[1], a.X[1] - b.X[0]}
		a.Z = [2]float64{a.Z[0] - b.Z[1], a.Z[1] - b.Z[0]}
	}
	d.Low, d.High = s.Low.Sub(o.High), s.High.Sub(o.Low)
	if d.Radii == (Vec{}) {
		d.Radii, d.Lean = o.Radii, o.Lean
	} else { // never less
		d.Ball += max(o.Radii.X, o.Radii.Y, o.Radii.Z)
	}
	d.Ball += o.Ball
	return d
}

// Extent returns the corners of the box along the room's axes that just holds s.
func (s *Sweep) Extent() (lo, hi Vec) {
	ends := func(n Vec) (float64, float64) {
		h, _ := s.Support(n)
		l, _ := s.Support(n.Neg())
		return -l, h
	}
	lo.X, hi.X = ends(Vec{X: 1})
	lo.Y, hi.Y = ends(Vec{Y: 1})
	lo.Z, hi.Z = ends(Vec{Z: 1})
	return lo, hi
}

// Bound returns a sphere that holds s: about the box along its axes.
func (s *Sweep) Bound() Sphere {
	lo, hi := s.Extent()
	return Sphere{lo.Lerp(hi, 0.5), lo.Dist(hi) / 2}
}

// Cone is the convex hull of a set and up to four points: all straight paths
// from somewhere in Base to somewhere between the points.
type Cone struct {
	Base Convex
	Tips []Vec
}

// Support makes Cone a Convex; reach is n.at.
func (c *Cone) Support(n Vec) (reach float64, at Vec) {
	_, at = c.Base.Support(n)
	reach = n.Dot(at)
	for _, p := range c.Tips {
		if r := n.Dot(p); r > reach {
			reach, at = r, p
		}
	}
	return reach, at
}

// Support makes a point a Convex; reach is n.v.
func (v Vec) Support(n Vec) (reach float64, at Vec) { return n.Dot(v), v }
