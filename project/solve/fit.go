// SPDX-License-Identifier: MIT

package solve

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// buildTol is how far two things may reach into each other and still count as
// touching, as in project.Findings, metres; half of it, so that what is made
// here passes there.
const buildTol = 0.001

// corners returns the eight corners of b.
func corners(b geometry.Box) [8]geometry.Vec {
	var out [8]geometry.Vec
	for n := range out {
		s := func(bit int, h float64) float64 {
			if n&bit == 0 {
				return -h
			}
			return h
		}
		out[n] = b.Center.Add(b.Basis.World(geometry.Vec{X: s(1, b.Half.X), Y: s(2, b.Half.Y), Z: s(4, b.Half.Z)}))
	}
	return out
}

// overlap returns how far the boxes a and b reach into each other: the length of
// the shortest move that parts them, 0 when they are apart. Boxes are apart if
// and only if one of fifteen axes parts them: the faces' normals and the cross
// products of their edges (Gottschalk, Lin and Manocha 1996, "OBBTree", section
// 5).
func overlap(a, b geometry.Box) float64 {
	least := math.Inf(1)
	d := b.Center.Sub(a.Center)
	try := func(axis geometry.Vec) {
		n, ok := axis.Unit()
		if !ok || axis.Len2() < 1e-12 { // edges side by side: the faces tell
			return
		}
		least = min(least, reach(a, n)+reach(b, n)-math.Abs(n.Dot(d)))
	}
	as, bs := [3]geometry.Vec{a.Basis.U, a.Basis.V, a.Basis.W}, [3]geometry.Vec{b.Basis.U, b.Basis.V, b.Basis.W}
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

func reach(b geometry.Box, n geometry.Vec) float64 {
	return math.Abs(b.Basis.U.Dot(n))*b.Half.X + math.Abs(b.Basis.V.Dot(n))*b.Half.Y + math.Abs(b.Basis.W.Dot(n))*b.Half.Z
}

// inTheWay returns the feature that the box of a loudspeaker stands in most, and
// how deep; -1 for none. Doors and windows are openings, and a flush loudspeaker
// may be built into a feature.
func inTheWay(room *project.Room, p *project.Placed) (feature int, depth float64) {
	feature = -1
	if p.Spec.Flush {
		return -1, 0
	}
	for i, f := range room.Features {
		if f.Kind == project.Window || f.Kind == project.Door {
			continue
		}
		if o := overlap(f.Box(), p.Box); o > max(depth, buildTol) {
			feature, depth = i, o
		}
	}
	return feature, depth
}

// overCeiling returns how far the highest corner of p's box, its front's middle
// when it is built in flush, is over the ceiling; negative under it.
func overCeiling(room *project.Room, p *project.Placed) float64 {
	if p.Spec.Flush && p.Mount == project.OnCeiling {
		return p.At.Vec().Z - room.CeilingAt(p.At.Vec().X, p.At.Vec().Y)
	}
	worst := math.Inf(-1)
	for _, c := range corners(p.Box) {
		worst = max(worst, c.Z-room.CeilingAt(c.X, c.Y))
	}
	return worst
}

// pushes adds to out, by edge of the footprint, how far corners of the box are
// outside it.
func pushes(poly geometry.Polygon, b geometry.Box, out []float64) {
	clear(out)
	for _, c := range corners(b) {
		q := geometry.Vec2{X: c.X, Y: c.Y}
		if poly.Contains(q) {
			continue
		}
		edge, foot := poly.Nearest(q)
		out[edge] = max(out[edge], q.Dist(foot))
	}
}
