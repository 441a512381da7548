// SPDX-License-Identifier: MIT

package viewing

import (
	"fmt"
	"math"
	"strings"
)

// Short says which seats miss some of which shape, a sentence for each row and shape.
func (r *Result) Short() []string {
	var out []string
	for _, row := range r.Rows {
		for k := range r.Picture.Shapes {
			var seats []string
			worst, behind := -1, 0
			for i := row.From; i < row.To; i++ {
				s := &r.Seats[i].Shapes[k]
				if !s.Before {
					behind++
					continue
				}
				if s.Hidden == 0 {
					continue
				}
				seats = append(seats, fmt.Sprint(r.Seats[i].Number))
				if worst < 0 || s.Hidden > r.Seats[worst].Shapes[k].Hidden {
					worst = i
				}
			}
			if behind > 0 && k == 0 {
				out = append(out, fmt.Sprintf("Row %d: %d of its seats are not in front of the picture.", row.Row, behind))
			}
			if worst < 0 {
				continue
			}
			s := &r.Seats[worst].Shapes[k]
			who := "seat " + seats[0] + " misses"
			if len(seats) > 1 {
				who = "seats " + strings.Join(seats, ", ") + " miss up to"
			}
			out = append(out, fmt.Sprintf("%s: in row %d %s %s of it: %s.", r.Picture.Shapes[k].Called, row.Row, who, Percent(s.Hidden), s.By))
		}
	}
	return out
}

// Percent prints a share that is not nothing: "4.1 %", "under 0.1 %".
func Percent(share float64) string {
	if share < 0.0005 {
		return "under 0.1 %"
	}
	return fmt.Sprintf("%.1f %%", 100*share)
}

// SpanWords says from where to where a shape is to be seen: "3.20 m to 6.40 m".
func (a *Asked) SpanWords(k int, length func(float64) string) string {
	s := a.Spans[k]
	switch {
	case s.None():
		return "-"
	case s.From == 0:
		return "up to " + length(s.To)
	case math.IsInf(s.To, 1):
		return "from " + length(s.From)
	}
	return length(s.From) + " to " + length(s.To)
}
