// SPDX-License-Identifier: MIT

// Package raster keeps a drawing as a picture, one unit a pixel.
//
// Shapes are covered by golang.org/x/image's rasteriser within the rectangle that
// they take up; lines are turned into shapes here. gonum.org/v1/plot 0.16.0 was
// tried as canvas: 24 lines of 200 points took it 17 ms where this takes 5.
//
// A shape that reaches more than 64 px beyond the picture is left out whole:
// clip it first.
package raster

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/vector"

	"earline/scene/drawing"
)

// Canvas is a picture that is drawn on. It ignores layers.
type Canvas struct {
	img      *image.RGBA
	cover    vector.Rasterizer
	mask     image.Alpha
	typeface *drawing.Typeface
	sizes    []size // of type, as they came up
	glyphs   map[glyphKey]glyph
}

// size is type of one size, in pixels, of both fonts of the typeface.
type size struct {
	px    float64
	faces [2]font.Face
}

var _ drawing.PictureCanvas = (*Canvas)(nil)

// New returns a canvas on a new picture of w by h pixels, which is transparent.
func New(w, h int, t *drawing.Typeface) *Canvas { return On(image.NewRGBA(image.Rect(0, 0, w, h)), t) }

// On returns a canvas that draws on img.
func On(img *image.RGBA, t *drawing.Typeface) *Canvas {
	return &Canvas{img: img, typeface: t, glyphs: map[glyphKey]glyph{}}
}

// Image returns the picture, not a copy.
func (c *Canvas) Image() *image.RGBA { return c.img }

// whole returns the rectangle of r where its edges are those of pixels.
func whole(ring []drawing.Point) (image.Rectangle, bool) {
	if len(ring) != 4 || ring[0].Y != ring[1].Y || ring[1].X != ring[2].X || ring[2].Y != ring[3].Y || ring[3].X != ring[0].X {
		return image.Rectangle{}, false
	}
	for _, p := range ring {
		if p.X != math.Floor(p.X) || p.Y != math.Floor(p.Y) {
			return image.Rectangle{}, false
		}
	}
	return image.Rect(int(ring[0].X), int(ring[0].Y), int(ring[2].X), int(ring[2].Y)), true
}

// Picture implements drawing.PictureCanvas.
func (c *Canvas) Picture(_ string, at drawing.Box, img image.Image) {
	to := image.Rect(int(math.Round(at.X0)), int(math.Round(at.Y0)), int(math.Round(at.X1)), int(math.Round(at.Y1)))
	xdraw.ApproxBiLinear.Scale(c.img, to, img, img.Bounds(), xdraw.Over, nil)
}

// Fill implements drawing.Canvas.
func (c *Canvas) Fill(_ string, ink color.NRGBA, rings ...[]drawing.Point) {
	if len(rings) == 1 {
		if q, ok := whole(rings[0]); ok {
			q = q.Intersect(c.img.Rect)
			draw.Draw(c.img, q, image.NewUniform(ink), image.Point{}, draw.Over)
			return
		}
	}
	lo, hi := corners(rings)
	o, ok := c.begin(lo, hi)
	if !ok {
		return
	}
	for i, ring := range rings {
		if len(ring) < 3 {
			continue
		}
		if len(rings) > 1 {
			ring = wound(ring, hole(rings, i))
		}
		c.ring(o, ring...)
	}
	c.end(o, ink)
}

// corners returns the box around lines.
func corners(lines [][]drawing.Point) (lo, hi drawing.Point) {
	lo, hi = drawing.Pt(math.Inf(1), math.Inf(1)), drawing.Pt(math.Inf(-1), math.Inf(-1))
	for _, l := range lines {
		for _, p := range l {
			lo, hi = drawing.Pt(min(lo.X, p.X), min(lo.Y, p.Y)), drawing.Pt(max(hi.X, p.X), max(hi.Y, p.Y))
		}
	}
	return lo, hi
}

// hole tells whether ring i lies in an odd number of the others. The rasteriser knows
// no even-odd rule: a ring that runs the other way takes away instead, which is the
// same where rings lie in each other and do not cross.
func hole(rings [][]drawing.Point, i int) bool {
	p, in := rings[i][0], false
	for j, ring := range rings {
		for k, a := range ring {
			b := ring[(k+1)%len(ring)]
			if j != i && (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}

// wound returns the ring so that it runs clockwise as one sees it, or the other way.
func wound(ring []drawing.Point, other bool) []drawing.Point {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += p.X*q.Y - q.X*p.Y
	}
	if (sum > 0) != other {
		return ring
	}
	ring = slices.Clone(ring)
	slices.Reverse(ring)
	return ring
}

// Arc implements drawing.Canvas.
func (c *Canvas) Arc(layer string, pen drawing.Pen, a drawing.Arc) {
	const within = 0.1 // px
	c.Stroke(layer, pen, [][]drawing.Point{a.Points(within)})
}

// begin clears the rasteriser for what lies between two corners, and returns
// where its first pixel is; false where that is nowhere.
func (c *Canvas) begin(lo, hi drawing.Point) (image.Point, bool) {
	const far = 64 // px: what is clipped to the picture reaches less far
	b := c.img.Rect
	if !(lo.X > -far && lo.Y > -far && hi.X < float64(b.Max.X+far) && hi.Y < float64(b.Max.Y+far)) {
		return image.Point{}, false
	}
	o := image.Pt(int(math.Floor(lo.X)), int(math.Floor(lo.Y)))
	c.cover.Reset(int(math.Ceil(hi.X))-o.X+1, int(math.Ceil(hi.Y))-o.Y+1)
	return o, true
}

func (c *Canvas) ring(o image.Point, ring ...drawing.Point) {
	x, y := float64(o.X), float64(o.Y)
	c.cover.MoveTo(float32(ring[0].X-x), float32(ring[0].Y-y))
	for _, p := range ring[1:] {
		c.cover.LineTo(float32(p.X-x), float32(p.Y-y))
	}
	c.cover.ClosePath()
}

// end lays ink where the rasteriser is covered.
func (c *Canvas) end(o image.Point, ink color.NRGBA) {
	size := c.cover.Bounds()
	if n := size.Dx() * size.Dy(); cap(c.mask.Pix) < n {
		c.mask.Pix = make([]uint8, n)
	}
	c.mask = image.Alpha{Pix: c.mask.Pix[:cap(c.mask.Pix)], Stride: size.Dx(), Rect: size}
	c.cover.DrawOp = draw.Src
	c.cover.Draw(&c.mask, size, image.Opaque, image.Point{})
	stamp(c.img, o, &c.mask, ink)
}

// stamp blends ink through a mask, whose first pixel comes to at.
func stamp(img *image.RGBA, at image.Point, mask *image.Alpha, ink color.NRGBA) {
	r := mask.Rect.Add(at).Intersect(img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		m := mask.Pix[mask.PixOffset(r.Min.X-at.X, y-at.Y):][:r.Dx()]
		d := img.Pix[img.PixOffset(r.Min.X, y):][:4*r.Dx()]
		for x := 0; x < len(m); x++ {
			if m[x] == 0 {
				for x+8 < len(m) && binary.NativeEndian.Uint64(m[x+1:]) == 0 { // most of it is
					x += 8
				}
				continue
			}
			a := uint32(m[x]) * uint32(ink.A) / 255
			px := d[4*x : 4*x+4 : 4*x+4]
			px[0] = uint8((uint32(px[0])*(255-a) + uint32(ink.R)*a + 127) / 255)
			px[1] = uint8((uint32(px[1])*(255-a) + uint32(ink.G)*a + 127) / 255)
			px[2] = uint8((uint32(px[2])*(255-a) + uint32(ink.B)*a + 127) / 255)
			px[3] = uint8((uint32(px[3])*(255-a) + 255*a + 127) / 255)
		}
	}
}

// Stroke implements drawing.Canvas.
func (c *Canvas) Stroke(_ string, pen drawing.Pen, lines [][]drawing.Point) {
	if len(pen.Dash) > 0 {
		lines = dashed(lines, pen.Dash)
	}
	half := pen.Width / 2
	lo, hi := corners(lines)
	out := 2*half + 1 // as far as the tip of a corner reaches
	o, ok := c.begin(drawing.Pt(lo.X-out, lo.Y-out), drawing.Pt(hi.X+out, hi.Y+out))
	if !ok {
		return
	}
	for _, l := range lines {
		c.thick(o, half, l)
	}
	c.end(o, pen.Ink)
}

// thick covers a line of that half width: a rectangle for each segment and a
// tip for each corner. All run the same way round, so that where they overlap
// they count as one.
func (c *Canvas) thick(o image.Point, half float64, l []drawing.Point) {
	var before drawing.Point // the normal of the last segment
	first := true
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		length := math.Hypot(dx, dy)
		if length < 1e-9 { // px
			continue
		}
		n := drawing.Pt(-dy/length*half, dx/length*half)
		c.ring(o, drawing.Pt(a.X+n.X, a.Y+n.Y), drawing.Pt(b.X+n.X, b.Y+n.Y), drawing.Pt(b.X-n.X, b.Y-n.Y), drawing.Pt(a.X-n.X, a.Y-n.Y))
		if !first {
			m, p, q := before, before, n
			if m.X*n.Y-m.Y*n.X > 0 { // it turns towards its normal: the gap is opposite
				p, q = drawing.Pt(-n.X, -n.Y), drawing.Pt(-m.X, -m.Y)
			}
			along := (p.X*q.X+p.Y*q.Y)/(half*half) + 1 // 1 + cosine of the turn
			if along > 0.6 {                           // a tip no farther out than 1.8 half widths
				c.ring(o, a, drawing.Pt(a.X+p.X, a.Y+p.Y), drawing.Pt(a.X+(p.X+q.X)/along, a.Y+(p.Y+q.Y)/along), drawing.Pt(a.X+q.X, a.Y+q.Y))
			} else {
				c.ring(o, a, drawing.Pt(a.X+p.X, a.Y+p.Y), drawing.Pt(a.X+q.X, a.Y+q.Y))
			}
		}
		before, first = n, false
	}
}

// dashed cuts lines into strokes, each line beginning with one.
func dashed(lines [][]drawing.Point, dash []float64) [][]drawing.Point {
	var out [][]drawing.Point
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		k, left, on := 0, dash[0], true
		run := []drawing.Point{l[0]}
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			length := math.Hypot(b.X-a.X, b.Y-a.Y)
			done := 0.0
			for length-done > left {
				done += left
				t := done / length
				p := drawing.Pt(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y))
				if on {
					out = append(out, append(run, p))
				}
				run = []drawing.Point{p}
				on = !on
				k = (k + 1) % len(dash)
				left = dash[k]
			}
			left -= length - done
			if on {
				run = append(run, b)
			}
		}
		if on && len(run) > 1 {
			out = append(out, run)
		}
	}
	return out
}
