// SPDX-License-Identifier: MIT

package raster

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"earline/scene/drawing"
)

// glyphKey is a sign as it has been covered before.
type glyphKey struct {
	r    rune
	size uint16 // index of sizes
	part uint16 // quarters of a pixel to the right
}

type glyph struct {
	mask *image.Alpha
	off  image.Point
}

// Text implements drawing.Canvas. The foot of level text stands on a whole pixel.
func (c *Canvas) Text(_ string, ink color.NRGBA, l drawing.Label) {
	if l.Turn != 0 || l.Bold {
		c.outlined(ink, l)
		return
	}
	n := c.sizeOf(l.Size)
	x, y := l.X, int(math.Round(l.Y))
	for _, r := range l.Text {
		which, width := c.typeface.Advance(r)
		face := c.face(n, which)
		if face == nil {
			return
		}
		q := math.Round(x * 4)
		ix := int(math.Floor(q / 4))
		g := c.glyph(face, glyphKey{r, uint16(n), uint16(q - 4*float64(ix))})
		if g.mask != nil {
			stamp(c.img, g.off.Add(image.Pt(ix, y)), g.mask, ink)
		}
		x += width * l.Size
	}
}

// sizeOf returns the index in sizes of type of px pixels.
func (c *Canvas) sizeOf(px float64) int {
	for i := range c.sizes {
		if c.sizes[i].px == px {
			return i
		}
	}
	c.sizes = append(c.sizes, size{px: px})
	return len(c.sizes) - 1
}

// face returns a font of the typeface in size n; nil where there is no such size.
func (c *Canvas) face(n, which int) font.Face {
	s := &c.sizes[n]
	if s.faces[which] == nil {
		f, err := opentype.NewFace(c.typeface.Font(which), &opentype.FaceOptions{Size: s.px, DPI: 72})
		if err != nil {
			return nil
		}
		s.faces[which] = f
	}
	return s.faces[which]
}

func (c *Canvas) glyph(f font.Face, key glyphKey) glyph {
	if g, ok := c.glyphs[key]; ok {
		return g
	}
	var g glyph
	dr, mask, from, _, ok := f.Glyph(fixed.Point26_6{X: fixed.Int26_6(key.part) * 16}, key.r)
	if ok && !dr.Empty() {
		g = glyph{image.NewAlpha(image.Rect(0, 0, dr.Dx(), dr.Dy())), dr.Min}
		draw.Draw(g.mask, g.mask.Rect, mask, from, draw.Src)
	}
	c.glyphs[key] = g
	return g
}
