// SPDX-License-Identifier: MIT

package sheet

import "strings"

// checkSheets writes what to mind, and how far every item may end up from its place.
func (s *set) checkSheets() {
	columns := []column{
		{"check", 0.20, false}, {"planned", 0.08, true}, {"measured", 0.09, false}, {"may be off", 0.63, false},
	}
	var lines []line
	for _, c := range s.cautions() {
		lines = append(lines, line{cells: []string{c}, head: true, ink: red})
	}
	l := s.list
	for i := range l.Items {
		it := &l.Items[i]
		if it.Tolerance == nil {
			continue
		}
		lines = append(lines, line{cells: []string{s.what(it), l.ShowHeight(it.Height), "", it.Tolerance.Words(it.On, l.Units)}, item: it.ID, box: true})
	}
	s.table("S6", 0, "Cautions and checks", "Tick when measured. An item may end up off its place by that much in one direction at a time before what stands in brackets breaks; left and right as one faces it, on the ceiling as one faces the screen.", columns, lines)
}

// cautions are what to mind before work begins.
func (s *set) cautions() []string {
	out := []string{
		"Check the size of the room and the laser line before the first cut: the plan knows the finished faces only.",
		"Before cutting find pipes, cables and studs in wall and ceiling. Electrical work is for a licensed person.",
	}
	if s.list.Datum.Assumed {
		out = append(out, "The design names no laser line: "+s.length(s.laser)+" over the finished floor is assumed. Mark it all round before anything else.")
	}
	if s.list.Warning != "" {
		out = append(out, s.list.Warning)
	}
	// What the list says of several items is said once.
	of := map[string][]string{}
	var texts []string
	for i := range s.list.Items {
		it := &s.list.Items[i]
		if it.Caution == "" {
			continue
		}
		if of[it.Caution] == nil {
			texts = append(texts, it.Caution)
		}
		of[it.Caution] = append(of[it.Caution], it.Name)
	}
	for _, t := range texts {
		out = append(out, t+" ("+strings.Join(of[t], ", ")+")")
	}
	return out
}
