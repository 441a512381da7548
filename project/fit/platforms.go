// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// platforms looks at what rows give of their platforms: sides beyond the room,
// chairs beside them, steps that fit nowhere.
func (f *finder) platforms() {
	chairs := make([][]rectangle, len(f.d.Seating.Rows))
	for _, s := range place.Seats(f.d) {
		chairs[s.Row-1] = append(chairs[s.Row-1], chairFloor(s))
	}
	for i, r := range f.d.Seating.Rows {
		field, where := fmt.Sprintf("seating.rows[%d].", i), fmt.Sprintf("row %d", i+1)
		box, ok := place.Platform(f.d, i)
		if !ok {
			if r.Riser > 0 && (r.Left > 0 || r.Right > 0) {
				f.add(field+"platform_from_left_m", where, "has no platform: nothing of it is in the room")
			}
			continue
		}
		front, back := box.Center.X-box.Half.X, box.Center.X+box.Half.X
		// A side is outside when both of its ends are: beside an alcove one may be.
		beyond := func(y float64) float64 {
			return min(f.outside(geometry.Vec{X: front, Y: y}), f.outside(geometry.Vec{X: back, Y: y}))
		}
		if out := beyond(float64(r.Left)); r.Left > 0 && out > touchTol {
			f.add(field+"platform_from_left_m", where, "has a platform whose left side is %s outside the room", f.show(out))
		}
		if out := beyond(float64(r.Right)); r.Right > 0 && out > touchTol {
			f.add(field+"platform_to_right_m", where, "has a platform whose right side is %s outside the room", f.show(out))
		}
		f.besidePlatform(i, box, chairs[i])
		for _, fl := range place.Flights(f.d, i) {
			f.flight(fl, box, chairs)
		}
	}
}

// besidePlatform finds the chairs of row i that stand in the air beside the sides
// that the row gives its platform.
func (f *finder) besidePlatform(i int, box geometry.Box, chairs []rectangle) {
	r := f.d.Seating.Rows[i]
	worst, seat, field := touchTol, -1, ""
	for n, c := range chairs {
		half := math.Abs(c.u.Y) + math.Abs(c.v.Y)
		if out := box.Center.Y - box.Half.Y - (c.c.Y - half); r.Left > 0 && out > worst {
			worst, seat, field = out, n, "platform_from_left_m"
		}
		if out := c.c.Y + half - (box.Center.Y + box.Half.Y); r.Right > 0 && out > worst {
			worst, seat, field = out, n, "platform_to_right_m"
		}
	}
	if seat >= 0 {
		f.add(fmt.Sprintf("seating.rows[%d].%s", i, field), fmt.Sprintf("row %d seat %d", i+1, seat+1),
			"stands %s beyond the side of its platform", f.show(worst))
	}
}

// flight finds what is wrong about a flight of steps.
func (f *finder) flight(fl place.Flight, box geometry.Box, chairs [][]rectangle) {
	st := f.d.Seating.Rows[fl.Row].Steps[fl.Index]
	field := fmt.Sprintf("seating.rows[%d].steps[%d].", fl.Row, fl.Index)
	where := fmt.Sprintf("steps at the %s of row %d", st.Side, fl.Row+1)
	if fl.Risers == 1 {
		f.add(field+"rise_m", where, "are not needed: the platform is one step of %s up", f.show(fl.Rise))
		return
	}
	from, to := box.Center.Y-box.Half.Y, box.Center.Y+box.Half.Y
	if st.Side == project.LeftSide || st.Side == project.RightSide {
		from, to = box.Center.X-box.Half.X, box.Center.X+box.Half.X
	}
	half := float64(st.Width) / 2
	if out := max(from-(float64(st.At)-half), float64(st.At)+half-to); out > touchTol {
		f.add(field+"at_m", where, "reach %s past the end of the platform", f.show(out))
	}
	var foot []rectangle
	wall := 0.0
	for _, b := range fl.Boxes {
		foot = append(foot, outlineOf(b))
		w, _, _ := f.reach(corners(b))
		wall = max(wall, w)
	}
	if wall > touchTol {
		f.add(field+"tread_m", where, "reach %s outside the room", f.show(wall))
	}
	for k := range chairs {
		if over := most(chairs[k], foot); over > touchTol {
			f.add(field+"at_m", where, "reach %s into a chair of row %d", f.show(over), k+1)
		}
	}
}
