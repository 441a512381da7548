// SPDX-License-Identifier: MIT

package plot

import (
	"image"
	"image/png"
	"io"
)

// Image draws d as a picture of the paper's size.
func (d *Drawing) Image() *image.RGBA {
	r := newRaster(d.paper.W, d.paper.H, d.letters)
	d.draw(r)
	return r.img
}

// Marked returns a copy of a picture of d in which one series stands out: drawn
// again, heavier and over all others. It is how one quiet line is told from its
// neighbours.
func (d *Drawing) Marked(picture *image.RGBA, series int) *image.RGBA {
	r := newRaster(0, 0, d.letters)
	r.img = image.NewRGBA(picture.Rect)
	copy(r.img.Pix, picture.Pix)
	if d.empty || series < 0 || series >= len(d.chart.Series) {
		return r.img
	}
	s, l := d.chart.Series[series], d.looks[series]
	if s.Kind == Line || s.Kind == Steps {
		ink := l.color(&d.paper.Style)
		if s.Quiet {
			ink = d.paper.Style.Ink
		}
		b := &brush{r, d.k}
		d.strokes(b, &s, d.paper.Style.Field, 4*d.k, Solid) // a moat, so that it is seen among many
		d.strokes(b, &s, ink, 2*d.k, l.dash)
	}
	return r.img
}

// PNG writes d as a picture.
func (d *Drawing) PNG(out io.Writer) error { return png.Encode(out, d.Image()) }

// SVG writes d as a vector picture, of as many user units as the paper has
// pixels. The type is named, not contained, with common ones that may stand in.
func (d *Drawing) SVG(out io.Writer) error {
	v := newVectors(d.paper.W, d.paper.H, d.chart.Title, d.letters)
	d.draw(v)
	_, err := out.Write(v.close())
	return err
}
