// SPDX-License-Identifier: MIT

package scene

import (
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Sheet returns the box that a drawing of a room from lo to hi shows: the room, with
// as much beside it as its chains of dimensions take.
func Sheet(lo, hi geometry.Vec) (from, to geometry.Vec) {
	s := apart(lo, hi)
	return lo.Sub(geometry.Vec{X: 2.3 * s, Y: 2.3 * s, Z: 2.3 * s}), hi.Add(geometry.Vec{X: 0.7 * s, Y: 0.7 * s, Z: 0.7 * s})
}

// PlanUp returns what a plan that is aspect times as wide as high has at its top: the
// screen, or in a wide picture of a long room the right wall, with the screen at the
// left as in the long section. from and to are as of Sheet.
func PlanUp(from, to geometry.Vec, aspect float64) (up geometry.Vec) {
	size := to.Sub(from)
	upright, turned := max(size.X, size.Y/aspect), max(size.Y, size.X/aspect)
	const worth = 0.9 // people hold a plan with the screen at the top, unless turning gains something
	if turned < worth*upright {
		return geometry.Vec{Y: 1}
	}
	return geometry.Vec{X: -1}
}

// apart is the distance of chains of dimensions from the room and from each other,
// metres: on the screen some lines of text, however large the room.
func apart(lo, hi geometry.Vec) float64 {
	const least, share = 0.36, 0.042
	size := hi.Sub(lo)
	return max(least, share*max(size.X, size.Y))
}

// Chains returns the dimensions of the whole room that a drawing shows which has
// these axes: chains from the screen wall over screen and rows to the back wall, from
// the left wall over the picture to the right wall, and from the floor over the
// picture to the ceiling. Each is over a longer one of the whole, beside the room.
func Chains(d *project.Design, a Axes) []Dim {
	lo, hi := extent(d)
	s := apart(lo, hi)
	middle, half, high := d.Screen.Picture()
	var out []Dim
	chain := func(at func(step, along float64) geometry.Vec, ends [2]float64, between ...float64) {
		const least = 0.05 // m; less is not worth a dimension in a drawing of the whole
		stops := []float64{ends[0]}
		slices.Sort(between)
		for _, v := range between {
			if v > stops[len(stops)-1]+least && v < ends[1]-least {
				stops = append(stops, v)
			}
		}
		stops = append(stops, ends[1])
		line := func(step, from, to float64) {
			out = append(out, Dim{From: at(step, from), To: at(step, to), Text: unit.Length(to - from).Format(d.Units != project.Imperial)})
		}
		for i := range stops[1:] {
			line(s, stops[i], stops[i+1])
		}
		if len(stops) > 2 {
			line(2*s, ends[0], ends[1])
		}
	}
	if a.X {
		between := []float64{float64(d.Screen.Distance)}
		last := 0
		for _, seat := range place.Seats(d) {
			if seat.Row != last { // rows are told apart by their first seats' middles
				between = append(between, float64(d.Seating.Rows[seat.Row-1].Distance))
				last = seat.Row
			}
		}
		chain(func(step, x float64) geometry.Vec {
			if a.Z {
				return geometry.Vec{X: x, Y: hi.Y, Z: lo.Z - step} // on the far side, where no cut takes it away
			}
			return geometry.Vec{X: x, Y: lo.Y - step}
		}, [2]float64{lo.X, hi.X}, between...)
	}
	if a.Y {
		chain(func(step, y float64) geometry.Vec {
			if a.Z {
				return geometry.Vec{X: lo.X, Y: y, Z: lo.Z - step}
			}
			return geometry.Vec{X: lo.X - step, Y: y}
		}, [2]float64{lo.Y, hi.Y}, middle.Sub(half).Y, middle.Add(half).Y)
	}
	if a.Z {
		ceiling := d.Room.CeilingAt(middle.X, middle.Y)
		chain(func(step, z float64) geometry.Vec {
			if a.X {
				return geometry.Vec{X: lo.X - step, Y: hi.Y, Z: z}
			}
			return geometry.Vec{X: lo.X, Y: lo.Y - step, Z: z}
		}, [2]float64{0, ceiling}, middle.Sub(high).Z, middle.Add(high).Z)
	}
	return out
}
