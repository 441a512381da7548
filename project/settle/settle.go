// SPDX-License-Identifier: MIT

// Package settle says what is to be settled in a design, cause by cause: what cannot be
// built, what is unsafe, who misses some of the picture, whose path of sound is blocked,
// and what else falls short of good practice. What has one cause is one line, left and
// right together, and the causes stand in the order of the harm that they do to people.
// The window's status line and its page of practice, and the audit in the terminal, are
// its words.
package settle

import (
	"fmt"

	"earline/project/practice"
	"earline/project/sight"
)

// List is what is to be settled.
type List struct {
	// Apart are the causes that nobody may overlook: what cannot be built, then steps
	// and ways, notes among them. They are always shown.
	Apart []*Cause
	// Settle are the others that people suffer from, the most harmful first.
	Settle []*Cause
	// Notes are what is worth knowing, and no more.
	Notes []*Cause

	people  int  // that sit here
	unknown bool // what the rules find
}

// Top is how many of List.Settle are shown at first.
const Top = 3

// Lead returns the causes that are shown at first, and how many more there are.
func (l *List) Lead() (top []*Cause, more int) {
	n := min(len(l.Settle), Top)
	return l.Settle[:n], len(l.Settle) - n
}

// All returns every cause, in order.
func (l *List) All() []*Cause {
	var all []*Cause
	all = append(all, l.Apart...)
	all = append(all, l.Settle...)
	return append(all, l.Notes...)
}

// Find returns the cause with that ID; nil for none. l may be nil.
func (l *List) Find(id string) *Cause {
	if l == nil {
		return nil
	}
	for _, c := range l.All() {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// Of returns the cause under which a remark stands; nil for none.
func (l *List) Of(m *practice.Remark) *Cause {
	for _, c := range l.All() {
		for _, x := range c.Everything() {
			if x == m {
				return c
			}
		}
	}
	return nil
}

// First returns what is to be settled first; nil for nothing.
func (l *List) First() *Cause {
	for _, c := range l.Apart {
		if c.Severity == practice.Must {
			return c
		}
	}
	if len(l.Settle) > 0 {
		return l.Settle[0]
	}
	for _, c := range l.Apart {
		if c.Severity == practice.Should {
			return c
		}
	}
	return nil
}

// Count returns how many causes are to be settled, and how many are only noted.
func (l *List) Count() (settle, notes int) {
	settle, notes = len(l.Settle), len(l.Notes)
	for _, c := range l.Apart {
		if c.Severity == practice.Note {
			notes++
		} else {
			settle++
		}
	}
	return settle, notes
}

// Short says how much is to be settled: "3 to settle, 2 notes".
func (l *List) Short() string {
	settle, notes := l.Count()
	text := "nothing to settle"
	if settle > 0 {
		text = fmt.Sprintf("%d to settle", settle)
	}
	if notes > 0 {
		text += ", " + count(notes, "note", "notes")
	}
	return text
}

// Sentence says in one line what is to be settled first, or that nothing is.
func (l *List) Sentence() string {
	settle, notes := l.Count()
	switch c := l.First(); {
	case c != nil:
		return fmt.Sprintf("%d to settle: %s", settle, c.Text)
	case l.people == 0:
		return "Nobody sits here yet."
	case l.unknown:
		return "Looking at the placement rules…"
	case notes > 0:
		return "Every ear sees every loudspeaker, and every eye the whole picture; " + count(notes, "note", "notes") + "."
	}
	return "Every ear sees every loudspeaker, and every eye the whole picture."
}

// Causes returns what is to be settled in the design of r. kept is what the rules find,
// nil when it is not known yet. last is what was returned of the design before an edit:
// a cause keeps its rank while its harm has hardly changed, so that the order does not
// waver; nil for none.
func Causes(r *sight.Result, kept *practice.Result, last *List) *List {
	g := gatherer{r: r, d: r.Design, kept: kept}
	g.findings()
	g.remarks()
	g.pictures()
	g.paths()
	g.fold()
	l := &List{people: len(r.Seats), unknown: kept == nil}
	for _, c := range g.all {
		g.finish(c, last.Find(c.ID))
		switch {
		case c.Family == Build || c.Family == Safety:
			l.Apart = append(l.Apart, c)
		case c.Severity == practice.Note:
			l.Notes = append(l.Notes, c)
		default:
			l.Settle = append(l.Settle, c)
		}
	}
	rank(l.Apart)
	rank(l.Settle)
	rank(l.Notes)
	return l
}
