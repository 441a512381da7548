// SPDX-License-Identifier: MIT

package layout

import "fmt"

// Table returns the figures of plans side by side: a line for each figure, its name
// first, then a column for each plan. show prints a length.
func Table(all []Option, show func(metres float64) string) [][]string {
	count := func(of func(*Figures) int) func(*Figures) string {
		return func(f *Figures) string { return fmt.Sprint(of(f)) }
	}
	figures := []struct {
		name string
		of   func(*Figures) string
	}{
		{"seats", count(func(f *Figures) int { return f.Seats })},
		{"rows", count(func(f *Figures) int { return f.Rows })},
		{"picture", func(f *Figures) string { return fmt.Sprintf("%.3g:1, %s wide", f.Aspect, show(f.Width)) }},
		{"lower edge", func(f *Figures) string { return show(f.Bottom) }},
		{"highest riser", func(f *Figures) string { return show(f.HighestRiser) }},
		{"picture from last row", func(f *Figures) string { return fmt.Sprintf("%.1f°", f.LastAngle) }},
		{"tight", count(func(f *Figures) int { return f.Tight })},
		{"blocked", count(func(f *Figures) int { return f.Blocked })},
		{"must", count(func(f *Figures) int { return f.Must })},
		{"should", count(func(f *Figures) int { return f.Should })},
	}
	head := []string{""}
	for i := range all {
		head = append(head, fmt.Sprintf("%d: %s", i+1, all[i].short()))
	}
	lines := [][]string{head}
	for _, f := range figures {
		line := []string{f.name}
		for i := range all {
			line = append(line, f.of(&all[i].Figures))
		}
		lines = append(lines, line)
	}
	return lines
}

// short is the name of o for the head of a column.
func (o *Option) short() string {
	const most = 20
	if r := []rune(o.Name); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return o.Name
}
