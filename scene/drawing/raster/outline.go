// SPDX-License-Identifier: MIT

package raster

import (
	"image/color"
	"math"

	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"earline/scene/drawing"
)

// outlined fills the outlines of a label's signs, at any turn. Charts have no such
// labels, so it remembers nothing.
func (c *Canvas) outlined(ink color.NRGBA, l drawing.Label) {
	t := c.typeface.Of(l.Bold)
	s, k := math.Sincos(l.Turn * math.Pi / 180)
	x := 0.0
	for _, r := range l.Text {
		which, width := t.Advance(r)
		rings := outline(t.Font(which), r)
		for _, ring := range rings {
			for i, p := range ring {
				u, v := x+p.X*l.Size, p.Y*l.Size
				ring[i] = drawing.Pt(l.X+u*k+v*s, l.Y-u*s+v*k)
			}
		}
		x += width * l.Size
		lo, hi := corners(rings)
		if o, ok := c.begin(lo, hi); ok && len(rings) > 0 {
			// The signs of a font run the right way round as they are.
			for _, ring := range rings {
				c.ring(o, ring...)
			}
			c.end(o, ink)
		}
	}
}

// outline returns the rings of a sign in type of size 1, y down from where it stands.
func outline(f *opentype.Font, r rune) [][]drawing.Point {
	const em = 1024 // units that are asked for
	var buf sfnt.Buffer
	g, err := f.GlyphIndex(&buf, r)
	if err != nil {
		return nil
	}
	segments, err := f.LoadGlyph(&buf, g, fixed.I(em), nil)
	if err != nil {
		return nil // such as a sign that is a picture
	}
	var rings [][]drawing.Point
	at := func(p fixed.Point26_6) drawing.Point {
		return drawing.Pt(float64(p.X)/64/em, float64(p.Y)/64/em)
	}
	for _, s := range segments {
		if s.Op == sfnt.SegmentOpMoveTo {
			rings = append(rings, []drawing.Point{at(s.Args[0])})
			continue
		}
		ring := &rings[len(rings)-1]
		a := (*ring)[len(*ring)-1]
		// A cubic curve; what is less is raised to one.
		var b, c, d drawing.Point
		const pieces = 4
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			*ring = append(*ring, at(s.Args[0]))
			continue
		case sfnt.SegmentOpQuadTo:
			q := at(s.Args[0])
			d = at(s.Args[1])
			b = drawing.Pt(a.X+2*(q.X-a.X)/3, a.Y+2*(q.Y-a.Y)/3)
			c = drawing.Pt(d.X+2*(q.X-d.X)/3, d.Y+2*(q.Y-d.Y)/3)
		case sfnt.SegmentOpCubeTo:
			b, c, d = at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
		}
		for i := 1; i <= pieces; i++ {
			u := float64(i) / pieces
			v := 1 - u
			w := [4]float64{v * v * v, 3 * u * v * v, 3 * u * u * v, u * u * u}
			*ring = append(*ring, drawing.Pt(
				w[0]*a.X+w[1]*b.X+w[2]*c.X+w[3]*d.X, w[0]*a.Y+w[1]*b.Y+w[2]*c.Y+w[3]*d.Y))
		}
	}
	return rings
}
