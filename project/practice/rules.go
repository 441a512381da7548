// SPDX-License-Identifier: MIT

package practice

import (
	"slices"
	"strings"
)

// Rule is one placement rule.
type Rule struct {
	ID       string `json:"id"` // stable: house standards and reports name rules by it
	Title    string `json:"title"`
	Measures string `json:"measures"` // what the number is, and from where
	Unit     Unit   `json:"unit"`
	// Limits is the recommended range. If the range depends on a label or a
	// loudspeaker model, Limits is how far beyond that range is still accepted;
	// Measures says so.
	Limits   Limits   `json:"limits"`
	Why      string   `json:"why"` // for a trainee
	Source   Source   `json:"source"`
	Severity Severity `json:"severity"`
	Group    Group    `json:"group"`
}

// Unit is the unit of a rule's numbers. The keys of a house standard end with it.
type Unit string

// The units.
const (
	Degrees Unit = "deg"
	Metres  Unit = "m"
	Ratio   Unit = "ratio"
	Share   Unit = "share" // 0 to 1
	Count   Unit = "count"
)

// Limits is a range in the unit of its rule; an end that is nil is open.
type Limits struct {
	Min *float64 `json:"min,omitempty"`
	Max *float64 `json:"max,omitempty"`
}

// Holds reports whether v is within l, give or take rounding (1e-9). NaN is
// within any.
func (l Limits) Holds(v float64) bool {
	const rounding = 1e-9 // of a degree or metre: far below any tape
	return (l.Min == nil || !(v < *l.Min-rounding)) && (l.Max == nil || !(v > *l.Max+rounding))
}

func atLeast(v float64) Limits      { return Limits{Min: &v} }
func atMost(v float64) Limits       { return Limits{Max: &v} }
func between(lo, hi float64) Limits { return Limits{Min: &lo, Max: &hi} }

// Source says where a rule's limits are printed. The zero Source is common
// practice.
type Source struct {
	Document string `json:"document,omitempty"`
	Edition  string `json:"edition,omitempty"`
	Clause   string `json:"clause,omitempty"`
	// Status says how far the number was verified: "as quoted in public text",
	// "from memory".
	Status string `json:"status,omitempty"`
}

// FromMemory is the Status of a number that nobody looked up.
const FromMemory = "from memory"

// String returns the source in one line.
func (s Source) String() string {
	if s.Document == "" {
		return "common practice, no source"
	}
	text := s.Document
	if s.Edition != "" {
		text += " (" + s.Edition + ")"
	}
	if s.Clause != "" {
		text += ", " + s.Clause
	}
	if s.Status != "" {
		text += "; " + s.Status
	}
	return text
}

// who names the source in a sentence.
func (s Source) who() string {
	switch {
	case s.Document == "":
		return "common practice"
	case s.Status == FromMemory:
		return s.Document + " (from memory)"
	}
	return s.Document
}

// Severity is how much it matters to break a rule.
type Severity uint8

// The severities. Must: somebody cannot hear, see or walk safely. Should: the
// room falls short of practice. Note: worth knowing.
const (
	Note Severity = iota
	Should
	Must
)

// String returns "note", "should" or "must".
func (s Severity) String() string { return [...]string{"note", "should", "must"}[min(s, Must)] }

// MarshalText returns String.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Group is what a rule is about.
type Group string

// The groups.
const (
	Loudspeakers Group = "loudspeakers"
	Seats        Group = "seats"
	Screen       Group = "screen"
	Rows         Group = "rows"
	Room         Group = "room"
)

// Rules returns every rule, always in the same order.
func Rules() []Rule {
	all := make([]Rule, len(table))
	for i := range table {
		all[i] = table[i].Rule
	}
	return all
}

// Find returns the rule of that ID.
func Find(id string) (Rule, bool) {
	i := slices.IndexFunc(table[:], func(e entry) bool { return e.ID == id })
	if i < 0 {
		return Rule{}, false
	}
	return table[i].Rule, true
}

// ids returns the IDs of all rules, for a message.
func ids() string {
	names := make([]string, len(table))
	for i := range table {
		names[i] = table[i].ID
	}
	return strings.Join(names, ", ")
}
