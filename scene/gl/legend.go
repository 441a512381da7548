// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"image/draw"
	"math"
	"slices"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"earline/scene"
)

// drawLegend draws the legend over img, where there is room for it. It comes before the
// labels, which keep off it.
func (p *plates) drawLegend(img *image.RGBA, keys []scene.Key, scale float32) {
	p.corner = image.Rectangle{}
	l := p.legend(keys, scale)
	if l == nil {
		return
	}
	if at, ok := legendAt(img.Rect, l.Rect.Size(), scale); ok {
		draw.Draw(img, at, l, image.Point{}, draw.Over)
		p.corner = at
	}
}

// legendAt returns where the legend of that size lies: in the lower left corner; false
// where the picture is too small for one.
func legendAt(picture image.Rectangle, size image.Point, scale float32) (image.Rectangle, bool) {
	gap := int(math.Round(8 * float64(scale)))
	at := image.Rectangle{Max: size}.Add(image.Pt(picture.Min.X+gap, picture.Max.Y-gap-size.Y))
	return at, at.Add(image.Pt(gap, 0)).In(picture) && 3*size.X < picture.Dx()
}

// legend returns the plate that says what the paths in the picture mean; nil for none.
// It is drawn anew only when it changes.
func (p *plates) legend(keys []scene.Key, scale float32) *image.RGBA {
	if len(keys) == 0 {
		return nil
	}
	scale = min(max(scale, 0.5), 8)
	if p.keys != nil && slices.Equal(p.keyed, keys) && p.keyScale == scale {
		return p.keys
	}
	const (
		sample = 34 // points: the piece of a path before the words
		gap    = 6
	)
	s := float64(scale)
	px := func(points float64) int { return int(math.Round(points * s)) }
	face := p.face(faceKey{false, scale})
	m := face.Metrics()
	line := m.Ascent.Ceil() + m.Descent.Ceil() + px(3)
	wide := 0
	for _, k := range keys {
		wide = max(wide, font.MeasureString(face, words(k)).Ceil())
	}
	img := image.NewRGBA(image.Rect(0, 0, px(2*gap+sample)+wide+px(gap), len(keys)*line+px(gap)))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
			d := roundBox(float64(x)+0.5-w/2, float64(y)+0.5-h/2, w/2, h/2, radius*s)
			img.Set(x, y, paint(keys[0].Under, clamp(0.5-d)))
		}
	}
	for i, k := range keys {
		top := px(gap)/2 + i*line
		stroke(img, image.Rect(px(gap), top, px(gap+sample), top+line), k, s)
		d := font.Drawer{Dst: img, Src: image.NewUniform(paint(k.Over, 1)), Face: face,
			Dot: fixed.P(px(2*gap+sample), top+px(1.5)+m.Ascent.Ceil())}
		d.DrawString(words(k))
	}
	p.keys, p.keyed, p.keyScale = img, keys, scale
	return img
}

func words(k scene.Key) string { return k.Letter + "  " + k.Text }

// stroke draws a piece of the path of k along the middle of box.
func stroke(img *image.RGBA, box image.Rectangle, k scene.Key, scale float64) {
	mid := (box.Min.Y + box.Max.Y) / 2
	bar := func(x0, x1 int, high float64, c scene.RGB) {
		h := max(int(math.Round(high*scale)), 1)
		r := image.Rect(x0, mid-h/2, x1, mid-h/2+h)
		draw.Draw(img, r, image.NewUniform(paint(c, 1)), image.Point{}, draw.Src)
	}
	switch k.Line {
	case scene.Cased:
		bar(box.Min.X, box.Max.X, 6, k.Ray)
		bar(box.Min.X, box.Max.X, 2, k.Gap)
	case scene.Broken:
		dash := max(int(math.Round(5*scale)), 2)
		for i, x := 0, box.Min.X; x < box.Max.X; i, x = i+1, x+dash {
			c := k.Ray
			if i%2 == 1 {
				c = k.Gap
			}
			bar(x, min(x+dash, box.Max.X), 2, c)
		}
	default:
		bar(box.Min.X, box.Max.X, 1, k.Ray)
	}
}
