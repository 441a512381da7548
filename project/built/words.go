// SPDX-License-Identifier: MIT

package built

import (
	"fmt"
	"math"
	"strings"

	"earline/project"
	"earline/project/practice"
)

// Words says how far it is off, and which way: "5 mm low", "2.0° to the left", "as
// planned"; empty where it was not measured.
func (m *Measure) Words(u project.Units) string {
	switch off := m.Off(); {
	case !m.Known:
		return ""
	case m.same():
		return "as planned"
	default:
		way := ways[m.Quantity][0]
		if off < 0 {
			way = ways[m.Quantity][1]
		}
		return figure(m.Quantity, math.Abs(off), u) + " " + way
	}
}

// ways say which way it is to more and to less, of each quantity.
var ways = [...][2]string{
	FromScreen: {"too far back", "too far forward"},
	FromLeft:   {"too far right", "too far left"},
	Height:     {"too high", "too low"},
	Turn:       {"turned to the left", "turned to the right"},
	Tilt:       {"tilted up", "tilted down"},
	Width:      {"too wide", "too narrow"},
}

// Allowed says how far it may be off in the direction in which it is: "allowed 27 mm".
func (m *Measure) Allowed(u project.Units) string {
	allowed := m.More
	if m.Off() < 0 {
		allowed = m.Less
	}
	least := 0.001
	if m.Quantity.Angle() {
		least = 0.1
	}
	return "allowed " + figure(m.Quantity, math.Floor(allowed/least+1e-6)*least, u)
}

// Words says how far d is off in all that was measured: "5 mm too low, allowed 0 mm".
func (d *Deviation) Words(u project.Units) string {
	var all []string
	for i := range d.Measures {
		if m := &d.Measures[i]; !m.same() {
			all = append(all, m.Words(u)+" ("+m.Allowed(u)+")")
		}
	}
	return strings.Join(all, ", ")
}

// Headline says how the room as built stands, in a line.
func (r *Result) Headline() string {
	text := fmt.Sprintf("%d of %d things measured", r.Measured, len(r.Items))
	switch n := len(r.Move); {
	case r.Measured == 0:
		return "Nothing measured yet"
	case n > 0:
		text += fmt.Sprintf("; %d to be moved, first %s", n, r.Move[0].Name)
	case len(r.Stay) > 0:
		text += fmt.Sprintf("; %d off and may stay", len(r.Stay))
	default:
		text += "; all as planned"
	}
	return text
}

// Report is a comparison as data for other programs; its JSON keys are stable.
type Report struct {
	Measured   int            `json:"measured"` // things, of Things
	Things     int            `json:"things"`
	MeasuredOn string         `json:"measured_on,omitempty"`
	Plan       Totals         `json:"plan"`
	Built      Totals         `json:"as_built"`
	Figures    []ReportFigure `json:"figures"` // all that was measured
	Move       []ReportMove   `json:"move"`    // the most harmful first
	Stay       []ReportMove   `json:"stay"`
}

// Totals are the verdicts of one state, as [clear, tight, blocked], and its causes.
type Totals struct {
	Ears   [3]int `json:"ears"`
	Eyes   [3]int `json:"eyes"`
	Settle int    `json:"to_settle"`
	Notes  int    `json:"notes"`
}

// ReportFigure is one measured figure: places in metres of the room frame, angles in
// degrees.
type ReportFigure struct {
	Of       string  `json:"of"`
	Item     string  `json:"item"`
	Quantity string  `json:"quantity"`
	Planned  float64 `json:"planned"`
	Measured float64 `json:"measured"`
	Off      float64 `json:"off"`
	Less     float64 `json:"allowed_less"`
	More     float64 `json:"allowed_more"`
	Within   bool    `json:"within"`
}

// ReportMove is a thing that is not where it is planned.
type ReportMove struct {
	Of     string     `json:"of"`
	Item   string     `json:"item"`
	Off    string     `json:"off"`
	Harm   [2]float64 `json:"harm"` // of what must hold, of what should
	Losses []string   `json:"losses,omitempty"`
}

// Totals returns the totals of s.
func (s *State) Totals() Totals {
	c, v := s.Audit.Count, s.Audit.PictureCount
	settle, notes := s.Causes.Count()
	return Totals{[3]int{c[1], c[2], c[3]}, [3]int{v[1], v[2], v[3]}, settle, notes}
}

// Short reports whether anything of s falls short, as the exit status of an audit says.
func (s *State) Short() bool {
	t := s.Totals()
	if t.Ears[2]+t.Eyes[2] > 0 {
		return true
	}
	for _, c := range s.Causes.All() {
		if c.Severity == practice.Must {
			return true
		}
	}
	return false
}

// Report returns r as data.
func (r *Result) Report(measuredOn string) Report {
	out := Report{Measured: r.Measured, Things: len(r.Items), MeasuredOn: measuredOn, Plan: r.Plan.Totals(), Built: r.Built.Totals(),
		Figures: []ReportFigure{}, Move: []ReportMove{}, Stay: []ReportMove{}}
	for i := range r.Items {
		it := &r.Items[i]
		for k := range it.Measures {
			if m := &it.Measures[k]; m.Known {
				out.Figures = append(out.Figures, ReportFigure{it.ID, it.Name, m.Quantity.String(), m.Planned, m.Measured, math.Round(m.Off()*1e6) / 1e6, m.Less, m.More, m.Within()})
			}
		}
	}
	units := r.Plan.Design.Units
	of := func(all []Deviation, to *[]ReportMove) {
		for i := range all {
			d := &all[i]
			m := ReportMove{Of: d.ID, Item: d.Name, Off: d.Words(units), Harm: [2]float64{d.Harm.Must, d.Harm.Should}}
			for _, l := range d.Losses {
				m.Losses = append(m.Losses, l.Text)
			}
			*to = append(*to, m)
		}
	}
	of(r.Move, &out.Move)
	of(r.Stay, &out.Stay)
	return out
}
