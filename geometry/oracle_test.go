// SPDX-License-Identifier: MIT

package geometry_test

// The slow ways that Clearance is compared with. They share nothing with it but
// the definition.

import (
	"math"
	"math/rand/v2"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// least returns the least value of f over [lo, hi], f falling then rising, by
// golden section.
func least(f func(float64) float64, lo, hi float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	a, b := hi-g*(hi-lo), lo+g*(hi-lo)
	fa, fb := f(a), f(b)
	for range 80 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - g*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + g*(hi-lo)
			fb = f(b)
		}
	}
	return math.Min(math.Min(f(lo), f(hi)), math.Min(fa, fb))
}

// denseDistance returns the least of f over [0, 1]: 200 even samples, then
// golden section around the best.
func denseDistance(f func(t float64) float64) float64 {
	const n = 200
	best, at := math.Inf(1), 0
	for i := range n + 1 {
		if d := f(float64(i) / n); d < best {
			best, at = d, i
		}
	}
	return least(f, math.Max(0, float64(at-1)/n), math.Min(1, float64(at+1)/n))
}

// pointToBox is the distance of p from b, 0 inside.
func pointToBox(p geometry.Vec, b geometry.Box) float64 {
	l := b.Basis.Local(p.Sub(b.Center))
	c := func(x, h float64) float64 { return math.Max(math.Abs(x)-h, 0) }
	return geometry.V(c(l.X, b.Half.X), c(l.Y, b.Half.Y), c(l.Z, b.Half.Z)).Len()
}

// pointToEllipsoid is the distance of p from e, 0 inside, by halving the
// interval of the multiplier.
func pointToEllipsoid(p geometry.Vec, e geometry.Ellipsoid) float64 {
	l := e.Basis.Local(p.Sub(e.Center))
	r := e.Radii
	g := func(m float64) geometry.Vec {
		return geometry.V(r.X*l.X/(r.X*r.X+m), r.Y*l.Y/(r.Y*r.Y+m), r.Z*l.Z/(r.Z*r.Z+m))
	}
	if g(0).Len() <= 1 {
		return 0
	}
	lo, hi := 0.0, l.Len()*math.Max(r.X, math.Max(r.Y, r.Z))
	for range 70 {
		mid := (lo + hi) / 2
		if g(mid).Len() > 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	n := g((lo + hi) / 2)
	return l.Dist(geometry.V(n.X*r.X, n.Y*r.Y, n.Z*r.Z))
}

// gap is the signed distance of seg from the plane that supports e with outward
// normal u.
func gap(e geometry.Ellipsoid, seg geometry.Segment, u geometry.Vec) float64 {
	l := e.Basis.Local(u)
	h := math.Sqrt(l.X*l.X*e.Radii.X*e.Radii.X + l.Y*l.Y*e.Radii.Y*e.Radii.Y + l.Z*l.Z*e.Radii.Z*e.Radii.Z)
	return math.Min(u.Dot(seg.A.Sub(e.Center)), u.Dot(seg.B.Sub(e.Center))) - h
}

// ellipsoidDepth searches the depth of a segment in e.
func ellipsoidDepth(r *rand.Rand, e geometry.Ellipsoid, seg geometry.Segment) float64 {
	return searchedDepth(r, seg, func(u geometry.Vec) float64 { return gap(e, seg, u) })
}

// searchedDepth searches the depth of a penetrating segment, given the signed
// distance of the segment from the plane that supports the solid with an outward
// normal: the least overlap over even directions on the sphere, the best refined, and over the circles of
// directions square to the segment and to axes, where the overlap has creases.
func searchedDepth(r *rand.Rand, seg geometry.Segment, gap func(u geometry.Vec) float64, axes ...geometry.Vec) float64 {
	const n, keep = 1000, 8
	type start struct {
		u geometry.Vec
		g float64
	}
	var top [keep]start
	for i := range top {
		top[i].g = math.Inf(-1)
	}
	turn := math.Pi * (3 - math.Sqrt(5))
	for i := range n {
		z := 1 - (2*float64(i)+1)/n
		h := math.Sqrt(1 - z*z)
		u := geometry.V(h*math.Cos(turn*float64(i)), h*math.Sin(turn*float64(i)), z)
		c := start{u, gap(u)}
		for j := range top {
			if c.g > top[j].g {
				top[j], c = c, top[j]
			}
		}
	}
	best := math.Inf(-1)
	for _, c := range top {
		u, g := c.u, c.g
		for step := 0.1; step > 1e-7; {
			better := false
			for range 12 {
				v, ok := u.Add(geomtest.Unit(r).Mul(step)).Unit()
				if !ok {
					continue
				}
				if h := gap(v); h > g {
					u, g, better = v, h, true
				}
			}
			if !better {
				step /= 2
			}
		}
		best = math.Max(best, g)
	}
	for _, w := range append(axes, seg.B.Sub(seg.A)) {
		w, ok := w.Unit()
		if !ok {
			continue
		}
		best = math.Max(best, math.Max(gap(w), gap(w.Neg())))
		x, ok := w.Cross(geometry.V(0, 0, 1)).Unit()
		if !ok {
			x = geometry.V(1, 0, 0)
		}
		y := w.Cross(x)
		f := func(a float64) float64 { return -gap(x.Mul(math.Cos(a)).Add(y.Mul(math.Sin(a)))) }
		for i := range 72 {
			a := 2 * math.Pi * float64(i) / 72
			if f(a) < f(a-2*math.Pi/72) && f(a) <= f(a+2*math.Pi/72) {
				best = math.Max(best, -least(f, a-2*math.Pi/72, a+2*math.Pi/72))
			}
		}
	}
	return -best
}

// boxDepth is the depth of a penetrating segment: the box swept along the
// reversed segment is the hull of 16 points, and the depth the least distance of
// the origin from a plane through three of them that has all others behind it.
func boxDepth(b geometry.Box, seg geometry.Segment) float64 {
	var p []geometry.Vec
	for _, end := range []geometry.Vec{seg.A, seg.B} {
		for i := range 8 {
			s := func(bit int, h float64) float64 {
				if i&bit != 0 {
					return -h
				}
				return h
			}
			corner := b.Basis.World(geometry.V(s(1, b.Half.X), s(2, b.Half.Y), s(4, b.Half.Z)))
			p = append(p, corner.Add(b.Center).Sub(end))
		}
	}
	best := math.Inf(1)
	for i := range p {
		for j := range i {
		plane:
			for k := range j {
				e, f := p[j].Sub(p[i]), p[k].Sub(p[i])
				n := e.Cross(f)
				if n.Len() <= 1e-7*e.Len()*f.Len() { // no plane
					continue
				}
				n, _ = n.Unit()
				d := n.Dot(p[i])
				if d < 0 {
					n, d = n.Neg(), -d
				}
				if d >= best {
					continue
				}
				for _, q := range p {
					if n.Dot(q) > d+1e-9 { // m, rounding of a plane through near points
						continue plane
					}
				}
				best = d
			}
		}
	}
	return best
}
