// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"

	"earline/app/field"
	"earline/project/picture"
)

// lensRows tell what each shape asks of the lens, where that may stand, and what is in its
// beam.
func lensRows(r *picture.Result) []row {
	if !r.Projected {
		return []row{whole(field.Body, "The plan has no projector. Add one in the inspector, under Projector; Solve then finds a place for its lens.")}
	}
	rows := []row{cells(field.Heading, "shape", "filled by", "throw ratio", "shift", "lens")}
	for i := range r.Shapes {
		for k := range r.Shapes[i].Fills {
			f := &r.Shapes[i].Fills[k]
			name := ""
			if k == 0 {
				name = r.Shapes[i].Called
			}
			line := cells(field.Body, name, string(f.Fill), "-", "not before the screen", "")
			if t := f.Throw; t.Distance > 0 {
				line.Cells = []string{name, string(f.Fill), fmt.Sprintf("%.3f", t.Ratio), t.ShiftWords(), reach(r, t)}
			}
			if k == r.Chosen() {
				line.Look = field.Strong
				line.Cells[1] += asPlanned
			}
			line.shape = i
			rows = append(rows, line)
		}
	}
	m := &r.Model
	rows = append(rows, whole(field.Body, fmt.Sprintf(asPlanned+" as the plan fills the screen. The lens has a throw ratio of %.4g to %.4g, and a shift of %.4g %% of the height and %.4g %% of the width of the raster, %s.",
		m.ThrowMin, m.ThrowMax, 100*m.ShiftUp, 100*m.ShiftRight, m.ShiftShape)))
	for _, s := range r.Short() {
		rows = append(rows, whole(field.Failing, s))
	}
	for _, s := range r.StandWords() {
		rows = append(rows, whole(field.Body, s))
	}
	if up := r.StandingWords(); len(up) > 0 {
		rows = append(rows, cells(field.Heading, "In the beam when standing"))
		for _, s := range up {
			rows = append(rows, whole(field.Body, s))
		}
	}
	if way := r.WalkingWords(); len(way) > 0 {
		rows = append(rows, cells(field.Heading, "In the beam on the way to a seat"))
		for _, s := range way {
			rows = append(rows, whole(field.Body, s))
		}
	}
	return append(rows, whole(field.Pale, picture.Caution))
}

// reach says whether the lens can do what a shape asks of it.
func reach(r *picture.Result, t picture.Throw) string {
	zoom, shift := t.ZoomFits(&r.Model), t.ShiftFits()
	switch {
	case zoom && shift:
		return "within"
	case zoom:
		return "beyond its shift"
	case shift:
		return "beyond its zoom"
	}
	return "beyond zoom and shift"
}
