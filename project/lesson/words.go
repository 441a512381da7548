// SPDX-License-Identifier: MIT

package lesson

import (
	"fmt"
	"strings"
)

// Line is a line of the result in words. The window, the terminal and the result sheet
// are made of the same.
type Line struct {
	Kind LineKind
	Head string // "mended", "must"; empty for none
	Text string
}

// LineKind is what a Line is.
type LineKind uint8

// The kinds of line.
const (
	Heading LineKind = iota // begins a part, without a Head
	Item                    // a fault or what else is told by itself
	More                    // on the item before
	Aside                   // on all of it
)

// Sentence says in a line how it went.
func (m *Mark) Sentence() string {
	points, of := m.Score()
	text := fmt.Sprintf("%d of %d points: %d of %d faults mended", points, of, m.Mended(), len(m.Faults))
	if n := len(m.Made); n > 0 {
		text += fmt.Sprintf(", %d made", n)
	}
	if n := len(m.Lost); n > 0 {
		text += fmt.Sprintf(", %d lost", n)
	}
	return text + "."
}

// Lines returns the result in words, each fault with why its rule is there, where that
// is from, and what cures it.
func (m *Mark) Lines() []Line {
	all := []Line{{Kind: Heading, Text: "Faults"}}
	say := func(k LineKind, head, text string) { all = append(all, Line{k, head, text}) }
	for _, f := range m.Faults {
		say(Item, f.State.String(), f.Text)
		if f.Now != "" && f.Now != f.Text {
			say(More, "", "Now: "+f.Now)
		}
		if f.Rule.ID != "" {
			say(More, "", "Why: "+f.Rule.Why)
			say(More, "", "Limit from: "+f.Source.String()+".")
		}
		if f.State != Mended {
			say(More, "", "Cure: "+f.Cure)
		}
	}
	if len(m.Made)+len(m.Lost) > 0 {
		say(Heading, "", "Made while mending")
		for _, c := range m.Made {
			say(Item, c.Severity.String(), c.Text)
		}
		for _, line := range m.Lost {
			say(Item, "lost", line)
		}
	}
	if len(m.Left) > 0 {
		say(Heading, "", "The best answer known leaves it too")
		for _, c := range m.Left {
			say(Item, c.Severity.String(), c.Text)
		}
	}
	if q := m.Lesson; q.Question != "" {
		say(Heading, "", q.Question)
		for _, a := range m.Answers {
			say(Item, a.Answer, a.leaves())
		}
		say(Aside, "", q.Why)
	}
	return all
}

// leaves says what a way out leaves.
func (o *Outcome) leaves() string {
	if len(o.Leaves) == 0 {
		return "leaves nothing"
	}
	return strings.Join(o.Leaves, "; ")
}
