// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"

	"earline/app/field"
	"earline/project/viewing"
)

// seatRows tell how every seat sees shape k, which row sees best, and from where published
// figures ask that it be seen.
func seatRows(seen *viewing.Result, k int) []row {
	r := seen.Picture
	shape := &r.Shapes[k]
	head := []string{"seat", "across", "up to its top", "head turned", "off its normal", "heights away", "hidden"}
	if r.Projected {
		head = append(head, "aged, cd/m²", "pixels a degree")
	}
	rows := []row{cells(field.Heading, head...)}
	if seen.Because != "" {
		rows = []row{whole(field.Strong, seen.Because), rows[0]}
	}
	degrees := func(v float64) string { return number(v, "%.1f°") }
	for i := range seen.Seats {
		s, v := &seen.Seats[i], &seen.Seats[i].Shapes[k]
		hidden := "-"
		if v.Hidden > 0 {
			hidden = viewing.Percent(v.Hidden)
		}
		line := cells(field.Body, fmt.Sprintf("%d.%d", s.Row, s.Number), degrees(v.Across), degrees(v.Top), degrees(v.Turn), degrees(v.Aside), number(v.Heights, "%.2f"), hidden)
		if !v.Before {
			line.Cells[1] = "not before it"
		}
		if r.Projected {
			f := &shape.Fills[r.Chosen()]
			line.Cells = append(line.Cells, fmt.Sprintf("%.1f", r.Toward(&r.Seats[i], f.Aged)), number(float64(f.Wide)/v.Across, "%.0f"))
		}
		line.seat = i
		rows = append(rows, line)
	}
	for _, s := range seen.Short() {
		rows = append(rows, whole(field.Failing, s))
	}
	for _, b := range seen.Beyond {
		rows = append(rows, whole(field.Body, b.Text))
	}
	rows = append(rows, cells(field.Heading, "Where published figures ask that it be seen from"))
	length := func(v float64) string { return lengthOf(r.Design, v) }
	for _, a := range seen.Distances() {
		rows = append(rows, whole(field.Body, fmt.Sprintf("%s from the screen: %s, asked of %s (%s).", a.SpanWords(k, length), a.What, a.Whom, a.Source)))
	}
	if r.Projected {
		rows = append(rows, whole(field.Pale, "60 pixels a degree are one an arc minute, about as fine as good eyes see."))
	}
	return rows
}

// number prints a number, "-" where it is none.
func number(v float64, as string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	return fmt.Sprintf(as, v)
}
