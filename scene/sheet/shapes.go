// SPDX-License-Identifier: MIT

package sheet

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/scene/drawing"
)

// corners returns the corners of a box.
func corners(b drawing.Box) []drawing.Point {
	return []drawing.Point{{X: b.X0, Y: b.Y0}, {X: b.X1, Y: b.Y0}, {X: b.X1, Y: b.Y1}, {X: b.X0, Y: b.Y1}}
}

// closed returns the line round a ring.
func closed(ring []drawing.Point) []drawing.Point {
	if len(ring) == 0 {
		return nil
	}
	return append(ring[:len(ring):len(ring)], ring[0])
}

// grown returns a box with so much more on every side.
func grown(b drawing.Box, by float64) drawing.Box {
	return drawing.Rect(b.X0-by, b.Y0-by, b.X1+by, b.Y1+by)
}

// overlap returns the area that two boxes share.
func overlap(a, b drawing.Box) float64 {
	w, h := min(a.X1, b.X1)-max(a.X0, b.X0), min(a.Y1, b.Y1)-max(a.Y0, b.Y0)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// around returns the box about points.
func around(points []drawing.Point) drawing.Box {
	b := drawing.Rect(math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1))
	for _, q := range points {
		b = drawing.Rect(min(b.X0, q.X), min(b.Y0, q.Y), max(b.X1, q.X), max(b.Y1, q.Y))
	}
	return b
}

// hull returns the convex hull of points (the monotone chain of Andrew, 1979).
func hull(points []drawing.Point) []drawing.Point {
	ps := append([]drawing.Point(nil), points...)
	slices.SortFunc(ps, func(a, b drawing.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	cross := func(o, a, b drawing.Point) float64 {
		return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X)
	}
	var out []drawing.Point
	for range 2 {
		from := len(out)
		for _, p := range ps {
			for len(out) >= from+2 && cross(out[len(out)-2], out[len(out)-1], p) <= 1e-9 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(ps)
	}
	return out
}

// arc returns n+1 points on an arc from one angle to another; y down.
func arc(at drawing.Point, r, from, to float64, n int) []drawing.Point {
	out := make([]drawing.Point, 0, n+1)
	for i := range n + 1 {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
		out = append(out, drawing.Pt(at.X+r*c, at.Y+r*s))
	}
	return out
}

// nearestOn returns the point of b nearest to q.
func nearestOn(b drawing.Box, q drawing.Point) drawing.Point {
	return drawing.Pt(min(max(q.X, b.X0), b.X1), min(max(q.Y, b.Y0), b.Y1))
}

// crosses reports whether the line from a to b passes through box.
func crosses(a, b drawing.Point, box drawing.Box) bool {
	return len(drawing.ClipLines(box, []drawing.Point{a, b})) > 0
}

func finite(q drawing.Point) bool {
	return !math.IsNaN(q.X) && !math.IsNaN(q.Y) && !math.IsInf(q.X, 0) && !math.IsInf(q.Y, 0)
}

func middleOf(ring []drawing.Point) drawing.Point {
	b := around(ring)
	return drawing.Pt((b.X0+b.X1)/2, (b.Y0+b.Y1)/2)
}

func vec(q geometry.Vec2, z float64) geometry.Vec { return geometry.Vec{X: q.X, Y: q.Y, Z: z} }

func boxCorners(b geometry.Box) []geometry.Vec {
	var all []geometry.Vec
	for _, sx := range [2]float64{-1, 1} {
		for _, sy := range [2]float64{-1, 1} {
			for _, sz := range [2]float64{-1, 1} {
				all = append(all, b.Center.Add(b.Basis.World(geometry.Vec{X: sx * b.Half.X, Y: sy * b.Half.Y, Z: sz * b.Half.Z})))
			}
		}
	}
	return all
}
