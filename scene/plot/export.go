// SPDX-License-Identifier: MIT

package plot

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// dots makes a point of gonum's a pixel.
const dots = 72

// raster is gonum's raster canvas, but for text: gonum's resamples each glyph,
// which blurs small type.
type raster struct {
	*vgimg.Canvas
	img   *image.RGBA
	ink   color.Color
	faces map[font.Length]xfont.Face
}

// SetColor implements vg.Canvas.
func (r *raster) SetColor(c color.Color) {
	r.ink = c
	r.Canvas.SetColor(c)
}

// FillString implements vg.Canvas.
func (r *raster) FillString(f font.Face, at vg.Point, text string) {
	face, ok := r.faces[f.Font.Size]
	if !ok {
		var err error
		face, err = opentype.NewFace(f.Face, &opentype.FaceOptions{Size: f.Font.Size.Points(), DPI: dots})
		if err != nil { // it has been measured with
			return
		}
		r.faces[f.Font.Size] = face
	}
	d := xfont.Drawer{Dst: r.img, Src: image.NewUniform(r.ink), Face: face, Dot: fixed.Point26_6{
		X: fixed.Int26_6(math.Round(float64(at.X) * 64)),
		Y: fixed.I(r.img.Rect.Dy() - int(math.Round(float64(at.Y)))),
	}}
	d.DrawString(text)
}

// Image draws d as a picture of the paper's size.
func (d *Drawing) Image() *image.RGBA {
	c := vgimg.NewWith(
		vgimg.UseWH(vg.Length(d.paper.W), vg.Length(d.paper.H)),
		vgimg.UseDPI(dots),
		vgimg.UseBackgroundColor(d.paper.Style.Back))
	r := &raster{c, c.Image().(*image.RGBA), color.Black, map[font.Length]xfont.Face{}}
	d.draw(r)
	return r.img
}

// PNG writes d as a picture.
func (d *Drawing) PNG(out io.Writer) error { return png.Encode(out, d.Image()) }

// SVG writes d as a vector picture, a pixel of the paper being a point of it. The
// type is named, not contained: Liberation Sans, or what is as wide.
func (d *Drawing) SVG(out io.Writer) error {
	c := vgsvg.New(vg.Length(d.paper.W), vg.Length(d.paper.H))
	d.draw(c)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return fmt.Errorf("SVG: %w", err)
	}
	// gonum names one family only, and a viewer without it falls back to serifs.
	const named = "font-family:Liberation Sans;"
	_, err := out.Write(bytes.ReplaceAll(b.Bytes(), []byte(named),
		[]byte("font-family:'Liberation Sans',Arial,Helvetica,sans-serif;")))
	return err
}
