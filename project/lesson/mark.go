// SPDX-License-Identifier: MIT

package lesson

import (
	"slices"

	"earline/project"
	"earline/project/practice"
	"earline/project/settle"
)

// Mark is how a room stands against its lesson.
type Mark struct {
	Lesson *Lesson
	Faults []Marked // in the order of Lesson.Faults
	// Made are causes that came while mending, Left those that the best answer has too.
	Made, Left []*settle.Cause
	// Lost says what the room has no longer, a line each: who takes away a seat or a
	// loudspeaker has mended nothing.
	Lost []string
	// Answers are what the ways out of a dilemma come to.
	Answers []Outcome
}

// Marked is what became of a fault.
type Marked struct {
	*Fault
	State State
	Now   string // what the audit says of it now; empty once it is mended
}

// State is what became of a fault.
type State uint8

// The states. A fault is found when its harm is less by a tenth or more, and missed
// where it is not.
const (
	Missed State = iota
	Found
	Mended
)

// String returns "missed", "found" or "mended".
func (s State) String() string { return [...]string{"missed", "found", "mended"}[min(s, Mended)] }

// Outcome is what one way out of a dilemma leaves.
type Outcome struct {
	Answer string
	Leaves []string // a line for each cause
}

// Mark marks d.
func (l *Lesson) Mark(d *project.Design) *Mark {
	m := &Mark{Lesson: l}
	now := causesOf(d)
	for i := range l.Faults {
		f := &l.Faults[i]
		marked := Marked{Fault: f, State: Mended}
		if c := now.Find(f.Cause); c != nil && c.Severity > l.allows(c.ID) {
			marked.Now, marked.State = c.Text, Missed
			const better = 0.9 // of the harm at the start
			if c.Severity < f.Severity || c.Severity == f.Severity && c.Harm < better*f.Harm {
				marked.State = Found
			}
		}
		m.Faults = append(m.Faults, marked)
	}
	for _, c := range now.All() {
		switch {
		case c.Severity == practice.Note || slices.ContainsFunc(l.Faults, func(f Fault) bool { return f.Cause == c.ID && c.Severity > l.allows(c.ID) }):
		case c.Severity <= l.allows(c.ID):
			m.Left = append(m.Left, c)
		default:
			m.Made = append(m.Made, c)
		}
	}
	m.Lost = l.keeps.lost(d)
	for _, a := range l.answers {
		way := l.Start.Clone()
		a.do(way)
		o := Outcome{Answer: a.name}
		for _, c := range causesOf(way).All() {
			if c.Severity > practice.Note {
				o.Leaves = append(o.Leaves, c.Text)
			}
		}
		m.Answers = append(m.Answers, o)
	}
	return m
}

// allows returns the severity to which the best answer leaves a cause.
func (l *Lesson) allows(cause string) practice.Severity {
	for _, a := range l.allowed {
		if a.Cause == cause {
			return severityOf(a.Severity)
		}
	}
	return practice.Note
}

func severityOf(word string) practice.Severity {
	for _, s := range []practice.Severity{practice.Must, practice.Should} {
		if s.String() == word {
			return s
		}
	}
	return practice.Note
}

// Mended is how many faults are.
func (m *Mark) Mended() (n int) {
	for _, f := range m.Faults {
		if f.State == Mended {
			n++
		}
	}
	return n
}

// Hints returns the hints on what is not mended yet, one after the other.
func (m *Mark) Hints() (all []string) {
	for _, f := range m.Faults {
		if f.State != Mended {
			all = append(all, f.Hints()...)
		}
	}
	return all
}

// Solved reports whether every fault is mended, none was made and nothing was lost.
func (m *Mark) Solved() bool {
	return m.Mended() == len(m.Faults) && len(m.Made) == 0 && len(m.Lost) == 0
}

// Score returns the points and how many there are: two for a fault that is mended, one
// for one that is found, less one for each cause made and each thing lost, and never
// below none.
func (m *Mark) Score() (points, of int) {
	for _, f := range m.Faults {
		points += int(f.State)
	}
	return max(0, points-len(m.Made)-len(m.Lost)), 2 * len(m.Faults)
}
