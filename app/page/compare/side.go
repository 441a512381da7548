// SPDX-License-Identifier: MIT

package compare

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"earline/app/field"
	"earline/project/compare"
)

// side is what is told beside the list: what is chosen in it, and the figures of both
// designs.
type side struct {
	object fyne.CanvasObject
	grid   *field.Grid
}

func newSide() *side {
	s := &side{grid: field.NewGrid()}
	s.object = container.NewVScroll(s.grid)
	return s
}

func (s *side) update(p *comparePage) {
	s.grid.Set(sideRows(p.result, p.line()), -1)
	s.object.Refresh()
}

// rank is where a fact stands: first what is better or worse, then what differs.
func rank(f compare.Fact) int {
	switch {
	case f.Better != 0:
		return 0
	case f.Was != f.Is:
		return 1
	}
	return 2
}

// sideRows are the rows beside the list.
func sideRows(r *compare.Result, chosen *line) []field.GridRow {
	if r == nil {
		return nil
	}
	var rows []field.GridRow
	whole := func(look field.Look, text string) {
		rows = append(rows, field.GridRow{Cells: []string{text}, Look: look})
	}
	if chosen != nil && !chosen.fold {
		whole(field.Strong, chosen.name+": "+chosen.words)
		for _, d := range chosen.detail {
			if d != chosen.words {
				whole(field.Body, d)
			}
		}
	}
	if n := r.Count(); n[compare.Stays] == len(r.Things) {
		whole(field.Body, "Nothing differs yet: change the plan, and each change is listed here.")
	}
	rows = append(rows, field.GridRow{Cells: []string{"", r.Was.Name, r.Is.Name, ""}, Look: field.Heading})
	facts := slices.Clone(r.Facts)
	slices.SortStableFunc(facts, func(a, b compare.Fact) int { return rank(a) - rank(b) })
	for _, f := range facts {
		mark := ""
		switch {
		case f.Better > 0:
			mark = "better"
		case f.Better < 0:
			mark = "worse"
		}
		rows = append(rows, field.GridRow{Cells: []string{f.What, f.Was, f.Is, mark}})
	}
	for _, h := range r.Holes {
		if h.Fate != compare.Kept {
			whole(field.Pale, compare.Caution)
			break
		}
	}
	return rows
}
