// SPDX-License-Identifier: MIT

package scene

import "earline/geometry"

// The joint between two panels of a wall: a groove behind the plane of the wall, so that
// what is flush with it stays so. Our own taste.
const (
	grooveHalf = 0.007 // m, half its width
	grooveDeep = 0.009 // m

	sheetCell = 0.42 // m, of faces that are to be lit
)

// lining is a wall as it is lined: x along it, z up, d into the room.
type lining struct {
	at      func(x, z, d float64) geometry.Vec
	height  func(x float64, row int) float64   // of the rows between its bands
	colour  func(x float64, row, band int) RGB // of a band
	made    func(band int) Material
	grooves pen  // of the joints
	whole   bool // it has no joints: panels hang before it
}

// Bands of a lining, by the rows that bound them.
var liningBands = [...][2]int{{0, 1}, {1, 3}, {3, 4}, {4, 8}}

// panel draws a panel from x0 to x1 with half of the joint at each side that has one.
func (l *lining) panel(p pen, x0, x1 float64, left, right bool) {
	half := min(grooveHalf, (x1-x0)/8)
	if l.whole {
		left, right = false, false
	}
	a, b := x0, x1
	if left {
		a += half
	}
	if right {
		b -= half
	}
	for band, rows := range liningBands {
		low, high := rows[0], rows[1]
		if l.height((a+b)/2, high)-l.height((a+b)/2, low) < 1e-6 {
			continue
		}
		jointed := band != 0 && band != 2 // skirting and rail run through
		from, to := a, b
		if !jointed {
			from, to = x0, x1
		}
		c := l.colour((x0+x1)/2, low, low)
		p := p.of(l.made(low))
		at := func(x float64, row int, d float64) geometry.Vec { return l.at(x, l.height(x, row), d) }
		p.sheet(at(from, low, 0), at(from, high, 0), at(to, high, 0), at(to, low, 0), sheetCell, c)
		if !jointed {
			continue
		}
		groove := func(edge, middle float64, turned bool) {
			q := [4]geometry.Vec{at(edge, low, 0), at(edge, high, 0), at(middle, high, -grooveDeep), at(middle, low, -grooveDeep)}
			if turned {
				q[0], q[1], q[2], q[3] = q[3], q[2], q[1], q[0]
			}
			l.grooves.of(l.made(low)).sheet(q[0], q[1], q[2], q[3], sheetCell, c)
		}
		if left {
			groove(a, x0, true)
		}
		if right {
			groove(b, x1, false)
		}
	}
}
