// SPDX-License-Identifier: MIT

package geometry

import "math"

// Cylinder is a solid round cylinder about the axis W of Basis, such as a round
// column. Half is half its height, Radius and Half in metres; each must be
// positive. Which way U and V point does not matter.
type Cylinder struct {
	Center Vec
	Basis  Basis
	Radius float64
	Half   float64
}

// cylinderSides is the number of sides of the prisms that stand for a cylinder
// where only its outline is asked for.
const cylinderSides = 32

// Box returns the box that just holds c.
func (c Cylinder) Box() Box { return Box{c.Center, c.Basis, Vec{c.Radius, c.Radius, c.Half}} }

// Outline returns c, whose axis is upright, as seen from above: a regular polygon
// of 32 sides about the circle, whose corners lie R (1/cos(pi/32) - 1) = 0.0048 R
// outside it: it never takes less floor than c, and 0.3 % more. The corners run
// from x towards y.
func (c Cylinder) Outline() Polygon {
	const half = math.Pi / cylinderSides
	r := c.Radius / math.Cos(half)
	p := make(Polygon, cylinderSides)
	for i := range p {
		sin, cos := math.Sincos(float64(2*i+1) * half)
		p[i] = Vec2{c.Center.X + r*cos, c.Center.Y + r*sin}
	}
	return p
}

// cylinderHit is Hit in the cylinder's own axes, radius r and half-height h.
func cylinderHit(a, dir Vec, r, h float64) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	if dir.Z == 0 {
		if math.Abs(a.Z) > h {
			return 0, 0, false
		}
	} else {
		p, q := (-h-a.Z)/dir.Z, (h-a.Z)/dir.Z
		t0, t1 = max(t0, min(p, q)), min(t1, max(p, q))
	}
	px, py, qx, qy := a.X/r, a.Y/r, dir.X/r, dir.Y/r
	if qq := qx*qx + qy*qy; qq == 0 {
		if px*px+py*py > 1 {
			return 0, 0, false
		}
	} else {
		mid := -(px*qx + py*qy) / qq
		x, y := px+mid*qx, py+mid*qy
		rest := 1 - x*x - y*y
		if rest < 0 {
			return 0, 0, false
		}
		half := math.Sqrt(rest / qq)
		t0, t1 = max(t0, mid-half), min(t1, mid+half)
	}
	if !(t0 <= t1) {
		return 0, 0, false
	}
	return t0, t1, true
}

// clearanceCylinder is the clearance of the segment from a to b from the cylinder
// about z with radius r and half-height h, in its own axes; see Clearance.
//
// Apart: the distance along the segment falls, then rises, since the cylinder is
// convex; half the slope of its square,
//
//	g(t) = max(rho - r, 0) rho' + outside(z, h) z',  rho = |(x, y)|,
//
// changes sign once, where halving finds it to the last digit.
//
// Penetrating: see cylinderDepth.
func clearanceCylinder(a, b Vec, r, h float64) (d, t float64) {
	dir := b.Sub(a)
	if dir.Len2() < pointLike*pointLike {
		dir, b = Vec{}, a
	}
	if t0, t1, ok := cylinderHit(a, dir, r, h); ok {
		return cylinderDepth(a, b, dir, r, h, (t0+t1)/2)
	}
	slope := func(t float64) float64 {
		x, y, z := a.X+t*dir.X, a.Y+t*dir.Y, a.Z+t*dir.Z
		g := outside(z, h) * dir.Z
		if rho := math.Sqrt(x*x + y*y); rho > r {
			g += (rho - r) / rho * (x*dir.X + y*dir.Y)
		}
		return g
	}
	switch {
	case slope(0) >= 0:
		t = 0
	case slope(1) <= 0:
		t = 1
	default:
		t = halved(slope, 0, 1)
	}
	p := a.Add(dir.Mul(t))
	across := max(math.Sqrt(p.X*p.X+p.Y*p.Y)-r, 0)
	up := outside(p.Z, h)
	return math.Sqrt(across*across + up*up), t
}

// halved returns where g, below 0 at lo and not below at hi, changes sign.
func halved(g func(float64) float64, lo, hi float64) float64 {
	for range 60 {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			break
		}
		if g(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}

// cylinderDepth is clearanceCylinder for a segment that meets the cylinder; level
// is the middle of the part inside.
//
// The greatest of min(u.a, u.b) - h(u), h(u) = r |(ux, uy)| + h |uz|, is found
// where either
//
//   - u leads from an end square to the nearest surface: up or down through a
//     face, or straight away from the axis (inside, no rim is nearest to a point); or
//   - u is at right angles to the segment. Looked at along the segment the
//     cylinder is an ellipse, half-axes r across and r |wz| along the axis seen
//     (w the segment's direction), drawn along by k = h |(wx, wy)| both ways: two
//     straight sides, and half an ellipse at either end. u is square to a side,
//     or the normal at the foot of the line, a point here, on the half ellipse
//     that is nearer to it.
//
// Every u is a lower bound, so one that is not the greatest does no harm.
func cylinderDepth(a, b, dir Vec, r, h, level float64) (d, t float64) {
	d = math.Inf(-1)
	try := func(e, at float64) {
		if e > d {
			d, t = e, at
		}
	}
	try(min(a.Z, b.Z)-h, lower(a.Z, b.Z, level))
	try(-max(a.Z, b.Z)-h, lower(-a.Z, -b.Z, level))
	away := func(x, y float64) {
		if l := math.Hypot(x, y); l > 0 {
			p, q := (a.X*x+a.Y*y)/l, (b.X*x+b.Y*y)/l
			try(min(p, q)-r, lower(p, q, level))
		}
	}
	away(a.X, a.Y)
	away(b.X, b.Y)
	l := dir.Len()
	if !(l > 0) {
		away(1, 0) // a point on the axis
		return min(d, 0), t
	}
	w := dir.Mul(1 / l)
	flat := math.Hypot(w.X, w.Y)
	if !(flat > 0) { // upright: all of it is as far from the axis
		away(1, 0)
		return min(d, 0), t
	}
	away(w.X, w.Y) // an end on the axis
	away(-w.X, -w.Y)
	// Seen along w: level across the segment, and up in the plane of w and the axis.
	across := Vec{X: -w.Y / flat, Y: w.X / flat}
	up := Vec{-w.Z * w.X / flat, -w.Z * w.Y / flat, flat}
	x, y := across.Dot(a), up.Dot(a)
	if x < 0 {
		x, across = -x, across.Neg()
	}
	if y < 0 {
		y, up = -y, up.Neg()
	}
	side := func(u Vec, e, z float64) {
		if e <= d {
			return
		}
		p := Vec{Z: z}
		if m := math.Hypot(u.X, u.Y); m > 0 {
			p.X, p.Y = r*u.X/m, r*u.Y/m
		}
		d, t = e, clamp01(p.Sub(a).Dot(w)/l)
	}
	// The straight side: nearest to the axis, as far as the faces let it.
	nearest := clamp01(-(a.X*w.X + a.Y*w.Y) / flat / flat / l)
	side(across, x-r, max(-h, min(h, a.Z+nearest*dir.Z)))
	// The half ellipse above.
	minor := r * math.Abs(w.Z)
	theta := halfEllipseFoot(x, y-h*flat, r, minor)
	sin, cos := math.Sincos(theta)
	nx, ny := minor*cos, r*sin
	if n := math.Hypot(nx, ny); n > 0 {
		nx, ny = nx/n, ny/n
		u := across.Mul(nx).Add(up.Mul(ny))
		side(u, nx*x+ny*y-r*math.Hypot(u.X, u.Y)-h*math.Abs(u.Z), math.Copysign(h, u.Z))
	}
	return min(d, 0), t
}

// halfEllipseFoot returns the angle theta of the point (a cos theta, b sin theta),
// theta from 0 to pi/2 and a >= b, that is nearest to the point (x, y), x >= 0, of
// which only the feet in that quarter count. Half the slope of the squared distance is
//
//	D(theta) = -(a^2 - b^2) sin cos + a x sin - b y cos.
//
// With y >= 0 it changes sign once. With y < 0, D/(sin cos) = a x/cos + b |y|/sin -
// (a^2 - b^2) is least where tan^3 theta = b |y|/(a x): beyond that it changes sign
// once, or, when it is not negative there, there is no foot but the end of the quarter
// (the evolute of the ellipse).
func halfEllipseFoot(x, y, a, b float64) float64 {
	k := (a - b) * (a + b)
	slope := func(theta float64) float64 {
		sin, cos := math.Sincos(theta)
		return -k*sin*cos + a*x*sin - b*y*cos
	}
	from := 0.0
	if y < 0 {
		from = math.Atan2(math.Cbrt(-b*y), math.Cbrt(a*x))
		if slope(from) >= 0 {
			return 0
		}
	}
	return halved(slope, from, math.Pi/2)
}

// cylinderShadow adds the part of t that s hides from the eye; hidden reports that
// the eye is inside s. In the cylinder's own axes write ' for what is seen along the
// axis. From an eye beside the cylinder (|e'| > r) the upright plane through the two
// lines in which planes through the eye touch it, e'.p' = r^2, cuts out of it a
// rectangle. What is hidden is, each but for the others:
//
//   - what the rectangle hides;
//   - the section of the target's plane with the cylinder before the rectangle;
//   - what the part of a face hides that lies before the rectangle, of a face that
//     looks away, and behind it, of a face that looks at the eye: the cone of the
//     eye over its circle, on the other side of the face.
//
// From an eye over a face, and within its circle, it is the cone over that circle.
// A target is not behind a face that it lies in, nor behind a cylinder that does not
// reach before its plane.
func (sc *Scratch) cylinderShadow(s *Solid, eye Vec, t *Target) (hidden bool) {
	e, p := held(s.local(eye)), held(s.local(t.center))
	u, v := held(s.basis.Local(t.u)), held(s.basis.Local(t.v))
	r, h := s.half.X, s.half.Z
	beside := float64(e.X*e.X) + float64(e.Y*e.Y) - r*r
	if beside <= 0 && math.Abs(e.Z) <= h {
		return true
	}
	for _, side := range [2]float64{-1, 1} {
		if side*e.Z > h && h-side*p.Z+t.extent(u.Z, v.Z) <= inFace {
			return false
		}
	}
	if n, ok := u.Cross(v).Unit(); ok {
		if n.Dot(e.Sub(p)) < 0 {
			n = n.Neg()
		}
		if math.Hypot(n.X, n.Y)*r+math.Abs(n.Z)*h-n.Dot(p) <= inFace {
			return false
		}
	}
	o := &sc.outline
	if beside <= 0 {
		side := math.Copysign(1, e.Z)
		o.square()
		o.cut(side*u.Z, side*v.Z, side*p.Z-h)
		sc.addFace(o, side*h, r, e, p, u, v)
		return false
	}
	// The rectangle's plane: hidden at most where it is not positive.
	fa, fb, fc := float64(e.X*u.X)+float64(e.Y*u.Y), float64(e.X*v.X)+float64(e.Y*v.Y), float64(e.X*p.X)+float64(e.Y*p.Y)-r*r
	// The planes through the eye and the rectangle's edges, the touching ones and
	// those above and below: (h - side ez)(e'.p' - r^2) + (e'.e' - r^2)(side pz - h).
	edge := func(side float64) (a, b, c float64) {
		k := h - side*e.Z
		return k*fa + beside*side*u.Z, k*fb + beside*side*v.Z, k*fc + beside*(side*p.Z-h)
	}
	o.square()
	o.cut(fa, fb, fc)
	along, aside := r/(beside+r*r), math.Sqrt(beside)/(beside+r*r)
	for _, side := range [2]float64{-1, 1} {
		o.cut(edge(side))
		// The touching point over r.
		x, y := along*e.X-side*aside*e.Y, along*e.Y+side*aside*e.X
		o.cut(x*u.X+y*u.Y, x*v.X+y*v.Y, x*p.X+y*p.Y-r)
	}
	sc.addShape(o, noConic)

	o.square()
	o.cut(-fa, -fb, -fc)
	o.cut(u.Z, v.Z, p.Z-h)
	o.cut(-u.Z, -v.Z, -p.Z-h)
	const parallel = 1e-12 // of the target's size: its y runs along the axis
	switch {
	case o.n == 0:
	case math.Hypot(v.X, v.Y) <= parallel*t.v.Len():
		// The section is a strip between two lines of x, no conic in y.
		uu, up := float64(u.X*u.X)+float64(u.Y*u.Y), float64(u.X*p.X)+float64(u.Y*p.Y)
		d := up*up - uu*(float64(p.X*p.X)+float64(p.Y*p.Y)-r*r)
		if d > 0 && uu > 0 {
			w := math.Sqrt(d)
			o.cut(uu, 0, up-w)
			o.cut(-uu, 0, -up-w)
			sc.addShape(o, noConic)
		}
	default:
		if q, ok := differenceConic([3]float64{0, 0, r}, [3]float64{u.X, v.X, p.X}, [3]float64{u.Y, v.Y, p.Y}); ok {
			sc.addShape(o, sc.addConic(q))
		}
	}
	for _, side := range [2]float64{-1, 1} {
		beyond := 1.0 // which side of the face is hidden
		if side*e.Z > h {
			beyond = -1
		}
		o.square()
		o.cut(-beyond*side*u.Z, -beyond*side*v.Z, -beyond*(side*p.Z-h))
		a, b, c := edge(side)
		o.cut(-a, -b, -c)
		sc.addFace(o, side*h, r, e, p, u, v)
	}
	return false
}

// addFace adds what o leaves of what the circle of radius r about the axis at height
// z hides from e: with f = p + x u + y v - e, the line of f meets the circle's plane
// within it where
//
//	(r fz)^2 - |e' fz + (z - ez) f'|^2 >= 0.
func (sc *Scratch) addFace(o *outline, z, r float64, e, p, u, v Vec) {
	if o.n == 0 {
		return
	}
	k, f := z-e.Z, p.Sub(e)
	q, ok := differenceConic(
		[3]float64{r * u.Z, r * v.Z, r * f.Z},
		[3]float64{e.X*u.Z + k*u.X, e.X*v.Z + k*v.X, e.X*f.Z + k*f.X},
		[3]float64{e.Y*u.Z + k*u.Y, e.Y*v.Z + k*v.Y, e.Y*f.Z + k*f.Y})
	if ok {
		sc.addShape(o, sc.addConic(q))
	}
}

// differenceConic is where p^2 - q^2 - r^2 >= 0 for the linear forms p, q, r: by
// their factors of x and of y, and what is constant. The minors are products of
// vectors, as in sectionConic, with the signs +, -, -.
func differenceConic(p, q, r [3]float64) (conic, bool) {
	x, y, c := Vec{p[0], q[0], r[0]}, Vec{p[1], q[1], r[1]}, Vec{p[2], q[2], r[2]}
	dot := func(v, w Vec) float64 { return v.X*w.X - v.Y*w.Y - v.Z*w.Z }
	n, m := x.Cross(y), y.Cross(c)
	nc := n.Dot(c)
	return conic{
		xx: dot(x, x), xy: dot(x, y), yy: dot(y, y), x1: dot(x, c), y1: dot(y, c), c: dot(c, c),
		dd: -dot(n, n), dx: dot(n, m), d1: -dot(m, m),
		det: nc * nc,
	}.scaled()
}
