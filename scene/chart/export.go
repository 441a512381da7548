// SPDX-License-Identifier: MIT

package chart

import (
	"fmt"
	"image"
	"image/png"
	"io"

	"golang.org/x/image/font/opentype"

	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
	"earline/scene/drawing/raster"
	"earline/scene/drawing/svg"
)

// Image draws d as a picture of the paper's size.
func (d *Layout) Image() *image.RGBA {
	c := raster.New(d.paper.W, d.paper.H, d.typeface)
	d.draw(c)
	return c.Image()
}

// Marked returns a copy of a picture of d in which one series stands out: it is
// drawn again, heavier and over all others, so that one quiet line can be told from
// its neighbours.
func (d *Layout) Marked(picture *image.RGBA, series int) *image.RGBA {
	marked := image.NewRGBA(picture.Rect)
	copy(marked.Pix, picture.Pix)
	if d.tooSmall || series < 0 || series >= len(d.chart.Series) {
		return marked
	}
	s, l := d.chart.Series[series], d.styles[series]
	if s.Kind == Line || s.Kind == Steps {
		ink := l.color(&d.paper.Style)
		if s.Quiet {
			ink = d.paper.Style.Ink
		}
		b := drawing.OnPixels(raster.On(marked, d.typeface), d.k)
		d.drawLine(b, &s, d.paper.Style.Field, 4*d.k, Solid) // a moat sets it off from the others
		d.drawLine(b, &s, ink, 2*d.k, l.dash)
	}
	return marked
}

// PNG writes d as a picture.
func (d *Layout) PNG(out io.Writer) error { return png.Encode(out, d.Image()) }

// SVG writes d as an SVG document of as many user units as the paper has pixels.
func (d *Layout) SVG(out io.Writer) error {
	c := svg.New(svg.Page{Width: float64(d.paper.W), Height: float64(d.paper.H), Title: d.chart.Title, Typeface: d.typeface})
	d.draw(c)
	_, err := out.Write(c.Close())
	return err
}

// PDF writes d as a PDF document of one page, with a point for each pixel of the paper.
// What is not in the typeface is "?" in it.
func (d *Layout) PDF(out io.Writer) error {
	const point = 25.4 / 72 // mm
	c := pdf.New(pdf.Info{Title: d.chart.Title}, d.typeface)
	c.Page(float64(d.paper.W)*point, float64(d.paper.H)*point, "")
	d.draw(drawing.Scaled(c, point))
	doc, err := c.Close()
	if err != nil {
		return err
	}
	_, err = out.Write(doc)
	return err
}

// The kinds of file that Write writes.
const (
	PNG = "png"
	SVG = "svg"
	PDF = "pdf"
	CSV = "csv"
)

// Write is for print: 900 by 500 points fill half a page, with two pixels to the
// point.
const (
	paperWidth  = 900
	paperHeight = 500
	paperScale  = 2
)

// Write writes c, with its title and note, as a file of that kind; font is as in
// Style. The error says what kinds there are.
func (c *Chart) Write(out io.Writer, kind string, font *opentype.Font) error {
	s := Light()
	s.Font = font
	switch kind {
	case PNG:
		return c.Layout(Paper{W: paperWidth * paperScale, H: paperHeight * paperScale, Scale: paperScale, Style: s}).PNG(out)
	case SVG:
		return c.Layout(Paper{W: paperWidth, H: paperHeight, Scale: 1, Style: s}).SVG(out)
	case PDF:
		return c.Layout(Paper{W: paperWidth, H: paperHeight, Scale: 1, Style: s}).PDF(out)
	case CSV:
		return c.CSV(out)
	}
	return fmt.Errorf("chart: found kind %q; allowed is %s, %s, %s or %s", kind, PNG, SVG, PDF, CSV)
}
