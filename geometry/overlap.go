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
