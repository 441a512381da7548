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
	for _, f := range m.Faults {
		rows = append(rows, field.GridRow{Cells: []string{f.State.String(), f.Text}, Look: field.Strong})
		more := func(text string) { rows = append(rows, field.GridRow{Cells: []string{"", text}}) }
		if f.Now != "" && f.Now != f.Text {
			more("Now: " + f.Now)
		}
		if f.Rule.ID != "" {
			more(f.Rule.Why + " Source: " + f.Source.String() + ".")
		}
		if f.State != lesson.Mended {
			more("Cure: " + f.Cure)
		}
	}
	if len(m.Made)+len(m.Lost) > 0 {
		whole(field.Heading, "Made while mending")
		for _, c := range m.Made {
			rows = append(rows, field.GridRow{Cells: []string{c.Severity.String(), c.Text}})
		}
		for _, line := range m.Lost {
			rows = append(rows, field.GridRow{Cells: []string{"lost", line}})
		}
	}
	if len(m.Left) > 0 {
		whole(field.Heading, "The best answer known leaves it too")
		for _, c := range m.Left {
			rows = append(rows, field.GridRow{Cells: []string{c.Severity.String(), c.Text}})
		}
	}
	if m.Lesson.Question != "" {
		whole(field.Heading, m.Lesson.Question)
		for _, a := range m.Answers {
			whole(field.Body, a.Sentence())
		}
		whole(field.Pale, m.Lesson.Why)
	}
	return rows
}
