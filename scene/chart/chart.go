// SPDX-License-Identifier: MIT

package chart

import (
	"math"

	"earline/scene/drawing"
)

// Chart is what is drawn. The zero value is an empty field with axes from 0 to 1.
type Chart struct {
	Title  string
	X, Y   Axis
	Series []Series
	// Bands are regions that a curve is to keep to, or out of.
	Bands []Band
	// Marks are places on the x axis: a crossover, the Schroeder frequency.
	Marks []Mark
	// Outside are the spans in which the model is not valid. They are hatched.
	Outside []Span
	// Note is what the reader must know, in the smallest type under the field.
	Note string
}

// AxisKind says how values become places and how they are written.
type AxisKind uint8

// The kinds of axis.
const (
	Linear    AxisKind = iota
	Frequency          // hertz, logarithmic, ticks at the bands of ISO 266
	Decibel            // linear, in steps that divide ten; at least 20 dB
	Time               // seconds, written in ms where the axis ends before half a second
	Category           // places 0, 1, 2 ... with the names of Categories; x only
)

// Axis is one of the two axes.
type Axis struct {
	Label string // what is measured: "Level"
	Unit  string // in what: "dB"; Frequency and Time have their own, and "" is dB for Decibel
	Kind  AxisKind
	// Min and Max bound the axis. Both zero, or what is NaN, infinite or the
	// wrong way round, is taken from the data and rounded outwards.
	Min, Max   float64
	Categories []string
}

// Kind is how a series is drawn.
type Kind uint8

// The kinds of series.
const (
	Line   Kind = iota
	Stems       // a stick for each point, from the foot of the field, or from Low
	Steps       // constant around each point, halfway to its neighbours
	Points      // a symbol for each point
	Area        // filled between Low and Y
	Bars        // one for each point, side by side with those of other series
)

// Dash is the pattern of a line.
type Dash = drawing.Dash

// The patterns. Auto gives each line of a chart that is not quiet the next one.
const (
	Auto       = drawing.Auto
	Solid      = drawing.Solid
	Dashed     = drawing.Dashed
	Dotted     = drawing.Dotted
	DashDotted = drawing.DashDotted
)

// Series is a run of points, as many as the shorter of X and Y holds. A point with a
// value that is NaN, infinite or beyond ±1e12 is a gap.
type Series struct {
	Name string
	Kind Kind
	X, Y []float64
	// Low is the lower edge of an Area and the foot of Stems and Bars.
	Low []float64
	// Names of the points, for the read-out: "ceiling", "left wall".
	Names []string
	// Ink is the number of a colour of the style, from 1; 0 takes the next one that
	// no earlier series took.
	Ink  int
	Dash Dash
	// Heavy lines are drawn thick: a mean, what is selected. Quiet ones are thin and
	// pale: the many that a heavy one stands for.
	Heavy, Quiet bool
	// Group names many series together, "seats". The quiet series of a group share
	// one entry of the legend.
	Group string
}

// Tone says what a band means.
type Tone uint8

// The tones.
const (
	Wanted   Tone = iota // a target, a tolerance
	Unwanted             // where nothing may be; hatched
)

// Band is a region between Low and High over X, straight between the points. With
// no X it reaches across the field and the first of Low and High counts. An
// infinite edge reaches the edge of the field.
type Band struct {
	Label        string
	Tone         Tone
	X, Low, High []float64
}

// Across returns a band from low to high over the whole width.
func Across(low, high float64, label string) Band {
	return Band{Label: label, Low: []float64{low}, High: []float64{high}}
}

// Mark is a line across the field at X.
type Mark struct {
	X     float64
	Label string
}

// Span is a part of the x axis. An infinite end reaches the end of the axis.
type Span struct {
	From, To float64
	Label    string
}

// maxValue bounds the values that are drawn: a hundred times what any quantity of
// rooms needs, and far below where differences of float64 lose a tick.
const maxValue = 1e12

// inRange reports whether v can be drawn; NaN cannot.
func inRange(v float64) bool { return v >= -maxValue && v <= maxValue }

// length returns how many points s has.
func (s *Series) length() int { return min(len(s.X), len(s.Y)) }

// point returns point i, false for a gap.
func (s *Series) point(i int) (x, y float64, ok bool) {
	x, y = s.X[i], s.Y[i]
	return x, y, inRange(x) && inRange(y)
}

// foot returns the lower end of point i, false when it has none.
func (s *Series) foot(i int) (float64, bool) {
	if i < len(s.Low) && inRange(s.Low[i]) {
		return s.Low[i], true
	}
	return 0, false
}

// edges returns the corners of b, infinite values replaced by the ends of the axis;
// ok is false when there is nothing to draw.
func (b *Band) edges(x0, x1, y0, y1 float64) (x, low, high []float64, ok bool) {
	at := func(v []float64, i int, none float64) float64 {
		switch {
		case i >= len(v) || math.IsNaN(v[i]):
			return none
		case v[i] < -maxValue:
			return y0
		case v[i] > maxValue:
			return y1
		}
		return v[i]
	}
	if len(b.X) == 0 {
		if len(b.Low) == 0 && len(b.High) == 0 {
			return nil, nil, nil, false
		}
		l, h := at(b.Low, 0, y0), at(b.High, 0, y1)
		return []float64{x0, x1}, []float64{l, l}, []float64{h, h}, true
	}
	for i, v := range b.X {
		if math.IsNaN(v) {
			continue
		}
		x = append(x, min(max(v, -maxValue), maxValue))
		low = append(low, at(b.Low, i, y0))
		high = append(high, at(b.High, i, y1))
	}
	return x, low, high, len(x) > 1
}
