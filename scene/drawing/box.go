// SPDX-License-Identifier: MIT

package drawing

// Point is a place on a canvas, in its units, y down.
type Point struct{ X, Y float64 }

// Pt returns the point (x, y).
func Pt(x, y float64) Point { return Point{x, y} }

// Box is a rectangle along the axes, from (X0, Y0) to (X1, Y1).
type Box struct{ X0, Y0, X1, Y1 float64 }

// Rect returns the box from (x0, y0) to (x1, y1).
func Rect(x0, y0, x1, y1 float64) Box { return Box{x0, y0, x1, y1} }

// Dx returns the width of b.
func (b Box) Dx() float64 { return b.X1 - b.X0 }

// Dy returns the height of b.
func (b Box) Dy() float64 { return b.Y1 - b.Y0 }

// Meet returns the part of b inside c, and whether there is any; it may have no
// height.
func (b Box) Meet(c Box) (Box, bool) {
	m := Box{max(b.X0, c.X0), max(b.Y0, c.Y0), min(b.X1, c.X1), min(b.Y1, c.Y1)}
	return m, m.X1 > m.X0 && m.Y1 >= m.Y0
}
