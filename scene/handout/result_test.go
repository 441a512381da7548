// SPDX-License-Identifier: MIT

package handout_test

import (
	"strings"
	"testing"

	"earline/project/lesson"
	"earline/scene/drawing"
	"earline/scene/handout"
)

// Every fault, why it is one and where that is from stand on the sheet, on one page for
// a hard lesson too.
func TestTheResultOfALessonIsOnePage(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for seed := 1; seed <= 6; seed++ {
		l, err := lesson.Make(seed, 3)
		if err != nil {
			t.Fatal(err)
		}
		m := l.Mark(l.Start)
		sheets := handout.Result(l.Start, m, face)
		if len(sheets) != 1 {
			t.Errorf("seed %d: %d pages", seed, len(sheets))
		}
		within(t, sheets, face)
		var words []string
		for _, mark := range sheets[0].Marks {
			if text, ok := mark.(drawing.Text); ok {
				words = append(words, text.Text)
			}
		}
		all := strings.Join(words, " ")
		for _, line := range m.Lines() {
			if !strings.Contains(all, line.Text) {
				t.Errorf("seed %d: not on the sheet: %q", seed, line.Text)
			}
		}
	}
}
