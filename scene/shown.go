// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/picture"
)

// shown is the picture that is on the screen.
type shown struct {
	Frame picture.Frame
	// Bright is its luminance as a share of that of the brightest shape.
	Bright float64
}

// shownOf returns the picture of d in a shape, an index in picture.Result.Shapes; one that
// there is not shows the first.
func shownOf(d *project.Design, shape int) shown {
	r := picture.Optics(d)
	if shape < 0 || shape >= len(r.Shapes) {
		shape = 0
	}
	most, k := 0.0, r.Chosen()
	for i := range r.Shapes {
		most = max(most, r.Shapes[i].Fills[k].Aged)
	}
	out := shown{r.Shapes[shape].Picture, 1}
	if most > 0 { // there is a projector
		out.Bright = r.Shapes[shape].Fills[k].Aged / most
	}
	return out
}

// projected draws the picture that is on the screen, and over what it leaves of the
// frame masks, or bare cloth where nothing moves there. The frame reaches h and w from the middle c.
func (s *painter) projected(c geometry.Vec, w, h float64) {
	f := s.image.Frame
	if !(f.Width > 0 && f.Height > 0) {
		return
	}
	at := geometry.Vec{X: c.X, Y: f.Across, Z: f.Middle}
	m := &Mesh{Name: "picture", Unlit: true, OneSided: true, Shines: Picture}
	sampleImage(m.pen().to(at, geometry.Basis{U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1}, W: geometry.Vec{X: 1}}), f.Width/2, f.Height/2)
	if s.image.Bright < 1 {
		const display = 2.2 // about the power by which displays make light of colours
		by := float32(math.Pow(s.image.Bright, 1/display))
		for i := range m.Col {
			m.Col[i] *= by
		}
	}
	s.add(m)

	const before, seen = 0.006, 0.001 // m: of the masks before the picture; of a border
	masks := &Mesh{Name: "masks", OneSided: true}
	p := masks.pen().of(Cloth)
	moves := s.d.Picture.Masking
	black, bare := velvet.times(0.8), RGB{0.50, 0.50, 0.51}
	mask := func(masked bool, y0, y1, z0, z1 float64) {
		if y1-y0 > seen && z1-z0 > seen {
			x, ink := c.X+before, bare
			if masked || moves == "" { // not said: as it should be
				ink = black
			}
			p.plain(geometry.Vec{X: x, Y: y0, Z: z0}, geometry.Vec{X: x, Y: y1, Z: z0}, geometry.Vec{X: x, Y: y1, Z: z1}, geometry.Vec{X: x, Y: y0, Z: z1}, ink)
		}
	}
	left, right, foot, top := max(at.Y-f.Width/2, c.Y-w), min(at.Y+f.Width/2, c.Y+w), max(at.Z-f.Height/2, c.Z-h), min(at.Z+f.Height/2, c.Z+h)
	mask(moves.MovesSides(), c.Y-w, left, c.Z-h, c.Z+h)
	mask(moves.MovesSides(), right, c.Y+w, c.Z-h, c.Z+h)
	mask(moves.MovesTopBottom(), left, right, c.Z-h, foot)
	mask(moves.MovesTopBottom(), left, right, top, c.Z+h)
	s.add(masks)
}
