// SPDX-License-Identifier: MIT

package light

import (
	"cmp"
	"slices"

	"earline/geometry"
)

// shade is what stands in the way of light: solids, and the walls of a room whose outline
// is not convex.
type shade struct {
	solids []geometry.Solid // in the order of the leaves
	nodes  []node
	walls  []geometry.Segment2
}

// node is a box along the room's axes around some of the solids. The first child of a node
// follows it; of a leaf, solids from first on are in it.
type node struct {
	low, high   geometry.Vec
	first, many int32 // of a leaf; many is 0 for others
	second      int32 // the other child
}

// shadeOf sorts solids into a tree of boxes, so that a ray looks at few of them.
func shadeOf(solids []geometry.Solid, outline geometry.Polygon) *shade {
	s := &shade{}
	if !outline.Convex() {
		for i := range outline {
			a, b := outline.Edge(i)
			s.walls = append(s.walls, geometry.Segment2{A: a, B: b})
		}
	}
	items := make([]boxed, len(solids))
	for i := range solids {
		items[i].solid = &solids[i]
		items[i].low, items[i].high = bounds(&solids[i])
	}
	if len(items) > 0 {
		s.grow(items)
	}
	return s
}

// boxed is a solid with the box around it.
type boxed struct {
	solid     *geometry.Solid
	low, high geometry.Vec
}

func (s *shade) grow(items []boxed) {
	const few = 2 // of a leaf
	at := len(s.nodes)
	n := node{low: items[0].low, high: items[0].high}
	for _, x := range items[1:] {
		n.low, n.high = least(n.low, x.low), most(n.high, x.high)
	}
	s.nodes = append(s.nodes, n)
	if len(items) <= few {
		s.nodes[at].first, s.nodes[at].many = int32(len(s.solids)), int32(len(items))
		for _, x := range items {
			s.solids = append(s.solids, *x.solid)
		}
		return
	}
	along := func(v geometry.Vec) float64 { return v.X }
	switch d := n.high.Sub(n.low); {
	case d.Y >= d.X && d.Y >= d.Z:
		along = func(v geometry.Vec) float64 { return v.Y }
	case d.Z >= d.X:
		along = func(v geometry.Vec) float64 { return v.Z }
	}
	slices.SortStableFunc(items, func(a, b boxed) int { return cmp.Compare(along(a.low.Add(a.high)), along(b.low.Add(b.high))) })
	half := len(items) / 2
	s.grow(items[:half])
	s.nodes[at].second = int32(len(s.nodes))
	s.grow(items[half:])
}

func bounds(s *geometry.Solid) (low, high geometry.Vec) {
	c := s.Bound().Center
	return c.Sub(geometry.Vec{X: s.Reach(geometry.Vec{X: -1}), Y: s.Reach(geometry.Vec{Y: -1}), Z: s.Reach(geometry.Vec{Z: -1})}),
		c.Add(geometry.Vec{X: s.Reach(geometry.Vec{X: 1}), Y: s.Reach(geometry.Vec{Y: 1}), Z: s.Reach(geometry.Vec{Z: 1})})
}

func least(a, b geometry.Vec) geometry.Vec {
	return geometry.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}
}

func most(a, b geometry.Vec) geometry.Vec {
	return geometry.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}
}

// clear reports whether light passes from a to b.
func (s *shade) clear(a, b geometry.Vec) bool {
	for i := range s.walls {
		if crosses(geometry.Vec2{X: a.X, Y: a.Y}, geometry.Vec2{X: b.X, Y: b.Y}, s.walls[i]) {
			return false
		}
	}
	if len(s.nodes) == 0 {
		return true
	}
	const touch = 1e-4 // m: light ends on the face that it meets
	seg := geometry.Segment{A: a, B: b}
	d := b.Sub(a)
	l := d.Len()
	inv := geometry.Vec{X: 1 / d.X, Y: 1 / d.Y, Z: 1 / d.Z}
	var stack [48]int32 // deeper than any tree of solids that fit a design
	top := 1
	for top > 0 {
		top--
		at := stack[top]
		n := &s.nodes[at]
		if !n.meets(a, d, inv) {
			continue
		}
		if n.many == 0 {
			stack[top], stack[top+1] = n.second, at+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.many; k++ {
			// A triangle has no inside: light goes in and out of it at once.
			if t0, t1, ok := s.solids[k].Hit(seg); ok && ((t1-t0)*l > touch || t0 == t1 && t0 > 0 && t0 < 1) {
				return false
			}
		}
	}
	return true
}

// meets reports whether the way from a along d, with inv = 1/d, comes through the box.
func (n *node) meets(a, d, inv geometry.Vec) bool {
	t0, t1 := 0.0, 1.0
	slab := func(a, d, inv, low, high float64) bool {
		if d == 0 {
			return a >= low && a <= high
		}
		p, q := (low-a)*inv, (high-a)*inv
		if p > q {
			p, q = q, p
		}
		t0, t1 = max(t0, p), min(t1, q)
		return t0 <= t1
	}
	return slab(a.X, d.X, inv.X, n.low.X, n.high.X) && slab(a.Y, d.Y, inv.Y, n.low.Y, n.high.Y) && slab(a.Z, d.Z, inv.Z, n.low.Z, n.high.Z)
}

// crosses reports whether the way from a to b, seen from above, leads through wall.
func crosses(a, b geometry.Vec2, wall geometry.Segment2) bool {
	d, w := b.Sub(a), wall.B.Sub(wall.A)
	det := d.Cross(w)
	if det == 0 {
		return false
	}
	from := wall.A.Sub(a)
	t, u := from.Cross(w)/det, from.Cross(d)/det
	return t > 0 && t < 1 && u >= 0 && u <= 1
}

// within reports whether p is inside one of the solids.
func (s *shade) within(p geometry.Vec) bool {
	for i := range s.solids {
		if _, _, in := s.solids[i].Hit(geometry.Segment{A: p, B: p}); in {
			return true
		}
	}
	return false
}
