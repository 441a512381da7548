// SPDX-License-Identifier: MIT

package lesson

import (
	"context"
	"slices"

	"earline/app/field"
	"earline/app/session"
	"earline/project"
	"earline/project/lesson"
)

// markOf marks a room. It may run on any goroutine.
func markOf(_ context.Context, d *project.Design, _ session.Last[*project.Design, *lesson.Mark], _ func(float64)) (*lesson.Mark, error) {
	l, err := lesson.Of(d)
	if err != nil {
		return nil, err
	}
	return l.Mark(d), nil
}

func told(hints []string, h string) bool { return slices.Contains(hints, h) }

// rowsOf returns what the page shows: what to do, the hints that were told, the mark.
func rowsOf(d *project.Design, hints []string, m *lesson.Mark) []field.GridRow {
	var rows []field.GridRow
	whole := func(look field.Look, text string) {
		rows = append(rows, field.GridRow{Cells: []string{text}, Look: look})
	}
	if m == nil {
		if d.Notes != "" {
			whole(field.Strong, d.Notes)
		}
		whole(field.Body, "Something in this room is wrong. Find it and mend it as you would in any room; Mark tells how many faults there are, which are mended, and why each is one. Hint tells where to look, then by which rule, then what cures it.")
		whole(field.Pale, "The page Rules tells all that falls short: look round the room before you look there.")
	}
	if len(hints) > 0 {
		whole(field.Heading, "Hints")
		for _, h := range hints {
			whole(field.Body, h)
		}
	}
	if m == nil {
		return rows
	}
	for _, l := range m.Lines() {
		switch l.Kind {
		case lesson.Heading:
			whole(field.Heading, l.Text)
		case lesson.Aside:
			whole(field.Pale, l.Text)
		case lesson.Item:
			rows = append(rows, field.GridRow{Cells: []string{l.Head, l.Text}, Look: field.Strong})
		default:
			rows = append(rows, field.GridRow{Cells: []string{l.Head, l.Text}})
		}
	}
	return rows
}
