// SPDX-License-Identifier: MIT

package chart

import "math"

// track is the line of pixels that an axis lies on.
type track struct {
	from, to   float64 // pixels of its ends
	horizontal bool
	k          float64              // pixels to a point
	width      func(string) float64 // of a text, pixels
}

func (t *track) length() float64 { return math.Abs(t.to - t.from) }

// tick is a line of the grid and what is written at it.
type tick struct {
	value      float64
	text       string // "" for a line without a number
	secondLine string
	major      bool
}

// scale places the values of an axis on its track.
type scale struct {
	track
	axis     *Axis
	kind     AxisKind
	min, max float64 // at from and to
	ticks    []tick
	unit     string
	factor   float64 // of written numbers: 1000 for ms
	digits   int     // of numbers at ticks, behind the point
}

// pixel returns where v stands, which may be outside the track.
func (s *scale) pixel(v float64) float64 {
	const far = 1e5 // px, beyond any display, before float32 rasters lose pixels
	return min(max(s.from+(s.to-s.from)*s.fraction(v), -far), far)
}

// fraction returns how far along the track v stands, 0 to 1 inside.
func (s *scale) fraction(v float64) float64 {
	if s.kind == Frequency {
		if v <= 0 {
			return -maxValue
		}
		return math.Log(v/s.min) / math.Log(s.max/s.min)
	}
	return (v - s.min) / (s.max - s.min)
}

// value returns what stands at pixel p.
func (s *scale) value(p float64) float64 {
	t := (p - s.from) / (s.to - s.from)
	if s.kind == Frequency {
		return s.min * math.Pow(s.max/s.min, t)
	}
	return s.min + t*(s.max-s.min)
}

// newScale returns the scale of an axis with its ticks. What ax does not bound
// takes its bounds from the data, rounded outwards.
func newScale(ax *Axis, data extent, on track) scale {
	switch {
	case ax.Kind == Frequency:
		return frequencyScale(ax, data, on)
	case ax.Kind == Category && on.horizontal:
		return categoryScale(ax, on)
	case ax.Kind == Decibel:
		return decibelScale(ax, data, on)
	case ax.Kind == Time:
		return timeScale(ax, data, on)
	}
	return linearScale(ax, data, on)
}

func linearScale(ax *Axis, data extent, on track) scale {
	s := scale{track: on, axis: ax, kind: Linear, unit: ax.Unit, factor: 1}
	b := ax.bounds(data.or(extent{0, 1}), -maxValue)
	b = b.widened(leastLength(b, 1))
	step, _ := s.step(b, 0)
	s.divide(b, step)
	return s
}

func timeScale(ax *Axis, data extent, on track) scale {
	s := scale{track: on, axis: ax, kind: Time, unit: "s", factor: 1}
	b := ax.bounds(data.or(extent{0, 1}), -maxValue)
	b = b.widened(leastLength(b, 0.01))
	if math.Max(math.Abs(b.lo), math.Abs(b.hi)) <= 0.5 {
		s.unit, s.factor = "ms", 1000
	}
	step, _ := s.step(b, 0)
	s.divide(b, step)
	return s
}

// leastLength returns how long an axis must be whose data are all alike: least, or
// a fifth of their value; 0 where they are not.
func leastLength(b bounds, least float64) float64 {
	if hasLength(b.lo, b.hi) {
		return 0
	}
	return max(least, 0.2*math.Abs(b.lo))
}

func decibelScale(ax *Axis, data extent, on track) scale {
	s := scale{track: on, axis: ax, kind: Decibel, unit: ax.Unit, factor: 1}
	if s.unit == "" {
		s.unit = "dB"
	}
	const least = 20 // dB, so that ripples of a tenth do not look like faults
	b := ax.bounds(data.or(extent{-20, 0}), -maxValue).widened(least)
	step, most := s.step(b, 1)
	if b.loFixed && b.hiFixed {
		// A step that meets both ends, where there is one of about that size.
		for _, m := range []float64{1, 2, 3, 5, 6, 10, 12, 20} {
			if m >= step/2 && m >= (b.hi-b.lo)/most && m <= 2*step && math.Mod(b.lo, m) == 0 && math.Mod(b.hi, m) == 0 {
				step = m
				break
			}
		}
	}
	s.divide(b, step)
	return s
}

// step returns the smallest nice step, at least least, whose numbers have room on
// the track, and how many steps that room would take. Steps are in written numbers.
func (s *scale) step(b bounds, least float64) (step, most float64) {
	gap := 24 * s.k
	if s.horizontal {
		gap = 46 * s.k
	}
	const many = 13.0 // numbers: more of them are a pattern, not a help
	most = min(max(math.Floor(s.length()/gap), 1), many)
	step = niceStep((b.hi-b.lo)*s.factor/most, least)
	if s.horizontal { // again, with the numbers as they would be written
		widest := 0.0
		for _, v := range []float64{b.lo, b.hi, b.lo + step/s.factor} {
			widest = max(widest, s.width(formatNumber(v*s.factor, decimals(step))))
		}
		most = min(max(math.Floor(s.length()/max(gap, widest+14*s.k)), 1), 2*many)
		step = niceStep((b.hi-b.lo)*s.factor/most, least)
	}
	return step, most
}

// divide sets the ends of the scale and its ticks, a step of written numbers apart.
func (s *scale) divide(b bounds, step float64) {
	if !b.loFixed {
		b.lo = math.Floor(b.lo*s.factor/step+1e-9) * step / s.factor
	}
	if !b.hiFixed {
		b.hi = math.Ceil(b.hi*s.factor/step-1e-9) * step / s.factor
	}
	s.min, s.max, s.digits = b.lo, b.hi, decimals(step)
	first, last := math.Ceil(b.lo*s.factor/step-1e-6), math.Floor(b.hi*s.factor/step+1e-6)
	if last-first > maxTicks {
		last = first + maxTicks
	}
	for i := first; i <= last; i++ {
		v := i * step / s.factor
		s.ticks = append(s.ticks, tick{value: v, text: formatNumber(i*step, s.digits), major: true})
	}
	s.subdivide(step)
}

// maxTicks is more than can be told apart on any display.
const maxTicks = 400

// subdivide adds finer lines between the ticks, where they can be told apart:
// fifths of a step of five, thirds of one of three, halves of all else.
func (s *scale) subdivide(step float64) {
	parts := 2.0
	switch lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9)); {
	case math.Abs(lead-5) < 1e-6:
		parts = 5
	case math.Abs(lead-3) < 1e-6:
		parts = 3
	}
	fine := step / s.factor / parts
	if fine/(s.max-s.min)*s.length() < 11*s.k {
		return
	}
	for i := math.Ceil(s.min/fine - 1e-6); i*fine <= s.max*(1+1e-12) && len(s.ticks) < 4*maxTicks; i++ {
		if math.Mod(math.Abs(i), parts) != 0 {
			s.ticks = append(s.ticks, tick{value: i * fine})
		}
	}
}

// niceStep returns the smallest of 1, 2 and 5 times a power of ten that is at least
// v and least.
func niceStep(v, least float64) float64 {
	v = max(v, least)
	if !(v > 0) || v > maxValue*10 {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// decimals returns how many digits behind the point a multiple of step needs.
func decimals(step float64) int {
	return int(min(max(-math.Floor(math.Log10(step)+1e-9), 0), 9))
}

// categoryScale gives each category a slot of the track, and as many of them a
// name as have room.
func categoryScale(ax *Axis, on track) scale {
	names := ax.Categories
	n := max(len(names), 1)
	s := scale{track: on, axis: ax, kind: Category, min: -0.5, max: float64(n) - 0.5, unit: ax.Unit, factor: 1}
	slot := s.length() / float64(n)
	widest := 0.0
	for _, t := range names {
		widest = max(widest, s.width(t))
	}
	// Long names are shortened, but not so far that they look alike.
	every := max(int(math.Ceil(min(widest+8*s.k, 48*s.k)/slot)), 1)
	for i, t := range names {
		if i%every != 0 {
			continue
		}
		lines := wrap(t, slot*float64(every)-6*s.k, 2, s.width)
		lines = append(lines, "", "")
		s.ticks = append(s.ticks, tick{value: float64(i), text: lines[0], secondLine: lines[1], major: true})
	}
	return s
}
