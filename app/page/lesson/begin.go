// SPDX-License-Identifier: MIT

package lesson

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/words"
	"earline/project"
	"earline/project/lesson"
)

// levels are what can be chosen, the easiest first.
var levels = []string{"1: one or two faults", "2: two or three", "3: three or four, or a choice to be made"}

// begin asks which lesson is wanted, and makes it.
func (p *lessonPage) begin() {
	if !p.frame.Busy() {
		p.frame.Leave(p.choose)
	}
}

func (p *lessonPage) choose() {
	level := field.NewSelect(levels, nil)
	level.SetSelectedIndex(max(p.session.Design().Lesson.Level, 1) - 1)
	number := ask.NewEntry()
	number.SetText(strconv.Itoa(1 + rand.IntN(9999))) // short enough to be told to a class
	p.frame.Ask.Form("New lesson", "A room with faults, to be found and mended. The same number and level give the same room on every machine.", "Make the lesson",
		[]*widget.FormItem{widget.NewFormItem(words.Of("Level"), level), widget.NewFormItem(words.Of("Number"), number)}, number, func() error {
			seed, err := strconv.Atoi(strings.TrimSpace(number.Text))
			if err != nil {
				return &project.Fault{Field: "number", Found: strconv.Quote(number.Text), Allowed: fmt.Sprintf("a whole number from 1 to %d", project.LastLesson)}
			}
			asked := project.Lesson{Seed: seed, Level: level.SelectedIndex() + 1}
			if f := asked.Fault(); f != nil {
				f.Field = strings.TrimPrefix(f.Field, "lesson.")
				return f
			}
			p.frame.Begin(func() (*project.Design, error) {
				l, err := lesson.Make(asked.Seed, asked.Level)
				if err != nil {
					return nil, err
				}
				return l.Start, nil
			})
			return nil
		})
}
