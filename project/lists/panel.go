// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"strings"

	"earline/project"
)

func panelTable(d *project.Design) Table {
	length, in := show(d)
	t := Table{Name: "panels", Title: Title("panels"), Caution: fireClass,
		Columns: []string{"panel", "on", "material", "wide, " + in, "high, " + in, "from, " + in, "lower edge, " + in, "area, m²"}}
	names := map[string]string{}
	for _, m := range d.Room.Materials {
		names[m.ID] = m.Name
	}
	sum := 0.0
	for _, p := range d.Room.Treatments {
		on := "ceiling"
		if p.Wall > 0 {
			on = d.Room.WallName(p.Wall)
		}
		area := float64(p.To-p.From) * float64(p.High-p.Low)
		sum += area
		t.Rows = append(t.Rows, []string{treatmentName(p), on, names[p.Material], length(float64(p.To - p.From)), length(float64(p.High - p.Low)),
			length(float64(p.From)), length(float64(p.Low)), fmt.Sprintf("%.2f", area)})
	}
	if len(t.Rows) > 0 {
		t.Sums = []string{"in all", "", "", "", "", "", "", fmt.Sprintf("%.2f", sum)}
		t.Notes = []string{"\"From\" is along the wall from its first corner; under the ceiling from the screen wall, and \"lower edge\" from the left."}
	}
	return t
}

// mentions reports whether text has one of the words in it, whatever its capitals.
func mentions(text string, words ...string) bool {
	text = strings.ToLower(text)
	for _, w := range words {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}
