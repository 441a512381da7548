// SPDX-License-Identifier: MIT

package lesson

import "earline/project/settle"

// Report is a Mark as data for other programs; its JSON keys are stable.
type Report struct {
	Points   int           `json:"points"`
	Of       int           `json:"of"`
	Solved   bool          `json:"solved"`
	Faults   []ReportFault `json:"faults"`
	Made     []ReportCause `json:"made"`
	Left     []ReportCause `json:"left"` // the best answer has them too
	Lost     []string      `json:"lost"`
	Question string        `json:"question,omitempty"`
	Why      string        `json:"why,omitempty"`
	Answers  []ReportWay   `json:"answers,omitempty"`
}

// ReportFault is one fault of a lesson.
type ReportFault struct {
	Cause    string `json:"cause"`
	State    string `json:"state"` // "mended", "found", "missed"
	Severity string `json:"severity"`
	Text     string `json:"text"`
	Now      string `json:"now,omitempty"`
	Rule     string `json:"rule,omitempty"`
	Why      string `json:"why,omitempty"`
	Source   string `json:"source,omitempty"`
	Cure     string `json:"cure,omitempty"`
}

// ReportCause is one cause that is no fault of the lesson.
type ReportCause struct {
	Cause    string `json:"cause"`
	Severity string `json:"severity"`
	Text     string `json:"text"`
}

// ReportWay is one way out of a dilemma.
type ReportWay struct {
	Answer string   `json:"answer"`
	Leaves []string `json:"leaves"`
}

// Report returns m as data.
func (m *Mark) Report() Report {
	out := Report{Solved: m.Solved(), Lost: m.Lost, Question: m.Lesson.Question, Why: m.Lesson.Why, Made: report(m.Made), Left: report(m.Left)}
	out.Points, out.Of = m.Score()
	if out.Lost == nil {
		out.Lost = []string{}
	}
	for _, f := range m.Faults {
		r := ReportFault{Cause: f.Cause, State: f.State.String(), Severity: f.Severity.String(), Text: f.Text, Now: f.Now, Rule: f.Rule.ID, Why: f.Rule.Why, Cure: f.Cure}
		if f.Rule.ID != "" {
			r.Source = f.Source.String()
		}
		out.Faults = append(out.Faults, r)
	}
	for _, a := range m.Answers {
		out.Answers = append(out.Answers, ReportWay(a))
	}
	return out
}

func report(causes []*settle.Cause) []ReportCause {
	out := []ReportCause{}
	for _, c := range causes {
		out = append(out, ReportCause{c.ID, c.Severity.String(), c.Text})
	}
	return out
}
