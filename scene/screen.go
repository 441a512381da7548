// SPDX-License-Identifier: MIT

package scene

import "earline/geometry"

// screen draws the screen in its velvet border, with a picture on it.
func (s *painter) screen() {
	c, right, up := s.d.Screen.Picture()
	w, h := right.Y, up.Z
	if !(w > 0 && h > 0) {
		return
	}
	frame := &Mesh{Name: "screen", OneSided: true}
	p := frame.pen().of(Cloth)
	border := float64(s.d.Screen.Border)
	// The border stands a little before the picture, bevelled towards it.
	const thick, proud = 0.02, 0.012
	at := func(x, y, z float64) geometry.Vec { return geometry.Vec{X: c.X + x, Y: c.Y + y, Z: c.Z + z} }
	ring := func(x0, w0, h0, x1, w1, h1 float64, col RGB) {
		p.plain(at(x0, -w0, -h0), at(x0, w0, -h0), at(x1, w1, -h1), at(x1, -w1, -h1), col)
		p.plain(at(x0, w0, h0), at(x0, -w0, h0), at(x1, -w1, h1), at(x1, w1, h1), col)
		p.plain(at(x0, -w0, h0), at(x0, -w0, -h0), at(x1, -w1, -h1), at(x1, -w1, h1), col)
		p.plain(at(x0, w0, -h0), at(x0, w0, h0), at(x1, w1, h1), at(x1, w1, -h1), col)
	}
	ow, oh := w+border, h+border
	if border > 0.005 {
		lip := min(0.02, border/2)
		ring(-thick, ow, oh, proud-0.004, ow, oh, velvet)
		ring(proud-0.004, ow, oh, proud, ow-0.004, oh-0.004, velvet.times(1.8))
		ring(proud, ow-0.004, oh-0.004, proud, w+lip, h+lip, velvet)
		ring(proud, w+lip, h+lip, 0, w, h, velvet.times(0.6))
	} else {
		ring(-thick, w, h, 0, w, h, velvet)
	}
	p.plain(at(-thick, ow, -oh), at(-thick, -ow, -oh), at(-thick, -ow, oh), at(-thick, ow, oh), velvet)
	// The boxes that masks move out of, with a lip towards the picture.
	for _, b := range s.d.MaskingBoxes() {
		p.to(b.Center, b.Basis).crate(b.Half, velvet.times(1.4))
	}
	s.add(frame)

	s.projected(c, w, h)
	if s.o.Bare {
		canvas := &Mesh{Name: "canvas", OneSided: true, Shines: Canvas}
		canvas.pen().sheet(at(0, -w, -h), at(0, w, -h), at(0, w, h), at(0, -w, h), sheetCell, s.canvas())
		s.add(canvas)
	}
}
