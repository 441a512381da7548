// SPDX-License-Identifier: MIT

package practice

import "math"

// Band is a range and who sets it.
type Band struct {
	Limits
	Source Source
}

// Bands are the three ranges of a rule that grades, each within the next. An end that
// is open in one of them is not limited there.
type Bands struct {
	Good     Band // met
	Accepted Band // worth a note, and met where nothing better can be had
	Limit    Band // what no solver goes beyond
}

// Grade is how good a measure is.
type Grade uint8

// The grades. Rules with one range only know Good and Beyond.
const (
	Good Grade = iota
	Accepted
	Beyond
)

// String returns "good", "accepted" or "beyond".
func (g Grade) String() string { return [...]string{"good", "accepted", "beyond"}[min(g, Beyond)] }

// MarshalText returns String.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// Grade returns the grade of v.
func (b Bands) Grade(v float64) Grade {
	switch {
	case b.Good.Holds(v):
		return Good
	case b.Accepted.Holds(v):
		return Accepted
	}
	return Beyond
}

// Least returns the lower end of l, -Inf where it is open.
func (l Limits) Least() float64 {
	if l.Min == nil {
		return math.Inf(-1)
	}
	return *l.Min
}

// Most returns the upper end of l, +Inf where it is open.
func (l Limits) Most() float64 {
	if l.Max == nil {
		return math.Inf(1)
	}
	return *l.Max
}

// widened returns l with both ends by further out.
func (l Limits) widened(by float64) Limits {
	if l.Min != nil {
		l.Min = ptr(*l.Min - by)
	}
	if l.Max != nil {
		l.Max = ptr(*l.Max + by)
	}
	return l
}

// mirrored returns l with left and right exchanged.
func (l Limits) mirrored() Limits {
	var m Limits
	if l.Max != nil {
		m.Min = ptr(-*l.Max)
	}
	if l.Min != nil {
		m.Max = ptr(-*l.Min)
	}
	return m
}

func ptr(v float64) *float64 { return &v }

// widened returns b with all ends by further out.
func (b Bands) widened(by float64) Bands {
	b.Good.Limits = b.Good.widened(by)
	b.Accepted.Limits = b.Accepted.widened(by)
	b.Limit.Limits = b.Limit.widened(by)
	return b
}

// graded returns bands of one source.
func graded(good, accepted, limit Limits, source Source) Bands {
	return Bands{Band{good, source}, Band{accepted, source}, Band{limit, source}}
}

// house returns b with the ends that a house standard sets: what it accepts is good.
func (b Bands) house(l Limits) Bands {
	if l.Min != nil {
		b.Good.Min, b.Accepted.Min = l.Min, l.Min
		if b.Limit.Min != nil && *b.Limit.Min > *l.Min {
			b.Limit.Min = l.Min
		}
	}
	if l.Max != nil {
		b.Good.Max, b.Accepted.Max = l.Max, l.Max
		if b.Limit.Max != nil && *b.Limit.Max < *l.Max {
			b.Limit.Max = l.Max
		}
	}
	if l.Min != nil || l.Max != nil {
		b.Good.Source, b.Accepted.Source, b.Limit.Source = houseStandard, houseStandard, houseStandard
	}
	return b
}

// houseStandard is the source of what a house standard sets.
var houseStandard = Source{Document: "the house standard", Status: "as the house sets it"}
