// SPDX-License-Identifier: MIT

package chart

import (
	"math"
	"strconv"
	"strings"
)

// minus is U+2212: a hyphen is easily missed before a small figure.
const minus = "−"

// formatNumber writes v with that many digits behind the point.
func formatNumber(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if abs := math.Abs(v); abs >= 1e7 {
		s = strconv.FormatFloat(v, 'g', 4, 64)
	}
	if t, ok := strings.CutPrefix(s, "-"); ok {
		if strings.Trim(t, "0.") == "" {
			return t
		}
		return minus + t
	}
	return s
}

// formatHertz writes a frequency as at a tick: 31.5, 125, 1k, 12.5k.
func formatHertz(v float64) string {
	if v >= 1000 {
		return formatSignificant(v/1000, 4) + "k"
	}
	return formatSignificant(v, 4)
}

// say writes a value with its unit, for the read-out.
func (s *scale) say(v float64) string {
	switch s.kind {
	case Frequency:
		if v >= 1000 {
			return formatSignificant(v/1000, 3) + " kHz"
		}
		return formatSignificant(v, 3) + " Hz"
	case Category:
		i := int(math.Round(v))
		if i < 0 || i >= len(s.axis.Categories) {
			return ""
		}
		return withUnit(s.axis.Categories[i], s.unit)
	case Decibel:
		return withUnit(formatNumber(v, 1), s.unit)
	}
	// One digit more than at the ticks: a display shows a hundredth of a step at best.
	return withUnit(formatNumber(v*s.factor, min(s.digits+1, 9)), s.unit)
}

// formatSignificant writes v with at most n significant digits behind the point,
// without zeros at the end.
func formatSignificant(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	d := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	s := formatNumber(v, min(max(d, 0), 9))
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func withUnit(text, unit string) string {
	if unit == "" {
		return text
	}
	return text + " " + unit
}

// title returns the name of the axis with its unit: "Level, dB".
func (s *scale) title() string {
	switch {
	case s.unit == "":
		return s.axis.Label
	case s.axis.Label == "":
		return s.unit
	}
	return s.axis.Label + ", " + s.unit
}
