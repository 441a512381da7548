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
	dd, dx, d1 float64
}

// newConic returns the conic of the quadratic form scaled so that its largest
// coefficient is 1; ok is false when it vanishes.
func newConic(xx, xy, yy, x1, y1, c float64) (q conic, ok bool) {
	big := max(math.Abs(xx), math.Abs(xy), math.Abs(yy), math.Abs(x1), math.Abs(y1), math.Abs(c))
	if !(big > 0) || math.IsInf(big, 0) {
		return conic{}, false
	}
	i := 1 / big
	q = conic{xx: xx * i, xy: xy * i, yy: yy * i, x1: x1 * i, y1: y1 * i, c: c * i}
	q.dd = q.xy*q.xy - q.yy*q.xx
	q.dx = q.xy*q.y1 - q.yy*q.x1
	q.d1 = q.y1*q.y1 - q.yy*q.c
	q.det = q.xx*(q.yy*q.c-q.y1*q.y1) - q.xy*(q.xy*q.c-q.y1*q.x1) + q.x1*(q.xy*q.y1-q.yy*q.x1)
	return q, true
}

// unitDisc is the unit disc as a conic.
func unitDisc() conic {
	q, _ := newConic(-1, 0, -1, 0, 0, 1)
	return q
}

// span returns the roots of Q in y at x, in order: where Q >= 0 between them
// (inner), or outside them. ok is false when Q < 0 all along, but for a touch.
func (q *conic) span(x float64) (lo, hi float64, inner, ok bool) {
	b := q.y1 + q.xy*x
	c := q.c + x*(2*q.x1+q.xx*x)
	d := float64(b*b) - float64(q.yy*c)
	if d < 0 {
		return 0, 0, false, false
	}
	lo, hi = q.roots(b, c, d)
	return lo, hi, q.yy < 0, true
}

// roots returns the roots in y, in order, of yy y^2 + 2 b y + c with
// discriminant d >= 0. One may be infinite.
func (q *conic) roots(b, c, d float64) (lo, hi float64) {
	t := -(b + math.Copysign(math.Sqrt(d), b))
	if t == 0 {
		return 0, 0
	}
	lo, hi = t/q.yy, c/t
	if lo > hi {
		lo, hi = hi, lo
	}
	return lo, hi
}

// edge returns the lower or the upper root in y at x, and the square root of
// the discriminant; outside the conic, those of the nearest double root.
func (q *conic) edge(x float64, upper bool) (y, s float64) {
	b := q.y1 + q.xy*x
	c := q.c + x*(2*q.x1+q.xx*x)
	d := max(0, float64(b*b)-float64(q.yy*c))
	lo, hi := q.roots(b, c, d)
	if upper {
		return hi, math.Sqrt(d)
	}
	return lo, math.Sqrt(d)
}

// under returns the integral over x from x0 to x1 of the lower or the upper
// root in y, which must run on without a break between them.
//
// The root is y = (-b(x) + s sqrt D(x))/yy with b linear, D quadratic and s a
// sign: the trapezoid between its ends plus what sqrt D bulges over its chord.
// With l = x1-x0, sigma = sqrt D(x0) + sqrt D(x1), k = dd l^2/sigma^2 and D01
// the polar form of D between the ends,
//
//	bulge = - l (sqrt D(x0) sqrt D(x1) - D01) P(k)/(2 sigma),
//	P(k)  = (1 - (1-k) artanh(sqrt k)/sqrt k)/k
//
// (from the integral of the square root of a quadratic, Gradshteyn and Ryzhik
// 2.262, with its logarithm written as an artanh of the ends). The difference
// is a sum of like signs, or by D(x0)D(x1) - D01^2 = yy det l^2 a product in
// which yy cancels: nothing is lost for parabolas (k = 0), pairs of lines
// (det = 0) and roots on their way to infinity (yy = 0).
func (q *conic) under(x0, x1 float64, upper bool) float64 {
	y0, s0 := q.edge(x0, upper)
	y1, s1 := q.edge(x1, upper)
	l := x1 - x0
	sigma := s0 + s1
	d01 := q.dd*x0*x1 + q.dx*(x0+x1) + q.d1
	var apart float64 // (s0 s1 - D01)/yy
	switch {
	case d01 > 0:
		apart = q.det * l * l / (s0*s1 + d01)
	case q.yy != 0:
		apart = (s0*s1 - d01) / q.yy
	}
	sign := 1.0 // of the square root in this root
	if upper != (q.yy >= 0) {
		sign = -1
	}
	return l * ((y0+y1)/2 - sign*apart*bulge(q.dd*l*l, sigma)/2)
}

// bulge returns P(k)/sigma with k = c/sigma^2.
func bulge(c, sigma float64) float64 {
	s2 := sigma * sigma
	if math.Abs(c) < 0.1*s2 {
		k := c / s2
		// P(k) = sum over m of 2 k^m/((2m+1)(2m+3)); the next term is below 1e-15.
		p := 0.0
		for m := 13; m >= 0; m-- {
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
func quadratic(xs []float64, a, b, c float64) []float64 {
	d := b*b - a*c
	if d < 0 {
		return xs
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
