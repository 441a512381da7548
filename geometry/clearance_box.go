// SPDX-License-Identifier: MIT

package geometry

import "math"

// clearanceBox is the clearance of the segment from a to b from the box with
// half-sizes h, in the box's own axes.
//
// Apart: half the slope of the squared distance along the segment,
//
//	g(t) = sum over axes of dir * ( min(x + h, 0) + max(x - h, 0) ),  x = a + t dir,
//
// rises steadily and is straight between its at most six kinks, where the
// segment passes a face plane. The kinks close in on the root from both sides;
// the last piece is straight. (Eberly 2003, "Geometric Tools for Computer
// Graphics", section 10.9.4, treats the same pieces by cases.)
//
// Penetrating: the box swept along the segment is a polyhedron whose faces are
// parallel to a face of the box or to one of its edges and the segment, so the
// depth is the least overlap over these six axes (Gottschalk, Lin and Manocha
// 1996, "OBBTree", section 5, the separating axes).
func clearanceBox(a, b, h Vec) (d, t float64) {
	dir := b.Sub(a)
	if dir.Len2() < pointLike*pointLike {
		dir, b = Vec{}, a
	}
	// Turn axes over so that the segment runs up each of them.
	p, q := a, dir
	if q.X < 0 {
		p.X, q.X = -p.X, -q.X
	}
	if q.Y < 0 {
		p.Y, q.Y = -p.Y, -q.Y
	}
	if q.Z < 0 {
		p.Z, q.Z = -p.Z, -q.Z
	}
	// The line is between a pair of face planes from x0 to x1.
	x0, x1 := slab(p.X, q.X, h.X)
	y0, y1 := slab(p.Y, q.Y, h.Y)
	z0, z1 := slab(p.Z, q.Z, h.Z)
	// g <= 0 before the first exit and g >= 0 after the last entry.
	entry, exit := greatest(x0, y0, z0), -greatest(-x1, -y1, -z1)
	switch {
	case entry <= exit && entry <= 1 && exit >= 0:
		return boxDepth(a, b, dir, h, (max(entry, 0)+min(exit, 1))/2)
	case entry <= 0:
		t = 0
	case exit >= 1:
		t = 1
	default: // the endless line misses
		lo, hi := exit, entry
		if lo < 0 {
			lo = 0
		}
		if hi > 1 {
			hi = 1
		}
		glo := boxSlope(p, q, h, lo)
		if glo >= 0 {
			t = lo
			break
		}
		ghi := boxSlope(p, q, h, hi)
		if ghi <= 0 {
			t = hi
			break
		}
		for _, k := range [6]float64{x0, x1, y0, y1, z0, z1} {
			if k > lo && k < hi {
				if g := boxSlope(p, q, h, k); g < 0 {
					lo, glo = k, g
				} else {
					hi, ghi = k, g
				}
			}
		}
		t = lo - glo*(hi-lo)/(ghi-glo)
	}
	x := outside(p.X+t*q.X, h.X)
	y := outside(p.Y+t*q.Y, h.Y)
	z := outside(p.Z+t*q.Z, h.Z)
	return math.Sqrt(x*x + y*y + z*z), t
}

// slab returns the parameters between which a + t dir, dir >= 0, lies within
// [-h, h]; where dir is 0, practically never or always.
func slab(a, dir, h float64) (t0, t1 float64) {
	if dir < 1e-300 {
		dir = 1e-300 // 1/dir finite, so that 0 times it is 0
	}
	i := 1 / dir
	return (-h - a) * i, (h - a) * i
}

// greatest is max(a, b, c) without its care for what is not a number.
func greatest(a, b, c float64) float64 {
	if b > a {
		a = b
	}
	if c > a {
		a = c
	}
	return a
}

// boxSlope returns g(t).
func boxSlope(p, q, h Vec, t float64) float64 {
	return q.X*outside(p.X+t*q.X, h.X) + q.Y*outside(p.Y+t*q.Y, h.Y) + q.Z*outside(p.Z+t*q.Z, h.Z)
}

// outside returns how far x lies beyond [-h, h], with its sign.
func outside(x, h float64) float64 {
	if x > h {
		return x - h
	}
	if x < -h {
		return x + h
	}
	return 0
}

// boxDepth is clearanceBox for a segment that meets the box; level is the
// middle of the part inside, returned as t where a whole stretch is equally
// deep.
func boxDepth(a, b, dir, h Vec, level float64) (d, t float64) {
	d = math.Inf(-1)
	face := func(a, b, h float64) {
		// out by the + face: the lower end is the deeper; by the -, the higher.
		plus, minus := min(a, b)-h, -max(a, b)-h
		if plus > d {
			d, t = plus, lower(a, b, level)
		}
		if minus > d {
			d, t = minus, lower(-a, -b, level)
		}
	}
	face(a.X, b.X, h.X)
	face(a.Y, b.Y, h.Y)
	face(a.Z, b.Z, h.Z)

	// An edge along one axis: (a1, a2), (d1, d2), (h1, h2) on the other two.
	edge := func(a1, a2, d1, d2, h1, h2 float64) {
		l2 := d1*d1 + d2*d2
		if !(l2 > 0) {
			return
		}
		il := 1 / math.Sqrt(l2)
		u1, u2 := d2*il, -d1*il
		off := float64(u1*a1) + float64(u2*a2)
		if off < 0 {
			u1, u2, off = -u1, -u2, -off
		}
		if e := off - (math.Abs(u1)*h1 + math.Abs(u2)*h2); e > d {
			d = e
			t = clamp01(((math.Copysign(h1, u1)-a1)*d1 + (math.Copysign(h2, u2)-a2)*d2) / l2)
		}
	}
	edge(a.Y, a.Z, dir.Y, dir.Z, h.Y, h.Z)
	edge(a.Z, a.X, dir.Z, dir.X, h.Z, h.X)
	edge(a.X, a.Y, dir.X, dir.Y, h.X, h.Y)
	return min(d, 0), t
}

// lower returns the parameter of the lower of the ends a (0) and b (1), or
// level when they are equally high.
func lower(a, b, level float64) float64 {
	switch {
	case a < b:
		return 0
	case b < a:
		return 1
	}
	return level
}
