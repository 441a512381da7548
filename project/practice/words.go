// SPDX-License-Identifier: MIT

package practice

import (
	"fmt"
	"math"
	"strconv"

	"earline/geometry/unit"
	"earline/project/sight"
)

// show prints v in the rule's unit and the design's system, with as many digits as
// tell a value that falls short from its limit.
func (c *checker) show(v float64) string {
	text := c.plain(v, 0)
	if !c.fails {
		return text
	}
	for _, end := range [2]*float64{c.held.Min, c.held.Max} {
		for more := 1; end != nil && more < 7; more++ {
			if text != c.plain(math.Copysign(*end, v), more-1) || math.Abs(v) == math.Abs(*end) {
				break
			}
			text = c.plain(v, more)
		}
	}
	return text
}

// plain prints v with so many digits more than usual.
func (c *checker) plain(v float64, more int) string {
	switch c.rule.Unit {
	case Degrees:
		return strconv.FormatFloat(v+0, 'f', 1+more, 64) + "°"
	case Metres:
		switch {
		case more == 0:
			return c.length(v)
		case c.metric:
			return strconv.FormatFloat(v, 'f', 3+more, 64) + " m"
		}
		return strconv.FormatFloat(v/float64(unit.Inch), 'f', 2+more, 64) + `"`
	case Share:
		return strconv.FormatFloat(100*v, 'f', 1+more, 64) + " %"
	case Ratio:
		return strconv.FormatFloat(v, 'f', 2+more, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

func (c *checker) length(v float64) string { return unit.Length(v).Format(c.metric) }

func degrees(v float64) string { return strconv.FormatFloat(v+0, 'f', 1, 64) + "°" }

// limit prints an end of a range, without needless zeros.
func (c *checker) limit(v float64) string {
	switch c.rule.Unit {
	case Degrees:
		return unit.Degrees(v).String()
	case Ratio:
		return strconv.FormatFloat(v, 'g', 4, 64)
	case Share:
		return strconv.FormatFloat(100*v, 'g', 3, 64) + " %"
	case Metres:
		if v == 0 && c.metric {
			return "0 m"
		}
	}
	return c.show(v)
}

// asks names the limit and who sets it: ", common practice asks for 2° or less".
func (c *checker) asks(lim Limits) string {
	who := c.rule.Source.who()
	if c.limitOverridden {
		who = "the house standard"
	}
	return ", " + who + " asks for " + c.wants(lim)
}

// asksBands names what is good and who asks for it, and what else is accepted by whom.
func (c *checker) asksBands(b Bands, g Grade) string {
	good, accepted := c.wants(b.Good.Limits), c.wants(b.Accepted.Limits)
	text := ", " + b.Good.Source.who() + " asks for " + good
	if g == Good || accepted == good {
		return text
	}
	text += "; " + accepted + " is accepted"
	if who := b.Accepted.Source.who(); who != b.Good.Source.who() {
		text += " by " + who
	}
	return text
}

func (c *checker) wants(lim Limits) string {
	switch {
	case lim.Min != nil && lim.Max != nil:
		return c.limit(*lim.Min) + " to " + c.limit(*lim.Max)
	case lim.Min != nil:
		return c.limit(*lim.Min) + " or more"
	case lim.Max != nil && c.rule.Unit == Count:
		return c.limit(*lim.Max) + " or fewer"
	case lim.Max != nil:
		return c.limit(*lim.Max) + " or less"
	}
	return "nothing"
}

func (c *checker) seatWords(i int) string {
	s := &c.r.Seats[i]
	return "row " + strconv.Itoa(s.Row) + " seat " + strconv.Itoa(s.Number)
}

// counted is a number of things: "1 system", "2 systems".
func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return strconv.Itoa(n) + " " + what
}

func rowWords(i int) string { return "row " + strconv.Itoa(i+1) }

func (c *checker) speaker(k int) string { return c.r.Speakers[k].Name() }

// Summary says in one line how many rules and remarks there are and how many
// remarks fall short: "47 rules, 120 measured: 1 must, 4 should, 6 note".
func (r *Result) Summary() string {
	return fmt.Sprintf("%d rules, %d measured: %s", len(r.Checked), len(r.Remarks), countWords(r.Counts()))
}

// By says by what the design was judged: "by J (4+7+0), chosen; Raised bed; IRC".
func (r *Result) By() string {
	by := "by no system"
	if r.System.Name != "" {
		by = "by " + r.System.Name
		if r.System.Published() {
			by = "by " + r.System.Letter + " (" + r.System.Name + ")"
		}
		if r.Guessed {
			by += ", guessed from the labels"
		} else {
			by += ", chosen"
		}
	}
	by += "; " + r.Standard.String()
	if r.Code.Chosen() {
		by += "; " + r.Code.Name
	}
	return by
}

// Counts returns how many remarks of each severity fall short.
func (r *Result) Counts() (n [Must + 1]int) {
	for i := range r.Remarks {
		if m := &r.Remarks[i]; !m.OK {
			n[m.Severity]++
		}
	}
	return n
}

// Short says how many remarks fall short: "1 must, 4 should, 6 note", or "all met".
func (r *Result) Short() string {
	n := r.Counts()
	if n == [Must + 1]int{} {
		return "all met"
	}
	return countWords(n)
}

func countWords(n [Must + 1]int) string {
	return fmt.Sprintf("%d must, %d should, %d note", n[Must], n[Should], n[Note])
}

// Lines returns a line for every remark that falls short, the most severe first
// ("must    sight: …"), or for all remarks in the order of the rules ("ok …").
func (r *Result) Lines(all bool) []string {
	remarks := r.Failing()
	if all {
		remarks = r.Remarks
	}
	out := make([]string, len(remarks))
	for i, m := range remarks {
		word := m.Severity.String()
		if m.OK {
			word = "ok"
		}
		out[i] = fmt.Sprintf("%-6s  %s: %s", word, m.Rule, m.Text)
	}
	return out
}

// Report is a Result as data for other programs; its JSON keys are stable.
type Report struct {
	System   string         `json:"bs2051_system,omitempty"` // its letter, of a published one
	JudgedBy ReportSystem   `json:"system"`
	Standard string         `json:"standard"`
	Code     string         `json:"dwelling_code,omitempty"`
	CValues  []CValue       `json:"c_values,omitempty"`
	Checked  []string       `json:"checked"`
	Remarks  []ReportRemark `json:"remarks"`
}

// ReportSystem is the system judged by.
type ReportSystem struct {
	Name    string `json:"name"`
	Guessed bool   `json:"guessed"`
}

// ReportRemark is one Remark with its places named.
type ReportRemark struct {
	Rule         string   `json:"rule"`
	Title        string   `json:"title"`
	OK           bool     `json:"ok"`
	Severity     string   `json:"severity"`
	Measured     float64  `json:"measured"`
	Unit         Unit     `json:"unit"`
	Min          *float64 `json:"min,omitempty"`
	Max          *float64 `json:"max,omitempty"`
	Grade        string   `json:"grade"`
	Settled      string   `json:"settled,omitempty"` // why nothing better is asked for
	Text         string   `json:"text"`
	Source       string   `json:"source"`
	Seats        []string `json:"seats,omitempty"` // "2.3" is row 2 seat 3
	Loudspeakers []string `json:"loudspeakers,omitempty"`
	Rows         []int    `json:"rows,omitempty"` // from 1
}

// Report returns r as data; s is the audit passed to Check.
func (r *Result) Report(s *sight.Result) Report {
	rep := Report{System: r.System.Letter, JudgedBy: ReportSystem{r.System.Name, r.Guessed}, Standard: r.Standard.String(), Code: r.Code.Name, CValues: r.CValues,
		Checked: append([]string{}, r.Checked...), Remarks: []ReportRemark{}}
	for _, m := range r.Remarks {
		rule, _ := Find(m.Rule)
		out := ReportRemark{
			Rule: m.Rule, Title: rule.Title, OK: m.OK, Severity: m.Severity.String(),
			Measured: m.Measured, Unit: rule.Unit, Min: m.Limits.Min, Max: m.Limits.Max,
			Grade: m.Grade.String(), Settled: m.Settled, Text: m.Text, Source: m.Source.String(),
		}
		for _, i := range m.Seats {
			out.Seats = append(out.Seats, s.Seats[i].Name())
		}
		for _, k := range m.Speakers {
			out.Loudspeakers = append(out.Loudspeakers, s.Speakers[k].Name())
		}
		for _, i := range m.Rows {
			out.Rows = append(out.Rows, i+1)
		}
		rep.Remarks = append(rep.Remarks, out)
	}
	return rep
}
