// SPDX-License-Identifier: MIT

package geometry

import "math"

// conic is the set of points (x, y) with
//
//	Q = xx x^2 + 2 xy x y + yy y^2 + 2 x1 x + 2 y1 y + c >= 0,
//
// a quadratic form of which exactly one eigenvalue is positive (or less: then
// the set is a pair of lines, a point or nothing). The set may be unbounded; the
// other branch of a hyperbola is for the caller to cut off.
type conic struct {
	xx, xy, yy, x1, y1, c float64
	det                   float64 // of the 3x3 matrix

	// D(x) = dd x^2 + 2 dx x + d1, a quarter of the discriminant of Q in y.
	// Up to sign these are minors of the matrix.
	dd, dx, d1 float64

	ends ends // where the last strip ended and the next begins
}

// ends are the two roots in y of a conic at x, in order, and the square root of
// its discriminant.
type ends struct{ x, lo, hi, s float64 }

// scaled returns q with its largest coefficient brought to 1; ok is false when
// it vanishes or is not finite.
func (q conic) scaled() (conic, bool) {
	big := max(math.Abs(q.xx), math.Abs(q.xy), math.Abs(q.yy), math.Abs(q.x1), math.Abs(q.y1), math.Abs(q.c))
	if !(big > 0) || math.IsInf(big, 0) {
		return q, false
	}
	i := 1 / big
	q.xx, q.xy, q.yy, q.x1, q.y1, q.c = q.xx*i, q.xy*i, q.yy*i, q.x1*i, q.y1*i, q.c*i
	q.dd, q.dx, q.d1 = q.dd*i*i, q.dx*i*i, q.d1*i*i
	q.det *= i * i * i
	return q, true
}

// unitDisc is the unit disc as a conic.
func unitDisc() conic {
	return conic{xx: -1, yy: -1, c: 1, det: 1, dd: -1, d1: 1}
}

// sectionConic is where the plane of the points p + x u + y v lies in the unit
// ball: 1 - |p + x u + y v|^2 >= 0. The minors are written as products of
// vectors (Lagrange's identity), which keeps the digits of a section that is
// hair-thin.
func sectionConic(p, u, v Vec) (conic, bool) {
	n, vp := u.Cross(v), v.Cross(p)
	np := n.Dot(p)
	return conic{
		xx: -u.Dot(u), xy: -u.Dot(v), yy: -v.Dot(v),
		x1: -p.Dot(u), y1: -p.Dot(v), c: 1 - p.Dot(p),
		dd: -n.Dot(n), dx: n.Dot(vp), d1: v.Dot(v) - vp.Dot(vp),
		det: n.Dot(n) - np*np,
	}.scaled()
}

// shadowConic is where the lines from e through the points e + f + x u + y v
// meet the unit ball: Q = |g|^2 - |e x g|^2 >= 0 with g = f + x u + y v.
//
// Q is g'Sg with S = (1-k) I + e e', k = |e|^2, whose adjugate is
// (1-k)(I - e e'); the minors of the matrix of Q follow from the vector
// products of f, u and v without taking differences of large numbers.
func shadowConic(e, f, u, v Vec) (conic, bool) {
	ef, eu, ev := e.Cross(f), e.Cross(u), e.Cross(v)
	n, m := u.Cross(v), v.Cross(f)
	ne, me := n.Dot(e), m.Dot(e)
	k1 := e.Len2() - 1
	nf := k1 * n.Dot(f)
	return conic{
		xx: u.Dot(u) - eu.Dot(eu), xy: u.Dot(v) - eu.Dot(ev), yy: v.Dot(v) - ev.Dot(ev),
		x1: f.Dot(u) - ef.Dot(eu), y1: f.Dot(v) - ef.Dot(ev), c: f.Dot(f) - ef.Dot(ef),
		dd: k1 * (n.Dot(n) - ne*ne), dx: k1 * (me*ne - m.Dot(n)), d1: k1 * (m.Dot(m) - me*me),
		det: nf * nf,
	}.scaled()
}

// span returns the roots of Q in y at x, in order: where Q >= 0 between them
// (inner), or outside them. ok is false when Q < 0 all along, but for a touch.
func (q *conic) span(x float64) (lo, hi float64, inner, ok bool) {
	b := q.y1 + q.xy*x
	c := q.c + x*(2*q.x1+q.xx*x)
	d := q.discriminant(x)
	if d < 0 {
		return 0, 0, false, false
	}
	lo, hi = q.roots(b, c, math.Sqrt(d))
	return lo, hi, q.yy < 0, true
}

// discriminant returns D(x).
func (q *conic) discriminant(x float64) float64 {
	return float64(x*(float64(q.dd*x)+2*q.dx)) + q.d1
}

// roots returns the roots in y, in order, of yy y^2 + 2 b y + c, given the
// square root s of its discriminant. One may be infinite.
func (q *conic) roots(b, c, s float64) (lo, hi float64) {
	if near := 16 * math.Abs(q.yy); math.Abs(b) <= near && s <= near && near > 0 {
		// Both are of the target's size: nothing is lost, and the two stay
		// exactly s from their middle, on which func means relies.
		m, h := -b/q.yy, s/math.Abs(q.yy)
		return m - h, m + h
	}
	t := -(b + math.Copysign(s, b))
	if t == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	lo, hi = t/q.yy, c/t
	if lo > hi {
		lo, hi = hi, lo
	}
	return lo, hi
}

// at returns the ends of q at x; outside the conic, the nearest double root twice.
func (q *conic) at(x float64) ends {
	b := q.y1 + q.xy*x
	c := q.c + x*(2*q.x1+q.xx*x)
	s := math.Sqrt(max(0, q.discriminant(x)))
	lo, hi := q.roots(b, c, s)
	return ends{x, lo, hi, s}
}

// means returns the mean heights, between xa and xb, of the lower and the upper
// root in y, which must run on without a break between them. lo and hi are their
// heights in the middle, returned in place of the mean where the root runs outside
// the square |y| <= 1 and is of no account; there it may even be infinite.
//
// A root is y = (-b(x) + s sqrt D(x))/yy with b linear, D quadratic and s a
// sign: the mean of its ends plus what sqrt D bulges over its chord. With
// l = xb-xa, sigma = sqrt D(xa) + sqrt D(xb), k = dd l^2/sigma^2 and D01 the
// polar form of D between the ends,
//
//	bulge = - (sqrt D(xa) sqrt D(xb) - D01) P(k)/(2 sigma),
//	P(k)  = (1 - (1-k) artanh(sqrt k)/sqrt k)/k
//
// (from the integral of the square root of a quadratic, Gradshteyn and Ryzhik
// 2.262, with its logarithm written as an artanh of the ends). The difference
// is a sum of like signs, or by D(xa)D(xb) - D01^2 = yy det l^2 a product in
// which yy cancels: nothing is lost for parabolas (k = 0), pairs of lines
// (det = 0) and roots on their way to infinity (yy = 0).
func (q *conic) means(xa, xb, lo, hi float64) (float64, float64) {
	low, high := math.Abs(lo) <= 1, math.Abs(hi) <= 1
	if !low && !high {
		return lo, hi
	}
	a := q.ends
	if a.x != xa || a.s == 0 { // no strip before
		a = q.at(xa)
	}
	b := q.at(xb)
	q.ends = b
	l := xb - xa
	d01 := q.dd*xa*xb + q.dx*(xa+xb) + q.d1
	var apart float64 // (sa sb - D01)/yy
	switch {
	case d01 > 0:
		apart = q.det * l * l / (a.s*b.s + d01)
	case q.yy != 0:
		apart = (a.s*b.s - d01) / q.yy
	}
	up := apart * bulge(q.dd*l*l, a.s+b.s) / 2
	if q.yy < 0 { // the upper root has the negative square root
		up = -up
	}
	if m := (a.lo+b.lo)/2 + up; low && math.Abs(m) <= 1 { // else by rounding
		lo = m
	}
	if m := (a.hi+b.hi)/2 - up; high && math.Abs(m) <= 1 {
		hi = m
	}
	return lo, hi
}

// bulge returns P(k)/sigma with k = c/sigma^2.
func bulge(c, sigma float64) float64 {
	s2 := sigma * sigma
	if math.Abs(c) < 0.1*s2 {
		k := c / s2
		// P(k) = sum over m of 2 k^m/((2m+1)(2m+3)); the next term is below 1e-15,
		// and of a flat bulge sooner.
		last := len(bulgeTerm) - 1
		if math.Abs(k) < 1e-3 {
			last = 5
		}
		p := 0.0
		for m := last; m >= 0; m-- {
			p = p*k + bulgeTerm[m]
		}
		return p / sigma
	}
	switch {
	case c < 0:
		r := math.Sqrt(-c)
		return ((s2-c)*math.Atan2(r, sigma)/r - sigma) / -c
	case c < s2:
		r := math.Sqrt(c)
		return (sigma - (s2-c)*math.Atanh(r/sigma)/r) / c
	case sigma > 0: // k = 1, but for rounding: a pair of lines
		return 1 / sigma
	}
	return 0
}

// bulgeTerm holds 2/((2m+1)(2m+3)).
var bulgeTerm = [14]float64{
	2. / 3, 2. / 15, 2. / 35, 2. / 63, 2. / 99, 2. / 143, 2. / 195,
	2. / 255, 2. / 323, 2. / 399, 2. / 483, 2. / 575, 2. / 675, 2. / 783,
}

// turns appends to xs where the conic is upright: the roots of D.
func (q *conic) turns(xs []float64) []float64 {
	return quadratic(xs, q.dd, q.dx, q.d1)
}

// quadratic appends the real roots of a x^2 + 2 b x + c, none if it is constant.
// A pair that misses being real by rounding counts as one: for a strip too many
// nothing is paid, and a thin shape must not slip between two.
func quadratic(xs []float64, a, b, c float64) []float64 {
	const nearly = 1e-12 // of b^2
	d := float64(b*b) - float64(a*c)
	if d < 0 {
		if d < -nearly*b*b {
			return xs
		}
		d = 0
	}
	t := -(b + math.Copysign(math.Sqrt(d), b))
	if a != 0 {
		xs = append(xs, t/a)
	}
	if t != 0 {
		xs = append(xs, c/t)
	}
	return xs
}

// crossEdge appends to xs where the conic meets the edge e.
func (q *conic) crossEdge(xs []float64, e *edge) []float64 {
	a := q.xx*e.dx*e.dx + 2*q.xy*e.dx*e.dy + q.yy*e.dy*e.dy
	b := e.dx*(q.xx*e.x+q.xy*e.y+q.x1) + e.dy*(q.xy*e.x+q.yy*e.y+q.y1)
	c := e.x*(q.xx*e.x+2*q.xy*e.y+2*q.x1) + e.y*(q.yy*e.y+2*q.y1) + q.c
	var buf [2]float64
	for _, t := range quadratic(buf[:0], a, b, c) {
		if t >= 0 && t <= 1 {
			xs = append(xs, e.x+t*e.dx)
		}
	}
	return xs
}

// crossConic appends to xs where q and p may meet between lo and hi: the roots
// of their resultant in y, a quartic in x. Some belong to points that are not
// real; a strip too many does no harm.
func (q *conic) crossConic(xs []float64, p *conic, lo, hi float64) []float64 {
	// Q = a y^2 + 2 b y + c with b linear and c quadratic in x.
	// (aq cp - ap cq)^2 - 4 (aq bp - ap bq)(bq cp - bp cq) = 0
	u2 := q.yy*p.xx - p.yy*q.xx
	u1 := 2 * (q.yy*p.x1 - p.yy*q.x1)
	u0 := q.yy*p.c - p.yy*q.c
	v1 := q.yy*p.xy - p.yy*q.xy
	v0 := q.yy*p.y1 - p.yy*q.y1
	w3 := q.xy*p.xx - p.xy*q.xx
	w2 := q.y1*p.xx - p.y1*q.xx + 2*(q.xy*p.x1-p.xy*q.x1)
	w1 := q.xy*p.c - p.xy*q.c + 2*(q.y1*p.x1-p.y1*q.x1)
	w0 := q.y1*p.c - p.y1*q.c
	f := [5]float64{
		u0*u0 - 4*v0*w0,
		2*u0*u1 - 4*(v0*w1+v1*w0),
		u1*u1 + 2*u0*u2 - 4*(v0*w2+v1*w1),
		2*u1*u2 - 4*(v0*w3+v1*w2),
		u2*u2 - 4*v1*w3,
	}
	return quarticRoots(xs, &f, lo, hi)
}
