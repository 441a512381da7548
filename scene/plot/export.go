// SPDX-License-Identifier: MIT

package plot

import (
	"fmt"
	"image"
	"image/png"
	"io"

	"golang.org/x/image/font/opentype"
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

// The kinds of file that a chart can be kept as.
const (
	PNG = "png"
	SVG = "svg"
	CSV = "csv"
)

// Kept charts are for paper, and large enough for half a page: 900 by 500 points,
// twice as many pixels.
const (
	paperWidth  = 900
	paperHeight = 500
	paperScale  = 2
)

// Write writes c, with its title and note, as a file of that kind; font as in
// Style.
func (c *Chart) Write(out io.Writer, kind string, font *opentype.Font) error {
	s := Light()
	s.Font = font
	switch kind {
	case PNG:
		return c.Lay(Paper{W: paperWidth * paperScale, H: paperHeight * paperScale, Scale: paperScale, Style: s}).PNG(out)
	case SVG:
		return c.Lay(Paper{W: paperWidth, H: paperHeight, Scale: 1, Style: s}).SVG(out)
	case CSV:
		return c.CSV(out)
	}
	return fmt.Errorf("plot: found kind %q; allowed is %s, %s or %s", kind, PNG, SVG, CSV)
}
