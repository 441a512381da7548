// SPDX-License-Identifier: MIT

package practice

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
	"earline/project/system"
)

// Result is the findings of all rules in one design.
type Result struct {
	// System is the list of channels that the loudspeakers are judged by, as package
	// system says; without a Name when none has any of their labels. Guessed is
	// whether the design leaves the choice open.
	System  system.System
	Guessed bool
	// Standard is what was judged by: the shipped one, and the house's changes.
	Standard Standard
	// Code is the dwelling code that steps and headroom are held to.
	Code DwellingCode
	// Remarks are in the order of the rules, and include those that are OK.
	Remarks []Remark
	// CValues are of the rows that have one in front of them: numbers, no remarks, since
	// the picture's own rules judge the same heads exactly.
	CValues []CValue
	// Checked are the IDs of the rules that were on, also those that found
	// nothing to measure.
	Checked []string
}

// Remark is one finding of one rule.
type Remark struct {
	Rule     string
	OK       bool
	Severity Severity
	Measured float64 // in the unit of the rule
	// Limits is the range that Measured was held to.
	Limits Limits
	// Grade is how good Measured is. What is only accepted is a note, or OK where it is
	// settled: Settled says why nothing better is asked for.
	Grade   Grade
	Settled string
	Source  Source // of Limits
	Text    string // a line with the measured value and the limit
	// Seats and Speakers are indexes into sight.Result, Rows into the design's rows:
	// what the remark is about, or those at fault when OK is false.
	Seats, Speakers, Rows []int
	Mark                  Mark
}

// MarkKind is the shape of a Mark.
type MarkKind uint8

// The kinds of Mark.
const (
	NoMark MarkKind = iota
	// AngleMark is the angle at At between the rays to From and To.
	AngleMark
	// ArcMark is the allowed range: the shorter arc about At from From to To.
	ArcMark
	// PlaneMark is the plane through At with the unit normal Normal; From is the
	// thing and To the point of the plane square below or above it.
	PlaneMark
	// DistanceMark is the line from From to To.
	DistanceMark
	// PointMark is the point At.
	PointMark
)

// Mark is what to draw in the room, metres, room frame.
type Mark struct {
	Kind         MarkKind
	At, From, To geometry.Vec
	Normal       geometry.Vec
	Label        string // the measured value
}

// Check runs all rules on d. r is the audit of d; if it is nil or of another
// design, Check makes it. It is a pure function, safe from any goroutine, and
// accepts any design, valid or not, without panic: what cannot be measured gives no
// remark.
func Check(d *project.Design, r *sight.Result, std Standard) *Result {
	if r == nil || len(r.Speakers) != len(d.Speakers) || len(r.Views) != len(r.Seats) {
		r = sight.Audit(d)
	}
	c := newChecker(d, r, std.For(d))
	for i := range table {
		if !c.take(&table[i].Rule) {
			continue
		}
		c.out.Checked = append(c.out.Checked, c.rule.ID)
		table[i].check(c)
	}
	return c.out
}

// take turns to a rule; on is whether the standard has it.
func (c *checker) take(rule *Rule) (on bool) {
	c.rule, c.held, c.fails = rule, Limits{}, false
	c.lim, on = c.limits[rule.ID]
	change := c.std.Changes[rule.ID]
	c.limitOverridden = change.Min != nil || change.Max != nil
	return on
}

// checker runs the rules one by one and keeps what several of them need.
type checker struct {
	d      *project.Design
	r      *sight.Result
	metric bool
	poly   geometry.Polygon
	other  place.Person
	limits map[string]Limits // of the rules that are on

	std      Standard
	code     DwellingCode
	judgedBy system.System
	all      []system.System // that are known

	directions []direction // by loudspeaker
	groups     []channel
	rows       []row
	survey     *surveyor // nil until somebody asks, as is surveyAll
	surveyAll  *surveyor
	spares     []spare
	heights    map[string]Remark // of the rule on elevation, by label
	floor      place.Floor
	overhead   []hanging

	rule            *Rule
	lim             Limits
	limitOverridden bool // a house standard sets lim
	// What the last remark was held to, and whether it falls short: see show.
	held  Limits
	fails bool
	out   *Result
}

func newChecker(d *project.Design, r *sight.Result, std Standard) *checker {
	c := &checker{
		d: d, r: r, std: std, code: std.Code(d.Criteria.Code), all: system.All(), metric: d.Units != project.Imperial,
		poly:  d.Room.Polygon(),
		floor: place.FloorOf(d), overhead: hangingIn(d),
		other:   place.PersonAt(d, d.Seating.Sitters.Others),
		limits:  make(map[string]Limits, len(table)),
		heights: map[string]Remark{},
		out:     &Result{},
	}
	c.out.Remarks = make([]Remark, 0, 256)
	for i := range table {
		if !c.std.Changes[table[i].ID].Off {
			c.limits[table[i].ID] = c.std.Limits(&table[i].Rule)
		}
	}
	c.judgedBy, _ = system.Of(d)
	c.out.System, c.out.Guessed = c.judgedBy, !d.System.Chosen()
	c.locateSpeakers()
	c.findRows()
	c.cValues()
	c.out.Standard, c.out.Code = c.std, c.code
	return c
}

// remark adds a remark that compares measured with lim. If measured is not a finite
// number, the remark is dropped.
func (c *checker) remark(measured float64, lim Limits) *Remark {
	if math.IsNaN(measured) || math.IsInf(measured, 0) {
		return &Remark{}
	}
	m := Remark{Rule: c.rule.ID, Severity: c.rule.Severity, OK: lim.Holds(measured), Measured: measured, Limits: lim, Source: c.rule.Source}
	if c.limitOverridden {
		m.Source = houseStandard
	}
	if !m.OK {
		m.Grade = Beyond
	}
	c.held, c.fails = lim, !m.OK
	c.out.Remarks = append(c.out.Remarks, m)
	return &c.out.Remarks[len(c.out.Remarks)-1]
}

// codified adds a remark that compares measured with what the chosen dwelling code asks.
// Only a chosen code, or the house, says must: without one it is common practice.
func (c *checker) codified(measured float64, b Band) *Remark {
	m := c.remark(measured, b.Limits)
	m.Source = b.Source
	if !c.code.Chosen() && b.Source != houseStandard {
		m.Severity = Note
	}
	return m
}

// asksCode names what the chosen code asks, or says that none was chosen.
func (c *checker) asksCode(b Band) string {
	text := ", " + b.Source.who() + " asks for " + c.wants(b.Limits)
	if !c.code.Chosen() {
		text += "; not checked against your code"
	}
	return text
}

// graded adds a remark that compares measured with bands: what is accepted is a note.
func (c *checker) graded(measured float64, b Bands) *Remark {
	lim, severity := b.Good.Limits, c.rule.Severity
	grade := b.Grade(measured)
	switch grade {
	case Accepted:
		severity = Note
	case Beyond:
		lim = b.Accepted.Limits
	}
	m := c.remark(measured, lim)
	m.Severity, m.Grade, m.Source = severity, grade, b.Good.Source
	if grade == Beyond {
		m.Source = b.Accepted.Source
	}
	return m
}

// settle makes a remark on what is only accepted one that is met, and says why.
func (c *checker) settle(m *Remark, accepted Limits, why string) {
	m.OK, m.Limits, m.Settled, m.Severity = true, accepted, why, c.rule.Severity
	m.Text += "; settled: " + why
	c.fails = false
}

// Failing returns the remarks that are not OK, the most severe first, else in
// the order of the rules.
func (r *Result) Failing() []Remark {
	var out []Remark
	for s := int(Must); s >= int(Note); s-- {
		for _, m := range r.Remarks {
			if !m.OK && m.Severity == Severity(s) {
				out = append(out, m)
			}
		}
	}
	return out
}

// worst collects the values at several places: it finds the worst, and the places
// that break the limit.
type worst struct {
	lim   Limits
	value float64
	at    int
	fails []int
	any   bool
}

// add adds the value v of place i; more is whether more is worse.
func (w *worst) add(i int, v float64, more bool) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return
	}
	// Of equal values, up to rounding, the first is named.
	const level = 1e-9
	if !w.any || more && v > w.value+level || !more && v < w.value-level {
		w.value, w.at, w.any = v, i, true
	}
	if !w.lim.Holds(v) {
		w.fails = append(w.fails, i)
	}
}

// places returns those at fault, or the worst when none is.
func (w *worst) places() []int {
	if len(w.fails) > 0 {
		return w.fails
	}
	return []int{w.at}
}
