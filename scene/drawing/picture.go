// SPDX-License-Identifier: MIT

package drawing

import (
	"image"
	"image/color"
)

// Picture is a still on the paper. Canvases that keep pictures show it, others the
// frame that it would fill.
type Picture struct {
	Layer string
	Box   Box
	Image image.Image // not changed while it is drawn
}

// PictureCanvas is a Canvas that keeps pictures.
type PictureCanvas interface {
	Canvas
	// Picture shows an image in a box, whatever the proportions of either.
	Picture(layer string, at Box, img image.Image)
}

// Picture implements PictureCanvas.
func (m *Marks) Picture(layer string, at Box, img image.Image) { m.Add(Picture{layer, at, img}) }

func (k Picture) draw(c Canvas, p pose, _ *Typeface) {
	a, b := p.point(Pt(k.Box.X0, k.Box.Y0)), p.point(Pt(k.Box.X1, k.Box.Y1))
	at := Rect(min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y))
	show(c, p.on(k.Layer), at, k.Image)
}

// show shows a picture on c, or the frame that it would fill.
func show(c Canvas, layer string, at Box, img image.Image) {
	if on, ok := c.(PictureCanvas); ok {
		on.Picture(layer, at, img)
		return
	}
	c.Stroke(layer, Pen{Ink: color.NRGBA{128, 128, 128, 255}, Width: 0.18}, [][]Point{{{at.X0, at.Y0}, {at.X1, at.Y0}, {at.X1, at.Y1}, {at.X0, at.Y1}, {at.X0, at.Y0}}})
}

// Picture implements PictureCanvas.
func (s *placed) Picture(layer string, at Box, img image.Image) {
	a, b := s.point(Pt(at.X0, at.Y0)), s.point(Pt(at.X1, at.Y1))
	show(s.canvas, layer, Rect(a.X, a.Y, b.X, b.Y), img)
}
