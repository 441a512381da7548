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
	p := boxPath{a: a, dir: dir, h: h}
	if dir.X < 0 {
		p.a.X, p.dir.X = -a.X, -dir.X
	}
	if dir.Y < 0 {
		p.a.Y, p.dir.Y = -a.Y, -dir.Y
	}
	if dir.Z < 0 {
		p.a.Z, p.dir.Z = -a.Z, -dir.Z
	}
	// The line is between a pair of face planes from x0 to x1.
	x0, x1 := slab(p.a.X, p.dir.X, h.X)
	y0, y1 := slab(p.a.Y, p.dir.Y, h.Y)
	z0, z1 := slab(p.a.Z, p.dir.Z, h.Z)
	// g <= 0 before the first exit and g >= 0 after the last entry.
	entry, exit := max(x0, y0, z0), min(x1, y1, z1)
	switch {
	case entry > exit: // the endless line misses
		t = p.nearest(max(exit, 0), min(entry, 1), [6]float64{x0, x1, y0, y1, z0, z1})
	case entry > 1:
		t = 1
	case exit < 0:
		t = 0
	default:
		return boxDepth(a, b, dir, h, (max(entry, 0)+min(exit, 1))/2)
	}
	return Vec{
		outside(p.a.X+t*p.dir.X, h.X),
		outside(p.a.Y+t*p.dir.Y, h.Y),
		outside(p.a.Z+t*p.dir.Z, h.Z),
	}.Len(), t
}

// slab returns the parameters between which a + t dir, dir >= 0, lies within
// [-h, h]; where dir is 0, practically never or always.
func slab(a, dir, h float64) (t0, t1 float64) {
	i := 1 / max(dir, 1e-300) // finite, so that 0 times it is 0
	return (-h - a) * i, (h - a) * i
}

// boxPath is a segment beside a box, all of its direction's components >= 0.
type boxPath struct{ a, dir, h Vec }

// slope returns g(t).
func (p *boxPath) slope(t float64) float64 {
	return p.dir.X*outside(p.a.X+t*p.dir.X, p.h.X) +
		p.dir.Y*outside(p.a.Y+t*p.dir.Y, p.h.Y) +
		p.dir.Z*outside(p.a.Z+t*p.dir.Z, p.h.Z)
}

// nearest returns the root of g in [0, 1], or the end that is nearer to it. It
// lies between lo and hi if these are in order, and beyond 0 or 1 if not.
func (p *boxPath) nearest(lo, hi float64, kinks [6]float64) float64 {
	if lo >= 1 {
		return 1
	}
	if hi <= 0 {
		return 0
	}
	glo, ghi := p.slope(lo), p.slope(hi)
	if glo >= 0 {
		return lo
	}
	if ghi <= 0 {
		return hi
	}
	for _, k := range kinks {
		if k > lo && k < hi {
			if g := p.slope(k); g < 0 {
				lo, glo = k, g
			} else {
				hi, ghi = k, g
			}
		}
	}
	return lo - glo*(hi-lo)/(ghi-glo)
}

// outside returns how far x lies beyond [-h, h], with its sign.
func outside(x, h float64) float64 { return min(x+h, 0) + max(x-h, 0) }

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
