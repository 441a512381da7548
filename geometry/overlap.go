// SPDX-License-Identifier: MIT

package geometry

import "math"

// Overlap returns how far the boxes a and b reach into each other: the length of
// the shortest move that parts them, 0 when they are apart. Boxes are apart if
// and only if one of fifteen axes parts them: the faces' normals and the cross
// products of their edges (Gottschalk, Lin and Manocha 1996, "OBBTree", section
// 5).
func Overlap(a, b Box) float64 {
	least := math.Inf(1)
	d := b.Center.Sub(a.Center)
	reach := func(b Box, n Vec) float64 {
		return math.Abs(b.Basis.U.Dot(n))*b.Half.X + math.Abs(b.Basis.V.Dot(n))*b.Half.Y + math.Abs(b.Basis.W.Dot(n))*b.Half.Z
	}
	try := func(axis Vec) {
		n, ok := axis.Unit()
		if !ok || axis.Len2() < 1e-12 { // edges side by side: the faces tell
			return
		}
		least = min(least, reach(a, n)+reach(b, n)-math.Abs(n.Dot(d)))
	}
	as, bs := [3]Vec{a.Basis.U, a.Basis.V, a.Basis.W}, [3]Vec{b.Basis.U, b.Basis.V, b.Basis.W}
	for _, u := range as {
		try(u)
		for _, v := range bs {
			try(u.Cross(v))
		}
	}
	for _, v := range bs {
		try(v)
	}
	return max(least, 0)
}

// Overlap returns how far c and b reach into each other: the length of the shortest
// move that parts them, 0 when they are apart. Whether they are apart is exact, to
// 1e-9 m (Distance). The depth is the least over the axis of c, the faces' normals,
// and the ways across the axis that lead from it to a corner of b or along which an
// edge of b shows as a point or a line: exact where edges of b run along the axis,
// as those of a loudspeaker that is not tilted do; for any other never too little, and
// no more than for the box about c.
func (c Cylinder) Overlap(b Box) float64 {
	const touch = 1e-9 // m
	s, o := c.Solid(), b.Solid()
	d := b.Center.Sub(c.Center)
	least := Overlap(c.Box(), b) // what parts the box about c parts c
	try := func(axis Vec) {
		if n, ok := axis.Unit(); ok {
			least = min(least, s.Reach(n)+o.Reach(n)-math.Abs(n.Dot(d)))
		}
	}
	try(c.Basis.W)
	for _, u := range [3]Vec{b.Basis.U, b.Basis.V, b.Basis.W} {
		try(u)
		if across := u.Cross(c.Basis.W); across.Len2() > 1e-12 { // else the edge runs along the axis
			try(across)
		}
	}
	for _, p := range b.Corners() {
		off := p.Sub(c.Center)
		try(off.Sub(c.Basis.W.Mul(c.Basis.W.Dot(off))))
	}
	if least <= 0 {
		return 0
	}
	gap := Distance(&s, &o, d.Neg(), touch, touch)
	if gap.Lower > 0 {
		return 0
	}
	return min(least, -gap.Lower)
}
