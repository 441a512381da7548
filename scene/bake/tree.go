// SPDX-License-Identifier: MIT

package bake

import (
	"math"

	"earline/geometry"
)

// triangle is a corner and the edges from it to the other two.
type triangle struct{ at, u, v geometry.Vec }

// tree holds triangles in boxes within boxes, so that a ray asks few of them.
type tree struct {
	all   []triangle
	order []int32 // of the triangles, leaf by leaf
	nodes []node
}

// node is a box with two boxes in it, next and next+1, or with count triangles from next
// in the order.
type node struct {
	lo, hi geometry.Vec
	next   int32
	count  int32
}

// hit is where a ray meets a triangle: at + u·U + v·V.
type hit struct {
	triangle int32 // -1 for none
	u, v     float64
	far      float64 // in lengths of the ray's direction
	front    bool    // the side that is counter-clockwise
}

func treeOf(all []triangle) *tree {
	t := &tree{all: all, order: make([]int32, len(all)), nodes: make([]node, 1, 2*len(all)+1)}
	middles := make([]geometry.Vec, len(all))
	for i := range all {
		t.order[i] = int32(i)
		middles[i] = all[i].at.Add(all[i].u.Add(all[i].v).Mul(1. / 3))
	}
	t.split(0, 0, len(all), middles)
	return t
}

// split makes node n of the triangles from first to last, and cuts it where the surfaces
// of both parts, each times its triangles, are least: the chance that a ray has to ask
// them (Goldsmith and Salmon, "Automatic creation of object hierarchies for ray tracing",
// 1987, from memory). It looks at a few even cuts along each axis.
func (t *tree) split(n, first, last int, middles []geometry.Vec) {
	const leaf, bins = 4, 12
	var whole, mid bounds
	for _, i := range t.order[first:last] {
		whole.triangle(&t.all[i])
		mid.point(middles[i])
	}
	t.nodes[n] = node{whole.lo, whole.hi, int32(first), int32(last - first)}
	if last-first <= leaf {
		return
	}
	best, axis, cut := math.Inf(1), -1, 0
	for a := range 3 {
		from, long := along(mid.lo, a), along(mid.hi, a)-along(mid.lo, a)
		if !(long > 0) {
			continue
		}
		var part [bins]bounds
		for _, i := range t.order[first:last] {
			part[bin(along(middles[i], a), from, long, bins)].triangle(&t.all[i])
		}
		var right [bins]float64
		var sum bounds
		for k := bins - 1; k > 0; k-- {
			sum.join(&part[k])
			right[k] = sum.cost()
		}
		sum = bounds{}
		for k := 1; k < bins; k++ {
			sum.join(&part[k-1])
			if c := sum.cost() + right[k]; c < best {
				best, axis, cut = c, a, k
			}
		}
	}
	if axis < 0 {
		return // all in one place
	}
	from, long := along(mid.lo, axis), along(mid.hi, axis)-along(mid.lo, axis)
	m := first
	for k := first; k < last; k++ {
		if bin(along(middles[t.order[k]], axis), from, long, bins) < cut {
			t.order[k], t.order[m] = t.order[m], t.order[k]
			m++
		}
	}
	if m == first || m == last {
		return
	}
	next := len(t.nodes)
	t.nodes = append(t.nodes, node{}, node{})
	t.nodes[n].next, t.nodes[n].count = int32(next), 0
	t.split(next, first, m, middles)
	t.split(next+1, m, last, middles)
}

func bin(x, from, long float64, n int) int { return min(int((x-from)/long*float64(n)), n-1) }

func along(v geometry.Vec, axis int) float64 {
	switch axis {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}

// bounds is a box about n triangles or points; the zero value is about none.
type bounds struct {
	lo, hi geometry.Vec
	n      int
}

func (b *bounds) point(p geometry.Vec) {
	if b.n == 0 {
		b.lo, b.hi = p, p
	}
	b.lo = geometry.Vec{X: min(b.lo.X, p.X), Y: min(b.lo.Y, p.Y), Z: min(b.lo.Z, p.Z)}
	b.hi = geometry.Vec{X: max(b.hi.X, p.X), Y: max(b.hi.Y, p.Y), Z: max(b.hi.Z, p.Z)}
	b.n++
}

func (b *bounds) triangle(t *triangle) {
	n := b.n
	b.point(t.at)
	b.point(t.at.Add(t.u))
	b.point(t.at.Add(t.v))
	b.n = n + 1
}

func (b *bounds) join(c *bounds) {
	if c.n == 0 {
		return
	}
	n := b.n
	b.point(c.lo)
	b.point(c.hi)
	b.n = n + c.n
}

// cost is half the surface times how many are in it.
func (b *bounds) cost() float64 {
	d := b.hi.Sub(b.lo)
	return float64(b.n) * (d.X*d.Y + d.Y*d.Z + d.Z*d.X)
}

// nearest returns what a ray meets first.
func (t *tree) nearest(from, way geometry.Vec) hit { return t.cast(from, way, math.Inf(1), false) }

// clear reports whether nothing is on the way before it ends.
func (t *tree) clear(from, way geometry.Vec) bool { return t.cast(from, way, 1, true).triangle < 0 }

// cast returns what a ray meets before far: the nearest, or any.
func (t *tree) cast(from, way geometry.Vec, far float64, any bool) hit {
	best := hit{triangle: -1, far: far}
	inverse := geometry.Vec{X: 1 / way.X, Y: 1 / way.Y, Z: 1 / way.Z}
	var wait [64]int32 // deeper than any tree of our triangles
	waiting := 0
	at := int32(0)
	if t.nodes[0].enter(from, inverse, far) >= far {
		return best
	}
	for {
		n := &t.nodes[at]
		if n.count == 0 && len(t.all) > 0 && n.next > 0 {
			left, right := n.next, n.next+1
			l, r := t.nodes[left].enter(from, inverse, best.far), t.nodes[right].enter(from, inverse, best.far)
			if l > r {
				left, right, l, r = right, left, r, l
			}
			if l < best.far {
				if r < best.far && waiting < len(wait) {
					wait[waiting] = right
					waiting++
				}
				at = left
				continue
			}
		} else {
			for _, i := range t.order[n.next : n.next+n.count] {
				if t.all[i].meet(from, way, &best) {
					best.triangle = i
					if any {
						return best
					}
				}
			}
		}
		if waiting == 0 {
			return best
		}
		waiting--
		at = wait[waiting]
	}
}

// enter returns how far away a ray enters a box, +Inf where it passes it or enters beyond
// far.
func (n *node) enter(from, inverse geometry.Vec, far float64) float64 {
	x0, x1 := (n.lo.X-from.X)*inverse.X, (n.hi.X-from.X)*inverse.X
	y0, y1 := (n.lo.Y-from.Y)*inverse.Y, (n.hi.Y-from.Y)*inverse.Y
	z0, z1 := (n.lo.Z-from.Z)*inverse.Z, (n.hi.Z-from.Z)*inverse.Z
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	if y0 > y1 {
		y0, y1 = y1, y0
	}
	if z0 > z1 {
		z0, z1 = z1, z0
	}
	in, out := 0.0, far
	// Compared so that 0 times infinity, of a ray along a side, changes nothing.
	if x0 > in {
		in = x0
	}
	if y0 > in {
		in = y0
	}
	if z0 > in {
		in = z0
	}
	if x1 < out {
		out = x1
	}
	if y1 < out {
		out = y1
	}
	if z1 < out {
		out = z1
	}
	const slack = 1 + 1e-12 // a flat box is entered and left at once
	if in > out*slack {
		return math.Inf(1)
	}
	return in
}

// meet reports whether a ray meets t before h, and says where in h (Möller and Trumbore,
// "Fast, minimum storage ray/triangle intersection", 1997, from memory).
func (t *triangle) meet(from, way geometry.Vec, h *hit) bool {
	p := way.Cross(t.v)
	det := t.u.Dot(p)
	if det == 0 {
		return false
	}
	inverse := 1 / det
	s := from.Sub(t.at)
	u := s.Dot(p) * inverse
	if u < 0 || u > 1 {
		return false
	}
	q := s.Cross(t.u)
	v := way.Dot(q) * inverse
	if v < 0 || u+v > 1 {
		return false
	}
	far := t.v.Dot(q) * inverse
	if far <= 0 || far >= h.far {
		return false
	}
	h.u, h.v, h.far, h.front = u, v, far, det > 0
	return true
}
