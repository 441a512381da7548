// SPDX-License-Identifier: MIT

package fit

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// masking finds what is in the way of the boxes that the screen's masks move out of, and
// what they cover.
func (f *finder) masking() {
	const field = "picture.masking_box_m"
	boxes := f.d.MaskingBoxes()
	if len(boxes) == 0 {
		return
	}
	speakers := place.Speakers(f.d)
	for _, b := range boxes {
		where := b.Side + " masking box"
		wall, ceiling, floor := f.reach(corners(b.Box))
		for _, out := range []struct {
			by   float64
			text string
		}{{wall, "reaches %s outside the room"}, {ceiling, "reaches %s above the ceiling"}, {floor, "reaches %s below the floor"}} {
			if out.by > touchTol {
				f.add(field, where, out.text, f.show(out.by))
			}
		}
		for _, ft := range f.d.Room.Features {
			if opening(ft.Kind) {
				continue
			}
			if in := ft.Overlap(b.Box); in > touchTol {
				f.add(field, where, "reaches %s into the %s", f.show(in), ft.Words())
			}
		}
		for _, l := range speakers {
			in := geometry.Overlap(l.Box, b.Box)
			if in > touchTol {
				f.add(field, where, "reaches %s into %s", f.show(in), l.Name())
			} else if covered := covers(b, l.Box); covered > touchTol {
				f.add(field, where, "covers %s of the edge of %s behind it", f.show(covered), l.Name())
			}
		}
	}
}

// covers returns how far a box that lies behind b reaches behind it, as seen from straight
// ahead: the lesser of both directions; 0 or less where it is free.
func covers(b project.MaskingBox, behind geometry.Box) float64 {
	lo, hi := geometry.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, geometry.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	for _, p := range behind.Corners() {
		lo = geometry.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
		hi = geometry.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
	}
	if hi.X > b.Center.X-b.Half.X+touchTol {
		return 0 // beside it or in front
	}
	across := min(hi.Y, b.Center.Y+b.Half.Y) - max(lo.Y, b.Center.Y-b.Half.Y)
	upright := min(hi.Z, b.Center.Z+b.Half.Z) - max(lo.Z, b.Center.Z-b.Half.Z)
	return min(across, upright)
}
