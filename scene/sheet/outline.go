// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/scene/drawing"
)

// thick is how thick walls and slabs are drawn, metres: a plan knows their faces only.
const thick = 0.12

// offset returns the outline with every edge moved outwards by so much.
func offset(outline geometry.Polygon, by float64) geometry.Polygon {
	n := len(outline)
	out := make(geometry.Polygon, n)
	for i := range outline {
		before, after := outline.InwardNormal((i+n-1)%n).Mul(-1), outline.InwardNormal(i).Mul(-1)
		// The corner moves along both normals.
		sum := before.Add(after)
		k := 1 + before.Dot(after)
		if k < 0.2 { // a corner so sharp that the mitre would run away
			k = 0.2
		}
		out[i] = outline[i].Add(sum.Mul(by / k))
	}
	return out
}

// drawWalls draws the cut walls, with openings for doors and windows.
func (s *set) drawWalls(d *drawn, openings bool) {
	inner, outer := d.floor(s.outline), d.floor(offset(s.outline, thick))
	d.hatch(hatchLayer, grey, 1.2, inner, outer)
	d.lines(wallLayer, black, cut, closed(inner), closed(outer))
	d.bands(inner, outer)
	if !openings {
		return
	}
	for _, f := range s.design.Room.Features {
		if f.Kind != project.Door && f.Kind != project.Window {
			continue
		}
		o, ok := s.openingOf(f)
		if !ok {
			continue
		}
		out := o.inward.Mul(-thick)
		ring := []geometry.Vec2{o.a, o.b, o.b.Add(out), o.a.Add(out)}
		d.fill(maskLayer, white, d.floor(ring))
		d.lines(wallLayer, black, cut, d.floor(geometry.Polygon{ring[0], ring[3]}), d.floor(geometry.Polygon{ring[1], ring[2]}))
		name := f.Words()
		middle := o.a.Add(o.b).Mul(0.5)
		if f.Kind == project.Window {
			half := out.Mul(0.5)
			d.lines(featureLayer, black, thin, d.floor(geometry.Polygon{o.a, o.b}), d.floor(geometry.Polygon{o.a.Add(half), o.b.Add(half)}), d.floor(geometry.Polygon{o.a.Add(out), o.b.Add(out)}))
			d.label(featureLayer, black, d.at(vec(middle, 0)), 1.5, 3, name)
			continue
		}
		s.drawSwing(d, f, o)
		d.label(featureLayer, black, d.at(vec(middle, 0)), 1.5, 3, name, s.length(o.a.Dist(o.b))+" × "+s.length(float64(f.Height)))
	}
}

// bands has labels keep off what lies between two outlines, corner by corner.
func (p *page) bands(inner, outer []drawing.Point) {
	for i := range inner {
		j := (i + 1) % len(inner)
		quad := []drawing.Point{inner[i], inner[j], outer[j], outer[i]}
		// A slanting wall is told in pieces.
		n := 1
		if b := around(quad); min(b.Dx(), b.Dy()) > 2*math.Hypot(inner[i].X-outer[i].X, inner[i].Y-outer[i].Y) {
			n = 1 + int(max(b.Dx(), b.Dy())/4)
		}
		part := func(a, b drawing.Point, t float64) drawing.Point {
			return drawing.Pt(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t)
		}
		for k := range n {
			t, u := float64(k)/float64(n), float64(k+1)/float64(n)
			p.solids = append(p.solids, around([]drawing.Point{
				part(quad[0], quad[1], t), part(quad[0], quad[1], u), part(quad[3], quad[2], t), part(quad[3], quad[2], u)}))
		}
	}
}

// clipTo returns the parts of the segment from a to b inside an outline.
func clipTo(outline geometry.Polygon, a, b geometry.Vec2) [][2]geometry.Vec2 {
	met := []float64{0, 1}
	dir := b.Sub(a)
	for i := range outline {
		c, e := outline.Edge(i)
		side := e.Sub(c)
		den := dir.Cross(side)
		if math.Abs(den) < 1e-12 {
			continue
		}
		t, u := c.Sub(a).Cross(side)/den, c.Sub(a).Cross(dir)/den
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			met = append(met, t)
		}
	}
	slices.Sort(met)
	var out [][2]geometry.Vec2
	for i := 1; i < len(met); i++ {
		if met[i]-met[i-1] > 1e-9 && outline.Contains(a.Add(dir.Mul((met[i]+met[i-1])/2))) {
			out = append(out, [2]geometry.Vec2{a.Add(dir.Mul(met[i-1])), a.Add(dir.Mul(met[i]))})
		}
	}
	return out
}
