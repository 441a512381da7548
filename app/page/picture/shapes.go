// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"slices"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/picture"
	"earline/project/viewing"
)

// lengthOf prints a length in the units of the design.
func lengthOf(d *project.Design, v float64) string {
	return unit.Length(v).Format(d.Units != project.Imperial)
}

// shapeRows tell how bright each shape of picture is, how much of the imager it uses and
// how large it is, then what falls short.
func shapeRows(seen *viewing.Result) []row {
	r := seen.Picture
	ref := picture.References()[0]
	var rows []row
	if r.Projected {
		rows = append(rows, cells(field.Heading, "shape", "filled by", "new, cd/m²", "aged, cd/m²", "aged, fL", fmt.Sprintf("%g ± %g", ref.White, ref.Within), "imager used", "pixels"))
	} else {
		rows = append(rows, cells(field.Heading, "shape", "filled by", fmt.Sprintf("light for %g cd/m²", ref.White), "imager used"))
	}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		for k := range s.Fills {
			f := &s.Fills[k]
			name := ""
			if k == 0 {
				name = s.Called
			}
			line := cells(field.Body, name, string(f.Fill), fmt.Sprintf("%.0f lm", f.Needed), percent(f.Used))
			if r.Projected {
				aged := r.Toward(&r.Main, f.Aged)
				line = cells(field.Body, name, string(f.Fill), fmt.Sprintf("%.1f", r.Toward(&r.Main, f.New)), fmt.Sprintf("%.1f", aged), fmt.Sprintf("%.1f", aged/picture.FootLambert),
					held(ref, aged), percent(f.Used), fmt.Sprintf("%d×%d", f.Wide, f.High))
				if k == r.Chosen() {
					line.Look = field.Strong
					line.Cells[1] += asPlanned
				}
			}
			line.shape = i
			rows = append(rows, line)
		}
	}
	if short := slices.Concat(r.Short(), seen.Short()); len(short) > 0 {
		rows = append(rows, cells(field.Heading, "Falls short"))
		for _, s := range short {
			rows = append(rows, whole(field.Failing, s))
		}
	}
	if r.Projected {
		rows = append(rows, whole(field.Body, asPlanned+" as the plan fills the screen. "+exposure(r)))
	}
	for _, n := range append(r.Notes(), picture.Caution) {
		rows = append(rows, whole(field.Pale, n))
	}
	for _, f := range picture.References() {
		rows = append(rows, whole(field.Pale, fmt.Sprintf("%.1f cd/m²%s: %s (%s).", f.White, within(f), f.Name, f.Source)))
	}
	return rows
}

// asPlanned marks how the plan fills the screen.
const asPlanned = "*"

// within says by how much a luminance may be off a reference: " ± 10.2".
func within(f picture.Reference) string {
	if f.Within == 0 {
		return ""
	}
	return fmt.Sprintf(" ± %.1f", f.Within)
}

// held says how a luminance stands to a reference.
func held(ref picture.Reference, l float64) string {
	return map[int]string{-1: "too dark", 0: "within", 1: "brighter"}[ref.At(l)]
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// exposure says how bright the shapes are drawn in the picture of the room.
func exposure(r *picture.Result) string {
	k, brightest := r.Chosen(), 0
	for i := range r.Shapes {
		if r.Shapes[i].Fills[k].Aged > r.Shapes[brightest].Fills[k].Aged {
			brightest = i
		}
	}
	b := &r.Shapes[brightest]
	return fmt.Sprintf("In the room above, white of %s, %.1f cd/m² aged, is as bright as the display can show; every other shape is darker there by its share of that.", b.Called, b.Fills[k].Aged)
}
