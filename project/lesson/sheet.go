// SPDX-License-Identifier: MIT

package lesson

import (
	"fmt"

	"earline/project/table"
)

// CSV returns the result as a file that spreadsheets open: a line for each fault, each
// cause made and each thing lost, and the points.
func (m *Mark) CSV() []byte {
	out := table.Table{Header: []string{"state", "severity", "what", "rule", "why", "source", "points"}}
	row := func(points int, cells ...string) {
		var line []table.Cell
		for _, c := range cells {
			line = append(line, table.Text(c))
		}
		out.Add(append(line, table.Number(float64(points), 0))...)
	}
	for _, f := range m.Faults {
		source := ""
		if f.Rule.ID != "" {
			source = f.Source.String()
		}
		row(int(f.State), f.State.String(), f.Severity.String(), f.Text, f.Rule.Title, f.Rule.Why, source)
	}
	for _, c := range m.Made {
		row(-1, "made", c.Severity.String(), c.Text, "", "", "")
	}
	for _, line := range m.Lost {
		row(-1, "lost", "", line, "", "", "")
	}
	points, of := m.Score()
	row(points, "points", "", fmt.Sprintf("of %d", of), "", "", "")
	return out.CSV()
}
