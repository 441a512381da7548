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
