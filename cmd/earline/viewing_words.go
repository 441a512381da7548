// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/lists"
	"earline/project/viewing"
)

// printViewing prints how the rows, or all seats, see each shape of picture, which row sees
// best, what is beyond the rules, and from where published figures ask that it be seen.
func printViewing(p *printer, r *viewing.Result, everySeat bool) {
	const width = 100
	say := func(text string) { p.printf("  %s\n", wrapped(text, width, "  ")) }
	for k := range r.Picture.Shapes {
		t := seenTable(r, k, everySeat)
		printTable(p, &t)
	}
	length := func(v float64) string { return unit.Length(v).Format(r.Design.Units != project.Imperial) }
	t := lists.Table{Title: "Distances from the screen that published figures ask for", Columns: []string{"asked", "of"}}
	for _, s := range r.Picture.Shapes {
		t.Columns = append(t.Columns, s.Called)
	}
	for _, a := range r.Distances() {
		cells := []string{a.What, a.Whom}
		for k := range a.Spans {
			cells = append(cells, a.SpanWords(k, length))
		}
		t.Rows = append(t.Rows, cells)
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s.", a.What, a.Source))
	}
	printTable(p, &t)
	if r.Because != "" || len(r.Beyond) > 0 {
		p.printf("Seen from the rows\n")
		if r.Because != "" {
			say(r.Because)
		}
		for _, b := range r.Beyond {
			say(b.Text)
		}
		p.printf("\n")
	}
}

// seenTable returns how shape k is seen: a line a row, from the least to the greatest of its
// seats, or a line a seat.
func seenTable(r *viewing.Result, k int, everySeat bool) lists.Table {
	t := lists.Table{Title: r.Picture.Shapes[k].Called + " as it is seen", Columns: []string{"row", "across", "up to its top", "to its middle", "head turned", "off its normal", "heights away", "hidden"}}
	degrees := func(v float64) string { return fmt.Sprintf("%.1f°", v) }
	line := func(name string, seats []viewing.Seat) []string {
		span := func(show func(float64) string, of func(s *viewing.Seen) float64) string {
			least, most := math.Inf(1), math.Inf(-1)
			for i := range seats {
				if v := of(&seats[i].Shapes[k]); !math.IsNaN(v) {
					least, most = min(least, v), max(most, v)
				}
			}
			switch a, b := show(least), show(most); {
			case least > most:
				return "-"
			case a == b:
				return a
			default:
				return a + " to " + b
			}
		}
		return []string{name,
			span(degrees, func(s *viewing.Seen) float64 { return s.Across }),
			span(degrees, func(s *viewing.Seen) float64 { return s.Top }),
			span(degrees, func(s *viewing.Seen) float64 { return s.Middle }),
			span(degrees, func(s *viewing.Seen) float64 { return s.Turn }),
			span(degrees, func(s *viewing.Seen) float64 { return s.Aside }),
			span(func(v float64) string { return fmt.Sprintf("%.2f", v) }, func(s *viewing.Seen) float64 { return s.Heights }),
			hiddenWords(seats, k),
		}
	}
	for _, row := range r.Rows {
		seats := r.Seats[row.From:row.To]
		if !everySeat {
			t.Rows = append(t.Rows, line(fmt.Sprint(row.Row), seats))
			continue
		}
		for i := range seats {
			t.Rows = append(t.Rows, line(fmt.Sprintf("%d.%d", row.Row, seats[i].Number), seats[i:i+1]))
		}
	}
	if everySeat {
		t.Columns[0] = "seat"
	}
	return t
}

// hiddenWords says how much of shape k is hidden from the seat that sees least of it, and
// by what.
func hiddenWords(seats []viewing.Seat, k int) string {
	worst, n := -1, 0
	for i := range seats {
		s := &seats[i].Shapes[k]
		if !s.Before {
			return "not before the picture"
		}
		if s.Hidden == 0 {
			continue
		}
		if n++; worst < 0 || s.Hidden > seats[worst].Shapes[k].Hidden {
			worst = i
		}
	}
	if worst < 0 {
		return "nothing"
	}
	s := &seats[worst].Shapes[k]
	text := viewing.Percent(s.Hidden) + ", " + s.By
	if len(seats) > 1 {
		text = fmt.Sprintf("%d of %d seats, up to %s", n, len(seats), text)
	}
	return text
}
