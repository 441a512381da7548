// SPDX-License-Identifier: MIT

package practice

import (
	"fmt"
	"slices"

	"earline/project/practice"
)

// listRow is a line of the list: a rule, or one of its remarks.
type listRow struct {
	rule   practice.Rule
	remark *practice.Remark // nil for the rule itself
	// Of a rule: how many remarks it has and how many fall short.
	all, short int
	worst      practice.Severity // of those that fall short
	off        bool
	reason     string // why it is off
}

// lines returns the list: rules that found something, the most severe first,
// then - if all are asked for - those that are met, at last those that are off.
// Each is followed by its remarks: those that fall short, or all.
func lines(r *practice.Result, std practice.Standard, all bool) []listRow {
	if r == nil {
		return nil
	}
	of := map[string][]*practice.Remark{}
	short := map[string]int{}
	worst := map[string]practice.Severity{}
	for i := range r.Remarks {
		m := &r.Remarks[i]
		of[m.Rule] = append(of[m.Rule], m)
		if !m.OK {
			short[m.Rule]++
			worst[m.Rule] = max(worst[m.Rule], m.Severity)
		}
	}
	rules := practice.Rules()
	rank := func(rule practice.Rule) int {
		switch {
		case std.Changes[rule.ID].Off:
			return 5
		case short[rule.ID] == 0:
			return 4
		}
		return int(practice.Must - worst[rule.ID])
	}
	slices.SortStableFunc(rules, func(a, b practice.Rule) int { return rank(a) - rank(b) })
	var out []listRow
	for _, rule := range rules {
		change := std.Changes[rule.ID]
		found := of[rule.ID]
		if !change.Off && !all && short[rule.ID] == 0 || !change.Off && len(found) == 0 {
			continue
		}
		out = append(out, listRow{rule: rule, all: len(found), short: short[rule.ID], worst: worst[rule.ID], off: change.Off, reason: change.Reason})
		if change.Off {
			continue
		}
		for _, m := range found {
			if all || !m.OK {
				out = append(out, listRow{rule: rule, remark: m})
			}
		}
	}
	return out
}

// words returns the whole of the line.
func (l *listRow) words() string {
	if l.remark != nil {
		return l.remark.Text
	}
	text := l.rule.Title + ": " + l.count()
	if l.off {
		text += ", " + l.reason
	}
	return text
}

// count says what a rule found.
func (l *listRow) count() string {
	switch {
	case l.off:
		return "switched off"
	case l.short == 0:
		return fmt.Sprintf("%d met", l.all)
	case l.short == l.all:
		return fmt.Sprintf("%d short", l.short)
	}
	return fmt.Sprintf("%d of %d short", l.short, l.all)
}
