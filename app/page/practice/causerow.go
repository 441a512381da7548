// SPDX-License-Identifier: MIT

package practice

import (
	"fmt"

	"earline/project/fit"
	"earline/project/practice"
	"earline/project/settle"
)

// part is what of the causes is listed.
type part struct {
	open  string // the ID of the cause whose remarks are listed; empty for none
	more  bool   // causes beyond the first few
	notes bool
}

// fold is a line that stands for causes that are not listed.
type fold uint8

// The folds.
const (
	noFold fold = iota
	moreFold
	notesFold
)

// causeLines lists what is to be settled: what nobody may overlook, the most harmful
// causes, what else there is, and what the house has switched off.
func causeLines(l *settle.List, std practice.Standard, p part) []listRow {
	if l == nil {
		return nil
	}
	var out []listRow
	cause := func(c *settle.Cause) {
		out = append(out, listRow{cause: c})
		if c.ID != p.open {
			return
		}
		for i := range c.Findings {
			out = append(out, listRow{finding: &c.Findings[i], of: c})
		}
		for _, m := range c.Everything() {
			rule, _ := practice.Find(m.Rule)
			out = append(out, listRow{rule: rule, remark: m, of: c})
		}
	}
	apart := func(notes bool) {
		for _, c := range l.Apart {
			if (c.Severity == practice.Note) == notes {
				cause(c)
			}
		}
	}
	apart(false)
	top, more := l.Lead()
	for _, c := range top {
		cause(c)
	}
	if more > 0 {
		out = append(out, listRow{fold: moreFold, all: more, off: p.more})
	}
	if p.more {
		for _, c := range l.Settle[len(top):] {
			cause(c)
		}
	}
	apart(true) // which are no more than notes, but about people's safety
	if n := len(l.Notes); n > 0 {
		out = append(out, listRow{fold: notesFold, all: n, off: p.notes})
	}
	if p.notes {
		for _, c := range l.Notes {
			cause(c)
		}
	}
	for _, rule := range practice.Rules() {
		if c := std.Changes[rule.ID]; c.Off {
			out = append(out, listRow{rule: rule, off: true, reason: c.Reason})
		}
	}
	return out
}

// foldWords says what a fold stands for.
func (l *listRow) foldWords() string {
	name := fmt.Sprintf("and %d more", l.all)
	if l.fold == notesFold {
		name = fmt.Sprintf("%d notes", l.all)
		if l.all == 1 {
			name = "1 note"
		}
	}
	if l.off {
		return "▾ " + name
	}
	return "▸ " + name
}

// lead returns the remark that a line is drawn by; nil for none.
func (l *listRow) lead() *practice.Remark {
	switch {
	case l.remark != nil:
		return l.remark
	case l.cause != nil && len(l.cause.Remarks) > 0:
		return l.cause.Remarks[0]
	}
	return nil
}

// in returns the cause under which a line stands, or that it is; nil for none.
func (l *listRow) in() *settle.Cause {
	if l.cause != nil {
		return l.cause
	}
	return l.of
}

// item returns what cannot be built of a line; nil for nothing.
func (l *listRow) item() *fit.Finding {
	switch {
	case l.finding != nil:
		return l.finding
	case l.cause != nil && len(l.cause.Findings) > 0:
		return &l.cause.Findings[0]
	}
	return nil
}
