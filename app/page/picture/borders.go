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
	return rows
}
