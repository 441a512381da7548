// SPDX-License-Identifier: MIT

package plot

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// raster is a picture that is drawn on. Shapes are covered by x/image's
// rasteriser within the rectangle that they take up; lines are turned into
// shapes here.
type raster struct {
	img    *image.RGBA
	cover  vector.Rasterizer
	mask   image.Alpha
	letter *typeface
	faces  [2][2]font.Face // by size and font
	glyphs map[glyphKey]glyph
}

type glyphKey struct {
	r    rune
	big  bool
	part uint8 // quarters of a pixel to the right
}

type glyph struct {
	mask *image.Alpha
	off  image.Point
}

func newRaster(w, h int, t *typeface) *raster {
	return &raster{img: image.NewRGBA(image.Rect(0, 0, w, h)), letter: t, glyphs: map[glyphKey]glyph{}}
}

var _ canvas = (*raster)(nil)

// whole returns the rectangle of r where its edges are those of pixels.
func whole(ring []point) (image.Rectangle, bool) {
	if len(ring) != 4 || ring[0].y != ring[1].y || ring[1].x != ring[2].x || ring[2].y != ring[3].y || ring[3].x != ring[0].x {
		return image.Rectangle{}, false
	}
	for _, p := range ring {
		if p.x != math.Floor(p.x) || p.y != math.Floor(p.y) {
			return image.Rectangle{}, false
		}
	}
	return image.Rect(int(ring[0].x), int(ring[0].y), int(ring[2].x), int(ring[2].y)), true
}

func (r *raster) fill(ink color.NRGBA, ring []point) {
	if len(ring) < 3 {
		return
	}
	if q, ok := whole(ring); ok {
		q = q.Intersect(r.img.Rect)
		draw.Draw(r.img, q, image.NewUniform(ink), image.Point{}, draw.Over)
		return
	}
	lo, hi := ring[0], ring[0]
	for _, p := range ring {
		lo, hi = at(min(lo.x, p.x), min(lo.y, p.y)), at(max(hi.x, p.x), max(hi.y, p.y))
	}
	o, ok := r.begin(lo, hi)
	if !ok {
		return
	}
	r.ring(o, ring...)
	r.end(o, ink)
}

// begin clears the rasteriser for what lies between two corners, and returns
// where its first pixel is; false where that is nowhere.
func (r *raster) begin(lo, hi point) (image.Point, bool) {
	const far = 64 // px beyond the picture, more than any line is wide
	b := r.img.Rect
	if !(lo.x > -far && lo.y > -far && hi.x < float64(b.Max.X+far) && hi.y < float64(b.Max.Y+far)) {
		return image.Point{}, false
	}
	o := image.Pt(int(math.Floor(lo.x)), int(math.Floor(lo.y)))
	r.cover.Reset(int(math.Ceil(hi.x))-o.X+1, int(math.Ceil(hi.y))-o.Y+1)
	return o, true
}

func (r *raster) ring(o image.Point, ring ...point) {
	x, y := float64(o.X), float64(o.Y)
	r.cover.MoveTo(float32(ring[0].x-x), float32(ring[0].y-y))
	for _, p := range ring[1:] {
		r.cover.LineTo(float32(p.x-x), float32(p.y-y))
	}
	r.cover.ClosePath()
}

// end lays ink where the rasteriser is covered.
func (r *raster) end(o image.Point, ink color.NRGBA) {
	size := r.cover.Bounds()
	if n := size.Dx() * size.Dy(); cap(r.mask.Pix) < n {
		r.mask.Pix = make([]uint8, n)
	}
	r.mask = image.Alpha{Pix: r.mask.Pix[:cap(r.mask.Pix)], Stride: size.Dx(), Rect: size}
	r.cover.DrawOp = draw.Src
	r.cover.Draw(&r.mask, size, image.Opaque, image.Point{})
	stamp(r.img, o, &r.mask, ink)
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

func (r *raster) stroke(ink color.NRGBA, wide float64, dash []float64, lines [][]point) {
	if len(dash) > 0 {
		lines = dashed(lines, dash)
	}
	half := wide / 2
	lo, hi := at(math.Inf(1), math.Inf(1)), at(math.Inf(-1), math.Inf(-1))
	for _, l := range lines {
		for _, p := range l {
			lo, hi = at(min(lo.x, p.x), min(lo.y, p.y)), at(max(hi.x, p.x), max(hi.y, p.y))
		}
	}
	out := 2*half + 1 // as far as the tip of a corner reaches
	o, ok := r.begin(at(lo.x-out, lo.y-out), at(hi.x+out, hi.y+out))
	if !ok {
		return
	}
	for _, l := range lines {
		r.thick(o, half, l)
	}
	r.end(o, ink)
}

// thick covers a line of that half width: a rectangle for each segment and a
// tip for each corner. All run the same way round, so that where they overlap
// they count as one.
func (r *raster) thick(o image.Point, half float64, l []point) {
	var before point // the normal of the last segment
	first := true
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		dx, dy := b.x-a.x, b.y-a.y
		length := math.Hypot(dx, dy)
		if length < 1e-9 { // px
			continue
		}
		n := at(-dy/length*half, dx/length*half)
		r.ring(o, at(a.x+n.x, a.y+n.y), at(b.x+n.x, b.y+n.y), at(b.x-n.x, b.y-n.y), at(a.x-n.x, a.y-n.y))
		if !first {
			m, p, q := before, before, n
			if m.x*n.y-m.y*n.x > 0 { // it turns towards its normal: the gap is opposite
				p, q = at(-n.x, -n.y), at(-m.x, -m.y)
			}
			along := (p.x*q.x+p.y*q.y)/(half*half) + 1 // 1 + cosine of the turn
			if along > 0.6 {                           // a tip no farther out than 1.8 half widths
				r.ring(o, a, at(a.x+p.x, a.y+p.y), at(a.x+(p.x+q.x)/along, a.y+(p.y+q.y)/along), at(a.x+q.x, a.y+q.y))
			} else {
				r.ring(o, a, at(a.x+p.x, a.y+p.y), at(a.x+q.x, a.y+q.y))
			}
		}
		before, first = n, false
	}
}

// dashed cuts lines into strokes, each line beginning with one.
func dashed(lines [][]point, dash []float64) [][]point {
	var out [][]point
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		k, left, on := 0, dash[0], true
		run := []point{l[0]}
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			length := math.Hypot(b.x-a.x, b.y-a.y)
			done := 0.0
			for length-done > left {
				done += left
				t := done / length
				p := at(a.x+t*(b.x-a.x), a.y+t*(b.y-a.y))
				if on {
					out = append(out, append(run, p))
				}
				run = []point{p}
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

func (r *raster) text(ink color.NRGBA, l label) {
	size := 0
	if l.big {
		size = 1
	}
	x, y := l.x, int(math.Round(l.y))
	for _, c := range l.text {
		m := r.letter.measure(c)
		face := r.faces[size][m.font]
		if face == nil {
			var err error
			face, err = opentype.NewFace(r.letter.fonts[m.font], &opentype.FaceOptions{Size: r.letter.size(l.big), DPI: 72})
			if err != nil { // it has been measured with
				return
			}
			r.faces[size][m.font] = face
		}
		q := math.Round(x * 4)
		ix := int(math.Floor(q / 4))
		g := r.glyph(face, glyphKey{c, l.big, uint8(q - 4*float64(ix))})
		if g.mask != nil {
			stamp(r.img, g.off.Add(image.Pt(ix, y)), g.mask, ink)
		}
		x += m.wide * r.letter.size(l.big)
	}
}

func (r *raster) glyph(f font.Face, key glyphKey) glyph {
	if g, ok := r.glyphs[key]; ok {
		return g
	}
	var g glyph
	dr, mask, from, _, ok := f.Glyph(fixed.Point26_6{X: fixed.Int26_6(key.part) * 16}, key.r)
	if ok && !dr.Empty() {
		g = glyph{image.NewAlpha(image.Rect(0, 0, dr.Dx(), dr.Dy())), dr.Min}
		draw.Draw(g.mask, g.mask.Rect, mask, from, draw.Src)
	}
	r.glyphs[key] = g
	return g
}
