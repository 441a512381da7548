// SPDX-License-Identifier: MIT

package chart

import (
	"math"
	"strconv"
	"strings"
)

// minus is the sign of that name, as wide as a digit; a hyphen is not seen
// before a small figure.
const minus = "−"

// number writes v with that many digits behind the point.
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

// hertz writes a frequency as a tick is: 31.5, 125, 1k, 12.5k.
func formatHertz(v float64) string {
	if v >= 1000 {
		return formatShort(v/1000) + "k"
	}
	return formatShort(v)
}

// short writes v with no more than four digits.
func formatShort(v float64) string {
	if v == 0 {
		return "0"
	}
	digits := 3 - int(math.Floor(math.Log10(math.Abs(v))))
	s := formatNumber(v, min(max(digits, 0), 9))
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Say writes a value of s's axis with its unit, as a read-out does.
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
	// A hundredth of a step is what a display shows at best.
	return withUnit(formatNumber(v*s.factor, min(s.digits+1, 9)), s.unit)
}

// significant writes v with n digits that count, without noughts at the end.
func formatSignificant(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	d := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	s := formatNumber(v, min(max(d, 0), 9))
	if strings.Contains(s, ".") {
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

// named returns what an axis says about itself: "Level, dB".
func (s *scale) title() string {
	switch {
	case s.unit == "":
		return s.axis.Label
	case s.axis.Label == "":
		return s.unit
	}
	return s.axis.Label + ", " + s.unit
}
