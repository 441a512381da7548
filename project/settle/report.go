// SPDX-License-Identifier: MIT

package settle

import (
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// Report is a List as data for other programs; its JSON keys are stable.
type Report struct {
	Apart  []ReportCause `json:"apart"` // never to be overlooked: what cannot be built, steps and ways
	Settle []ReportCause `json:"settle"`
	Notes  []ReportCause `json:"notes"`
}

// ReportCause is a Cause with its places named.
type ReportCause struct {
	ID           string        `json:"id"`
	Family       string        `json:"family"`
	Severity     string        `json:"severity"`
	Subject      string        `json:"subject"`
	Text         string        `json:"text"`
	Harm         float64       `json:"harm"`
	Seats        []string      `json:"seats,omitempty"` // "2.3" is row 2 seat 3
	Loudspeakers []string      `json:"loudspeakers,omitempty"`
	Rows         []int         `json:"rows,omitempty"` // from 1
	Findings     []fit.Finding `json:"findings,omitempty"`
	Remarks      []int         `json:"remarks,omitempty"` // indexes into the remarks of the rules, from 0
	Follows      []ReportCause `json:"follows,omitempty"` // what follows from it
	Cure         string        `json:"cure"`
	Solver       string        `json:"solver,omitempty"`
}

// Report returns l as data; r and kept are what was passed to Causes.
func (l *List) Report(r *sight.Result, kept *practice.Result) Report {
	index := map[*practice.Remark]int{}
	if kept != nil {
		for i := range kept.Remarks {
			index[&kept.Remarks[i]] = i
		}
	}
	of := func(causes []*Cause) []ReportCause {
		all := make([]ReportCause, len(causes))
		for i, c := range causes {
			all[i] = c.report(r, index)
		}
		return all
	}
	return Report{of(l.Apart), of(l.Settle), of(l.Notes)}
}

func (c *Cause) report(r *sight.Result, index map[*practice.Remark]int) ReportCause {
	cure := c.Cure()
	out := ReportCause{ID: c.ID, Family: c.Family.String(), Severity: c.Severity.String(), Subject: c.Subject, Text: c.Text,
		Harm: c.Harm, Findings: c.Findings, Cure: cure.Says, Solver: cure.Solver}
	for _, i := range c.Seats {
		out.Seats = append(out.Seats, r.Seats[i].Name())
	}
	for _, k := range c.Speakers {
		out.Loudspeakers = append(out.Loudspeakers, r.Speakers[k].Name())
	}
	for _, i := range c.Rows {
		out.Rows = append(out.Rows, i+1)
	}
	for _, m := range c.Remarks {
		out.Remarks = append(out.Remarks, index[m])
	}
	for _, f := range c.Folded {
		out.Follows = append(out.Follows, f.report(r, index))
	}
	return out
}
