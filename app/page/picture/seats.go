// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"

	"earline/app/field"
	"earline/project/picture"
)

// seatRows tell how every seat sees the shape that is on the screen.
func (p *picturePage) seatRows(r *picture.Result) []row {
	i := p.shown()
	shape := &r.Shapes[i]
	rows := []row{cells(field.Heading, "row", "away", "across", "picture heights", "pixels a degree")}
	for _, w := range r.Rows {
		v := w.Views[i]
		rows = append(rows, cells(field.Body, fmt.Sprint(w.Row), lengthOf(r.Design, w.Distance), fmt.Sprintf("%.1f°", v.Across), fmt.Sprintf("%.2f", v.Heights), fmt.Sprintf("%.0f", v.PixelsPerDegree[r.Chosen()])))
	}
	rows = append(rows, cells(field.Heading, "seat", "off the normal", "gain", "cd/m² aged", ""))
	for k := range r.Seats {
		s := &r.Seats[k]
		line := cells(field.Body, fmt.Sprintf("%d.%d", s.Row, s.Number), fmt.Sprintf("%.1f°", s.Angle), fmt.Sprintf("%.2f", s.Gain), fmt.Sprintf("%.1f", r.Toward(s, shape.Fills[r.Chosen()].Aged)), "")
		line.seat = k
		rows = append(rows, line)
	}
	return rows
}
