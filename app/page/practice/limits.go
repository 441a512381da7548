// SPDX-License-Identifier: MIT

package practice

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/practice"
)

// limitWords words limits: "100° to 120°".
func limitWords(l practice.Limits, of practice.Unit, u project.Units) string {
	switch {
	case l.Min != nil && l.Max != nil:
		return valueWords(*l.Min, of, u) + " to " + valueWords(*l.Max, of, u)
	case l.Min != nil:
		return valueWords(*l.Min, of, u) + " or more"
	case l.Max != nil:
		return valueWords(*l.Max, of, u) + " or less"
	}
	return "none"
}

// valueWords prints a value of a rule.
func valueWords(v float64, of practice.Unit, u project.Units) string {
	switch of {
	case practice.Degrees:
		return unit.Degrees(v).String()
	case practice.Metres:
		return unit.Length(v).Format(u != project.Imperial)
	case practice.Share:
		return strconv.FormatFloat(math.Round(v*1e4)/100, 'f', -1, 64) + " %"
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// parseValue reads a value of a rule as it may be typed; an empty text is nil.
func parseValue(text string, of practice.Unit, u project.Units) (*float64, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, nil
	}
	var v float64
	switch of {
	case practice.Degrees:
		d, err := unit.ParseDegreesSum(text)
		if err != nil {
			return nil, err
		}
		v = float64(d)
	case practice.Metres:
		bare := unit.Metre
		if u == project.Imperial {
			bare = unit.Inch
		}
		l, err := unit.ParseLengthSum(text, bare)
		if err != nil {
			return nil, err
		}
		v = float64(l)
	default:
		number, percent := strings.CutSuffix(text, "%")
		n, err := unit.ParseNumber(number)
		if err != nil {
			return nil, err
		}
		if v = n; percent {
			v = n / 100
		}
	}
	return &v, nil
}

// changedLimits returns a rule's limits as a house standard sets them, from what was
// typed; an empty end stays the rule's own. A change needs a reason: the next
// reader asks for it.
func changedLimits(lo, hi, reason string, rule practice.Rule, u project.Units) (practice.Change, error) {
	var c practice.Change
	var err error
	if c.Min, err = parseValue(lo, rule.Unit, u); err != nil {
		return c, fmt.Errorf("least: %w", err)
	}
	if c.Max, err = parseValue(hi, rule.Unit, u); err != nil {
		return c, fmt.Errorf("most: %w", err)
	}
	c.Reason = strings.TrimSpace(reason)
	switch {
	case c.Min == nil && c.Max == nil:
		return c, errors.New("one of least and most is needed; to leave the rule out, switch it off")
	case c.Reason == "":
		return c, errors.New("a reason is needed")
	}
	return c, nil
}
