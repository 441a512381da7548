// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"

	"earline/geometry"
	"earline/project"
)

func outletTable(d *project.Design) Table {
	length, in := show(d)
	t := Table{Name: "outlets", Title: Title("outlets"), Caution: electric,
		Columns: []string{"id", "kind", "serves", "on", "from screen wall, " + in, "from left, " + in, "height, " + in, "load, W"}}
	outline := d.Room.Polygon()
	sum := 0.0
	for _, o := range d.Services.Outlets {
		at := o.At.Vec()
		on := "floor or ceiling"
		const near = 0.05 // m
		if edge, foot := outline.Nearest(geometry.Vec2{X: at.X, Y: at.Y}); edge >= 0 && foot.Dist(geometry.Vec2{X: at.X, Y: at.Y}) < near {
			on = d.Room.WallName(edge + 1)
		}
		load := ""
		if o.Load > 0 {
			load = fmt.Sprintf("%g", o.Load)
			sum += o.Load
		}
		t.Rows = append(t.Rows, []string{o.ID, string(o.Kind), o.Serves, on, length(at.X), length(at.Y), length(at.Z), load})
	}
	if len(t.Rows) > 0 {
		t.Sums = []string{"in all", "", "", "", "", "", "", fmt.Sprintf("%g", sum)}
	}
	reclining := 0
	for _, r := range d.Seating.Rows {
		if c, ok := d.Chair(r.Chair); ok && c.MaxRecline > c.MinRecline {
			reclining += r.Seats
		}
	}
	if n := outletsFor(d, "chair", "recliner", "seat"); reclining > n {
		serving := fmt.Sprintf("%d outlets here serve a chair", n)
		if n == 1 {
			serving = "1 outlet here serves a chair"
		}
		t.Notes = append(t.Notes, fmt.Sprintf("%d chairs recline. If they are driven, each needs power: %s.", reclining, serving))
	}
	return t
}

// outletsFor counts the mains outlets whose words name one of those.
func outletsFor(d *project.Design, words ...string) (n int) {
	for _, o := range d.Services.Outlets {
		if o.Kind == project.Mains && mentions(o.Serves, words...) {
			n++
		}
	}
	return n
}
