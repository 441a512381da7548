// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Platform returns the platform of row i (from 0): a box from wall to wall of the
// rectangle around the room, or between the sides that the row gives it. What of it
// lies beyond the walls of a room of another shape is not there: nothing in the room
// sees it, and Floor, the shell and the picture end at the walls. ok is false for a
// row on the room's floor.
func Platform(d *project.Design, i int) (geometry.Box, bool) {
	r := d.Seating.Rows[i]
	if r.Riser <= 0 || r.Front+r.Back <= 0 {
		return geometry.Box{}, false
	}
	lo, hi := d.Room.Polygon().Bounds()
	front := math.Max(float64(r.Distance-r.Front), lo.X)
	back := math.Min(float64(r.Distance+r.Back), hi.X)
	left, right := lo.Y, hi.Y
	if r.Left > 0 {
		left = math.Max(left, float64(r.Left))
	}
	if r.Right > 0 {
		right = math.Min(right, float64(r.Right))
	}
	if back <= front || right <= left {
		return geometry.Box{}, false
	}
	return geometry.Box{
		Center: geometry.Vec{X: (front + back) / 2, Y: (left + right) / 2, Z: float64(r.Riser) / 2},
		Basis:  geometry.WorldBasis(),
		Half:   geometry.Vec{X: (back - front) / 2, Y: (right - left) / 2, Z: float64(r.Riser) / 2},
	}, true
}

// Flight is a flight of steps in its place.
type Flight struct {
	Row   int // whose platform it leads up to, from 0
	Index int // of the row's Steps
	// Base is the height on which it stands, Rise how much each step rises, metres,
	// Risers how many there are: one more than Boxes.
	Base, Rise float64
	Risers     int
	// Boxes are its steps from the lowest, each down to the room's floor.
	Boxes []geometry.Box
}

// Flights returns the flights of steps up to the platform of row i.
func Flights(d *project.Design, i int) []Flight {
	box, ok := Platform(d, i)
	if !ok || len(d.Seating.Rows[i].Steps) == 0 {
		return nil
	}
	var out []Flight
	for k, st := range d.Seating.Rows[i].Steps {
		// Out of the platform, and along its side.
		var dir, along geometry.Vec
		edge := box.Center
		switch st.Side {
		case project.FrontSide:
			dir, along = geometry.Vec{X: -1}, geometry.Vec{Y: 1}
			edge.X, edge.Y = box.Center.X-box.Half.X, float64(st.At)
		case project.BackSide:
			dir, along = geometry.Vec{X: 1}, geometry.Vec{Y: 1}
			edge.X, edge.Y = box.Center.X+box.Half.X, float64(st.At)
		case project.LeftSide:
			dir, along = geometry.Vec{Y: -1}, geometry.Vec{X: 1}
			edge.X, edge.Y = float64(st.At), box.Center.Y-box.Half.Y
		case project.RightSide:
			dir, along = geometry.Vec{Y: 1}, geometry.Vec{X: 1}
			edge.X, edge.Y = float64(st.At), box.Center.Y+box.Half.Y
		default:
			continue
		}
		const in = 0.05 // m beside the edge, as the level there is measured
		const hair = 1e-4
		f := Flight{Row: i, Index: k}
		foot := edge.Add(dir.Mul(in))
		for j := range d.Seating.Rows {
			if b, ok := Platform(d, j); ok && j != i && 2*b.Half.Z < 2*box.Half.Z && covers(&b, foot.X, foot.Y) {
				f.Base = max(f.Base, 2*b.Half.Z)
			}
		}
		up, tread := 2*box.Half.Z-f.Base, float64(st.Tread)
		// A tenth of a millimetre more is not another step.
		f.Risers = int(min(max(math.Ceil((up-hair)/float64(st.Rise)), 1), 1000))
		f.Rise = up / float64(f.Risers)
		for n := 1; n < f.Risers; n++ {
			top := f.Base + float64(n)*f.Rise
			middle := edge.Add(dir.Mul(tread * (float64(f.Risers-n) - 0.5)))
			middle.Z = top / 2
			half := dir.Mul(tread / 2).Add(along.Mul(float64(st.Width) / 2))
			f.Boxes = append(f.Boxes, geometry.Box{Center: middle, Basis: geometry.WorldBasis(),
				Half: geometry.Vec{X: math.Abs(half.X), Y: math.Abs(half.Y), Z: top / 2}})
		}
		out = append(out, f)
	}
	return out
}

// Floor is the platforms that stand on the room's floor, row by row, each followed
// by its steps.
type Floor []geometry.Box

// FloorOf returns the floor of d.
func FloorOf(d *project.Design) Floor {
	var f Floor
	for i := range d.Seating.Rows {
		if b, ok := Platform(d, i); ok {
			f = append(f, b)
		}
		for _, fl := range Flights(d, i) {
			f = append(f, fl.Boxes...)
		}
	}
	return f
}

// At returns how high one stands at (x, y), metres: on the room's floor, 0, or on the
// highest platform or step there. Their edges belong to them.
func (f Floor) At(x, y float64) float64 {
	z := 0.0
	for i := range f {
		if b := &f[i]; covers(b, x, y) {
			z = max(z, b.Center.Z+b.Half.Z)
		}
	}
	return z
}

// covers reports whether (x, y) is under or on b, which lies along the axes.
func covers(b *geometry.Box, x, y float64) bool {
	const hair = 1e-9 // m: a wall is where the middle and half the width put it, to rounding
	return x >= b.Center.X-b.Half.X && x <= b.Center.X+b.Half.X &&
		y >= b.Center.Y-b.Half.Y-hair && y <= b.Center.Y+b.Half.Y+hair
}
