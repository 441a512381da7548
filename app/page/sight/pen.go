// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// pen writes short texts into an image. It keeps every glyph it has drawn: a
// full table has some three thousand of them, of thirty kinds.
type pen struct {
	face   font.Face
	glyphs map[rune]glyph
	ascent int
}

type glyph struct {
	mask    *image.Alpha
	offset  image.Point // from the dot to the mask's corner
	advance int
}

// newPen returns a pen for a TrueType font at size pixels.
func newPen(ttf []byte, size float64) (*pen, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("matrix: font: %w", err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		return nil, fmt.Errorf("matrix: font: %w", err)
	}
	// Capitals and digits are about 0.71 of the size high in common fonts; this
	// centres them, which the ascent would not.
	return &pen{face, map[rune]glyph{}, int(size*0.71 + 0.5)}, nil
}

func (p *pen) glyph(r rune) glyph {
	if g, ok := p.glyphs[r]; ok {
		return g
	}
	var g glyph
	dr, mask, at, advance, ok := p.face.Glyph(fixed.Point26_6{}, r)
	if ok {
		g.mask = image.NewAlpha(image.Rect(0, 0, dr.Dx(), dr.Dy()))
		draw.Draw(g.mask, g.mask.Rect, mask, at, draw.Src)
		g.offset, g.advance = dr.Min, advance.Round()
	}
	p.glyphs[r] = g
	return g
}

// width returns how many pixels wide text is.
func (p *pen) width(text string) int {
	w := 0
	for _, r := range text {
		w += p.glyph(r).advance
	}
	return w
}

// write writes text in the middle of box, cut at the edges of img.
func (p *pen) write(img *image.RGBA, box image.Rectangle, text string, ink color.NRGBA) {
	p.at(img, image.Pt(box.Min.X+(box.Dx()-p.width(text))/2, box.Min.Y+(box.Dy()+p.ascent)/2), text, ink)
}

// at writes text from the dot on.
func (p *pen) at(img *image.RGBA, dot image.Point, text string, ink color.NRGBA) {
	for _, r := range text {
		g := p.glyph(r)
		if g.mask != nil {
			stamp(img, dot.Add(g.offset), g.mask, ink)
		}
		dot.X += g.advance
	}
}

// stamp blends ink through mask. image/draw does the same three times slower,
// for it must allow for every kind of image.
func stamp(img *image.RGBA, at image.Point, mask *image.Alpha, ink color.NRGBA) {
	r := mask.Rect.Add(at).Intersect(img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		m := mask.Pix[mask.PixOffset(r.Min.X-at.X, y-at.Y):]
		d := img.Pix[img.PixOffset(r.Min.X, y):]
		for x := range r.Dx() {
			a := uint32(m[x])
			if a == 0 {
				continue
			}
			px := d[4*x : 4*x+3 : 4*x+3]
			px[0] = uint8((uint32(px[0])*(255-a) + uint32(ink.R)*a + 127) / 255)
			px[1] = uint8((uint32(px[1])*(255-a) + uint32(ink.G)*a + 127) / 255)
			px[2] = uint8((uint32(px[2])*(255-a) + uint32(ink.B)*a + 127) / 255)
		}
	}
}

// fill paints r in an opaque colour.
func fill(img *image.RGBA, r image.Rectangle, c color.NRGBA) {
	r = r.Intersect(img.Rect)
	if r.Empty() {
		return
	}
	row := img.Pix[img.PixOffset(r.Min.X, r.Min.Y):][:4*r.Dx()]
	for i := 0; i < len(row); i += 4 {
		row[i], row[i+1], row[i+2], row[i+3] = c.R, c.G, c.B, 255
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(img.Pix[img.PixOffset(r.Min.X, y):], row)
	}
}

// frame paints the inner edge of r, w pixels wide.
func frame(img *image.RGBA, r image.Rectangle, w int, c color.NRGBA) {
	fill(img, image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+w), c)
	fill(img, image.Rect(r.Min.X, r.Max.Y-w, r.Max.X, r.Max.Y), c)
	fill(img, image.Rect(r.Min.X, r.Min.Y, r.Min.X+w, r.Max.Y), c)
	fill(img, image.Rect(r.Max.X-w, r.Min.Y, r.Max.X, r.Max.Y), c)
}
