// SPDX-License-Identifier: MIT

package picture

import (
	"earline/app/field"
	"earline/project/picture"
)

// borderRows tell how large the shapes are and what is left of the screen beside them.
func borderRows(r *picture.Result) []row {
	length := func(v float64) string { return lengthOf(r.Design, v) }
	rows := []row{cells(field.Heading, "shape", "of viewing", "wide", "high", "lower edge", "border at each side", "above and below")}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		share := "-"
		if s.Share > 0 {
			share = percent(s.Share)
		}
		line := cells(field.Body, s.Called, share, length(s.Picture.Width), length(s.Picture.Height), length(s.Picture.Bottom()), length(s.Border.Across), length(s.Border.Upright))
		line.shape = i
		rows = append(rows, line)
	}
	for _, w := range r.MaskingWords() {
		rows = append(rows, whole(field.Body, w))
	}
	return append(rows, keptRows(r)...)
}

// keptRows tell what the shapes come to by constant height, width and area; nothing for one
// shape.
func keptRows(r *picture.Result) []row {
	if len(r.Shapes) < 2 {
		return nil
	}
	length := func(v float64) string { return lengthOf(r.Design, v) }
	rows := []row{cells(field.Heading, "shape", "all keep", "wide", "high", "of the screen", "border at each side", "above and below")}
	for _, k := range r.Kepts() {
		name := "within it"
		if k.Held != "" {
			name = "its " + string(k.Held)
		}
		if k.Held == r.Design.Picture.Held {
			name += asPlanned
		}
		for i := range r.Shapes {
			line := cells(field.Body, r.Shapes[i].Called, name, length(k.Pictures[i].Width), length(k.Pictures[i].Height), percent(k.Filled[i]), length(k.Borders[i].Across), length(k.Borders[i].Upright))
			if k.Held == r.Design.Picture.Held {
				line.Look = field.Strong
			}
			line.shape = i
			rows = append(rows, line)
		}
	}
	return append(rows, whole(field.Body, asPlanned+" as planned. A border less than nothing: the shape is larger than the screen."))
}
