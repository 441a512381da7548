// SPDX-License-Identifier: MIT

package project

import (
	"math"
	"slices"
)

// Limits of an equalisation.
const (
	MaxFilters      = 20 // of one output of the processor
	MaxTargetPoints = 40
)

// Equalisation is what the bass is to sound like at the seats, and the filters of the
// processor that bring it there.
type Equalisation struct {
	Target  Target   `json:"target,omitzero"`
	Filters []Filter `json:"filters,omitempty"`
}

// Target is the level that is wanted by frequency. Without points it is flat.
type Target struct {
	Name string `json:"name,omitempty"`
	// Points are joined by straight lines over the logarithm of frequency; beyond the
	// first and the last the level stays. 0 dB is the level of Playback.
	Points []TargetPoint `json:"points,omitempty"`
}

// TargetPoint is a corner of a target.
type TargetPoint struct {
	Frequency float64 `json:"hz"`
	Level     float64 `json:"db"`
}

// Filter is one filter of a parametric equaliser.
type Filter struct {
	Of        string     `json:"of"` // AllSubwoofers, or the ID of a loudspeaker
	Kind      FilterKind `json:"kind"`
	Frequency float64    `json:"hz"` // of the middle: of a peak, of a shelf's slope
	Gain      float64    `json:"gain_db,omitempty"`
	Q         float64    `json:"q"`
}

// AllSubwoofers in Filter.Of is a filter that all subwoofers have alike, in Response.Of
// that all of them played.
const AllSubwoofers = "subwoofers"

// FilterKind is the shape of a filter.
type FilterKind string

// The kinds. A high-pass, against what is too low for a subwoofer, has no gain.
const (
	Peak      FilterKind = "peak"
	LowShelf  FilterKind = "low shelf"
	HighShelf FilterKind = "high shelf"
	HighPass  FilterKind = "high-pass"
)

// Given reports whether a target or a filter was given.
func (e Equalisation) Given() bool {
	return e.Target.Name != "" || len(e.Target.Points) > 0 || len(e.Filters) > 0
}

// Common returns the filters that all subwoofers have alike.
func (e Equalisation) Common() []Filter { return e.of(AllSubwoofers) }

// Own returns the filters of the loudspeaker of that ID alone.
func (e Equalisation) Own(id string) []Filter {
	if id == "" || id == AllSubwoofers {
		return nil
	}
	return e.of(id)
}

func (e Equalisation) of(output string) []Filter {
	var out []Filter
	for _, f := range e.Filters {
		if f.Of == output {
			out = append(out, f)
		}
	}
	return out
}

// At returns the level that is wanted at f hertz, dB.
func (t Target) At(f float64) float64 {
	n := len(t.Points)
	if n == 0 {
		return 0
	}
	i := slices.IndexFunc(t.Points, func(p TargetPoint) bool { return p.Frequency >= f })
	switch i {
	case 0:
		return t.Points[0].Level
	case -1:
		return t.Points[n-1].Level
	}
	a, b := t.Points[i-1], t.Points[i]
	return a.Level + (b.Level-a.Level)*math.Log(f/a.Frequency)/math.Log(b.Frequency/a.Frequency)
}

// Called returns the name of t in words.
func (t Target) Called() string {
	switch {
	case t.Name != "":
		return t.Name
	case len(t.Points) > 0:
		return "the design's own curve"
	}
	return "flat"
}

func (e Equalisation) clone() Equalisation {
	e.Target.Points, e.Filters = slices.Clone(e.Target.Points), slices.Clone(e.Filters)
	return e
}
