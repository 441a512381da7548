// SPDX-License-Identifier: MIT

package geometry

import "math"

// Clearance of a segment from an ellipsoid, in the ellipsoid's own axes.
//
// Write r for the half-axes and h(u) = |(r1 u1, r2 u2, r3 u3)| for the support
// function. The greatest of min(u.A, u.B) - h(u) over unit vectors u is found
// where either
//
//   - u is at right angles to the segment: looked at along the segment the
//     ellipsoid is exactly an ellipse, and u is the normal at the foot from a
//     point to that ellipse (the side); or
//   - u is the outward normal at a foot from one end to the ellipsoid (an end).
//
// Apart, the function is concave around its only maximum and one foot settles
// it. Penetrating, it is not: an end that has passed the middle of a flat
// ellipsoid comes out soonest the way it went in, and that is not its nearest
// foot. The distance from a point has at most two local minima on an ellipsoid
// (see secondFoot), so at most five u are looked at.

// support returns h(u) for an ellipsoid with squared half-axes sq.
func support(u, sq Vec) float64 {
	return math.Sqrt(sq.X*u.X*u.X + sq.Y*u.Y*u.Y + sq.Z*u.Z*u.Z)
}

func (s *Solid) clearanceEllipsoid(a, b Vec) (d, t float64) {
	dir := b.Sub(a)
	l2 := dir.Len2()
	if l2 < pointLike*pointLike {
		u := s.foot(a)
		return u.Dot(a) - support(u, s.sq), 0
	}
	il := 1 / math.Sqrt(l2)
	w := dir.Mul(il)

	// The ellipse seen along w, by its squared support function over (u, v);
	// its determinant by Cauchy and Binet, which cannot cancel.
	u, v := across(w)
	q := ellipse{
		uu:  s.sq.X*u.X*u.X + s.sq.Y*u.Y*u.Y + s.sq.Z*u.Z*u.Z,
		uv:  s.sq.X*u.X*v.X + s.sq.Y*u.Y*v.Y + s.sq.Z*u.Z*v.Z,
		vv:  s.sq.X*v.X*v.X + s.sq.Y*v.Y*v.Y + s.sq.Z*v.Z*v.Z,
		det: s.sq.Y*s.sq.Z*w.X*w.X + s.sq.X*s.sq.Z*w.Y*w.Y + s.sq.X*s.sq.Y*w.Z*w.Z,
	}
	x, y := u.Dot(a), v.Dot(a)
	if !s.flat && q.outside(x, y) {
		m, n, h := q.foot(x, y)
		uw := s.sq.X*u.X*w.X + s.sq.Y*u.Y*w.Y + s.sq.Z*u.Z*w.Z
		vw := s.sq.X*v.X*w.X + s.sq.Y*v.Y*w.Y + s.sq.Z*v.Z*w.Z
		t = ((m*uw+n*vw)/h - a.Dot(w)) * il
		switch {
		case t < 0:
			return s.endClearance(a, 0)
		case t > 1:
			return s.endClearance(b, 1)
		}
		return (m*x + n*y - h) / math.Sqrt(m*m+n*n), t
	}

	side := s.sideFoot(a, u, v, &q)
	h := support(side, s.sq)
	d = min(side.Dot(a), side.Dot(b)) - h
	t = (Vec{s.sq.X * side.X, s.sq.Y * side.Y, s.sq.Z * side.Z}.Dot(w)/h - a.Dot(w)) * il
	if d > 0 { // a flat one, missed
		switch {
		case t < 0:
			return s.endClearance(a, 0)
		case t > 1:
			return s.endClearance(b, 1)
		}
		return d, t
	}
	t0, t1 := s.lineHit(a, dir)
	switch {
	case t0 > 1:
		return s.endClearance(b, 1)
	case t1 < 0:
		return s.endClearance(a, 0)
	}

	// Penetrating. The side is one way out; pulling either end back is another.
	// An end that stands farther past the middle than the ellipsoid reaches
	// plus the side's depth cannot be the shorter way: the swept body holds, for
	// every side direction m, a point m.x >= -d that is also -d past the middle.
	t = clamp01(t)
	reach := support(w, s.sq) - d
	if w.Dot(b) < reach {
		if e := s.endDepth(b, a); e > d {
			d, t = e, 1
		}
	}
	if -w.Dot(a) < reach {
		if e := s.endDepth(a, b); e > d {
			d, t = e, 0
		}
	}
	return d, t
}

// ellipse is the matrix of the squared support function of an ellipse about
// the origin, and its determinant.
type ellipse struct{ uu, uv, vv, det float64 }

// outside reports whether the point (x, y) lies outside e.
func (e *ellipse) outside(x, y float64) bool {
	return x*x*e.vv-2*x*y*e.uv+y*y*e.uu > e.det
}

// foot returns an outward normal (m, n), not of length 1, at the foot from the
// point (x, y) outside e, and h, its support.
//
// With S the matrix and lambda the multiplier, the normal is (S + lambda)^-1
// (x, y) and its support is 1: the secular equation of func secular, solved in
// the same way, without turning to the axes of the ellipse. Outside, lambda is
// positive and 0 is a safe start.
func (e *ellipse) foot(x, y float64) (m, n, h float64) {
	lambda := 0.0
	for range 30 {
		pu, pv := e.uu+lambda, e.vv+lambda
		i := 1 / (e.det + lambda*(e.uu+e.vv+lambda))
		m, n = (pv*x-e.uv*y)*i, (pu*y-e.uv*x)*i
		sm, sn := e.uu*m+e.uv*n, e.uv*m+e.vv*n
		g := m*sm + n*sn
		h = math.Sqrt(g)
		// The foot errs by this share, and the clearance by its square.
		const tol = 1e-8
		if h <= 1+tol {
			break
		}
		km, kn := (pv*m-e.uv*n)*i, (pu*n-e.uv*m)*i
		lambda += (h - 1) * g / (km*sm + kn*sn)
	}
	return m, n, h
}

// endClearance returns the signed distance from the end p to the ellipsoid.
func (s *Solid) endClearance(p Vec, at float64) (d, t float64) {
	u := s.foot(p)
	return u.Dot(p) - support(u, s.sq), at
}

// endDepth returns the greatest bound that the feet of end give for the segment
// from end to other.
func (s *Solid) endDepth(end, other Vec) float64 {
	bound := func(u Vec) float64 { return min(u.Dot(end), u.Dot(other)) - support(u, s.sq) }
	u := s.foot(end)
	d := bound(u)
	if u.Dot(end) > u.Dot(other) {
		// The nearest foot lies ahead of the segment: moving there drags the
		// rest through. Look behind.
		if v, ok := s.secondFoot(end); ok {
			d = max(d, bound(v))
		}
	}
	return d
}

// lineHit returns the parameters where the endless line a + t dir enters and
// leaves the ellipsoid. A line that misses by rounding touches.
func (s *Solid) lineHit(a, dir Vec) (t0, t1 float64) {
	p := Vec{a.X * s.inv.X, a.Y * s.inv.Y, a.Z * s.inv.Z}
	q := Vec{dir.X * s.inv.X, dir.Y * s.inv.Y, dir.Z * s.inv.Z}
	qq := q.Len2()
	mid := -p.Dot(q) / qq
	half := math.Sqrt(max(0, 1-p.Add(q.Mul(mid)).Len2()) / qq)
	return mid - half, mid + half
}

// sideFoot returns the unit vector in the plane of u and v that is the outward
// normal at the foot from the point p to the ellipse e, which the ellipsoid shows
// when looked at square to that plane.
func (s *Solid) sideFoot(p, u, v Vec, e *ellipse) Vec {
	uu, uv, vv := e.uu, e.uv, e.vv // turn u and v into its axes
	diff := (uu - vv) / 2
	k := math.Sqrt(diff*diff + uv*uv)
	if k > 0 {
		var c, sn float64
		if c2 := diff / k; c2 >= 0 {
			c = math.Sqrt((1 + c2) / 2)
			sn = uv / (2 * k * c)
		} else {
			sn = math.Sqrt((1 - c2) / 2)
			c = uv / (2 * k * sn)
		}
		u, v = u.Mul(c).Add(v.Mul(sn)), v.Mul(c).Sub(u.Mul(sn))
	}
	minor := math.Sqrt(s.sq.X*v.X*v.X + s.sq.Y*v.Y*v.Y + s.sq.Z*v.Z*v.Z)
	k *= 2 // squared major less squared minor half-axis
	major := math.Sqrt(minor*minor + k)

	x, y := u.Dot(p), v.Dot(p)
	ax, ay := major*math.Abs(x), minor*math.Abs(y)
	mu := max(ay, ax-k)
	var nx, ny float64
	if mu > 0 {
		mu = secular(ax, 0, ay, k, 0, mu)
		nx, ny = x/(k+mu), y/mu
	} else {
		// On the major axis between the centres of curvature: two feet, alike.
		g := over(ax, k)
		nx, ny = minor*over(x, k), math.Sqrt(max(0, 1-g*g))
	}
	in := 1 / math.Sqrt(nx*nx+ny*ny)
	return u.Mul(nx * in).Add(v.Mul(ny * in))
}

// foot returns the outward unit normal at the point of the ellipsoid's surface
// that is nearest to p. Where there are several, it is one of them.
//
// The foot y of p has p - y = lambda y/r^2; with mu = lambda + r3^2 and
// k = r^2 - r3^2 that is y = r^2 p/(k + mu), and mu is the largest root of
// G(mu) = sum (r p/(k + mu))^2 = 1 (Eberly 2013, "Distance from a Point to an
// Ellipse, an Ellipsoid, or a Hyperellipsoid", whose variable is mu/r3^2 - 1).
func (s *Solid) foot(p Vec) Vec {
	k1, k2 := s.sq.X-s.sq.Z, s.sq.Y-s.sq.Z
	a1, a2, a3 := s.half.X*math.Abs(p.X), s.half.Y*math.Abs(p.Y), s.half.Z*math.Abs(p.Z)
	mu := max(a3, max(a1-k1, a2-k2))
	if !(mu > 0) {
		if u, ok := s.flatFoot(p, 1); ok {
			return u
		}
	}
	mu = secular(a1, a2, a3, k1, k2, mu)
	u, _ := Vec{over(p.X, k1+mu), over(p.Y, k2+mu), over(p.Z, mu)}.Unit()
	return u
}

// flatFoot returns the normal at one of the two mirrored feet (sign +1 or -1)
// of a p that lies in the plane of the two longer axes, near the middle; ok is
// false farther out, where the foot lies in that plane too.
func (s *Solid) flatFoot(p Vec, sign float64) (u Vec, ok bool) {
	k1, k2 := s.sq.X-s.sq.Z, s.sq.Y-s.sq.Z
	g1, g2 := over(s.half.X*p.X, k1), over(s.half.Y*p.Y, k2)
	rest := 1 - g1*g1 - g2*g2
	if rest < 0 {
		return Vec{}, false
	}
	n := Vec{s.half.Z * over(p.X, k1), s.half.Z * over(p.Y, k2), sign * math.Sqrt(rest)}
	return n.Unit()
}

// secondFoot returns the outward unit normal at the other local minimum of the
// distance from p to the surface: across the shortest axis from the nearest
// foot. ok is false when there is none.
//
// The Hessian of the Lagrangian is diag(1 + lambda/r^2). A foot with
// -r2^2 < lambda < -r3^2 is a local minimum exactly where G rises with lambda
// (one negative eigenvalue, taken out by the tangent plane); below -r2^2 two
// are negative and none can be. G is convex between those poles: there is at
// most one such root, the one nearer to -r3^2.
func (s *Solid) secondFoot(p Vec) (u Vec, ok bool) {
	k1, k2 := s.sq.X-s.sq.Z, s.sq.Y-s.sq.Z
	a1, a2, a3 := s.half.X*math.Abs(p.X), s.half.Y*math.Abs(p.Y), s.half.Z*math.Abs(p.Z)
	if a3 == 0 {
		return s.flatFoot(p, -1)
	}
	// Newton from the left of the first root, on a convex falling function.
	nu := a3 // -(lambda + r3^2)
	for range 60 {
		if !(nu < k2) {
			return Vec{}, false
		}
		g1, g2, g3 := a1/(k1-nu), a2/(k2-nu), a3/nu
		excess := g1*g1 + g2*g2 + g3*g3 - 1
		slope := 2 * (g1*g1/(k1-nu) + g2*g2/(k2-nu) - g3*g3/nu)
		if slope >= 0 {
			return Vec{}, false
		}
		step := -excess / slope
		nu += step
		if step <= secularTol*nu {
			break
		}
	}
	return Vec{p.X / (k1 - nu), p.Y / (k2 - nu), -p.Z / nu}.Unit()
}

// secularTol ends Newton's method once a step is this share of the root. The
// next error is its square, and the clearance, stationary in the foot, errs by
// the square of that.
const secularTol = 1e-6

// secular returns the root mu of
//
//	G(mu) = (a1/(k1+mu))^2 + (a2/(k2+mu))^2 + (a3/mu)^2 = 1
//
// right of start, where G(start) >= 1. 1/sqrt(G) is concave and nearly straight,
// so Newton on it climbs from the left and never passes the root (Reinsch 1971,
// "Smoothing by Spline Functions II"; More and Sorensen 1983, "Computing a
// Trust Region Step", section 3).
func secular(a1, a2, a3, k1, k2, start float64) float64 {
	mu := start
	for range 30 {
		i1, i2, i3 := over(1, k1+mu), over(1, k2+mu), over(1, mu)
		g1, g2, g3 := a1*i1, a2*i2, a3*i3
		g1, g2, g3 = g1*g1, g2*g2, g3*g3
		g := g1 + g2 + g3
		if !(g > 1) {
			break
		}
		step := (math.Sqrt(g) - 1) * g / (g1*i1 + g2*i2 + g3*i3)
		mu += step
		if !(step > secularTol*mu) {
			break
		}
	}
	return mu
}

// over returns x/y, or 0 where y is 0.
func over(x, y float64) float64 {
	if y == 0 {
		return 0
	}
	return x / y
}

// across returns two unit vectors u and v at right angles to the unit vector w
// and to each other, u x v = w. (Duff and others 2017, "Building an Orthonormal
// Basis, Revisited".)
func across(w Vec) (u, v Vec) {
	sign := math.Copysign(1, w.Z)
	a := -1 / (sign + w.Z)
	b := w.X * w.Y * a
	return Vec{1 + sign*w.X*w.X*a, sign * b, -sign * w.X}, Vec{b, sign + w.Y*w.Y*a, -w.Y}
}

func clamp01(t float64) float64 { return max(0, min(1, t)) }
