// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// lights finds lamps, and corners of strips, that are not in the room, or deeper in
// something built in than a lamp is let into it.
func (f *finder) lights() {
	for i := range f.d.LightGroups {
		g := &f.d.LightGroups[i]
		field, what, points := "at", "lamp", g.At
		if g.Kind == project.Strip {
			field, what, points = "path", "point", g.Path
		}
		for k, p := range points {
			where := f.d.LightName(i)
			if len(points) > 1 {
				where = fmt.Sprintf("%s, %s %d,", where, what, k+1)
			}
			f.lamp(fmt.Sprintf("light_groups[%d].%s[%d]", i, field, k), where, p.Vec())
		}
	}
}

func (f *finder) lamp(field, where string, p geometry.Vec) {
	const letIn = project.LetIn + touchTol
	switch wall, ceiling, floor := f.reach([]geometry.Vec{p}); {
	case wall > letIn:
		f.add(f.across(field, p), where, "is %s outside the room", f.show(wall))
		return
	case ceiling > letIn:
		f.add(field+".z_m", where, "is %s above the ceiling", f.show(ceiling))
		return
	case floor > touchTol:
		f.add(field+".z_m", where, "is %s below the floor", f.show(floor))
		return
	}
	for _, ft := range f.d.Room.Features {
		if !opening(ft.Kind) && !fitting(ft.Kind) && ft.Holds(p, -letIn) {
			f.add(field+".x_m", where, "is inside the %s", ft.Words())
			return
		}
	}
	for i := range f.d.Seating.Rows {
		if b, ok := place.Platform(f.d, i); ok && inside(b, p) > letIn {
			f.add(field+".z_m", where, "is inside the platform of row %d", i+1)
			return
		}
	}
}

// inside returns how deep p is in b, below 0 outside.
func inside(b geometry.Box, p geometry.Vec) float64 {
	v := b.Basis.Local(p.Sub(b.Center))
	return min(b.Half.X-math.Abs(v.X), b.Half.Y-math.Abs(v.Y), b.Half.Z-math.Abs(v.Z))
}
