// SPDX-License-Identifier: MIT

package unit

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Format returns l as it is read on site: metres to the millimetre ("2.400 m"),
// or feet and inches to the nearest sixteenth (`7' 10 1/2"`). Halves round away
// from zero. What is not a finite length prints as "no length".
func (l Length) Format(metric bool) string {
	v := float64(l)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no length"
	}
	if metric {
		return fixed(v, 3) + " m"
	}
	const sixteenth = float64(Inch) / 16
	n := math.Round(math.Abs(v) / sixteenth)
	if n >= 1<<53 {
		return strconv.FormatFloat(v/float64(Foot), 'g', -1, 64) + " ft"
	}
	sign := ""
	if v < 0 && n > 0 {
		sign = "-"
	}
	whole, part := int64(n)/16, int64(n)%16
	feet, inches := whole/12, strconv.FormatInt(whole%12, 10)
	if part > 0 {
		den := int64(16)
		for part%2 == 0 {
			part, den = part/2, den/2
		}
		frac := fmt.Sprintf("%d/%d", part, den)
		if whole%12 == 0 {
			inches = frac
		} else {
			inches += " " + frac
		}
	}
	if feet == 0 {
		return sign + inches + `"`
	}
	return fmt.Sprintf(`%s%d' %s"`, sign, feet, inches)
}

// String returns l in metres, to the millimetre.
func (l Length) String() string { return l.Format(true) }

// UnmarshalJSON reads a JSON number as metres, or a JSON text as ParseLength
// does, its unit required. The error is a *ParseError.
func (l *Length) UnmarshalJSON(data []byte) error {
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		return &ParseError{Found: quote(string(data)), Allowed: lengthForms}
	}
	switch v := v.(type) {
	case float64:
		if !(math.Abs(v) <= float64(MaxLength)) {
			return &ParseError{Found: string(data), Allowed: "at most 10000 m"}
		}
		*l = Length(v)
		return nil
	case string:
		parsed, err := ParseLength(v, 0)
		if err != nil {
			return err
		}
		*l = parsed
		return nil
	}
	return &ParseError{Found: quote(string(data)), Allowed: "a number of metres, or " + lengthForms}
}

// String returns d with its unit, to a hundredth of a degree: "30°", "-12.5°".
// What is not a finite angle prints as "no angle".
func (d Degrees) String() string {
	v := float64(d)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no angle"
	}
	r := math.Round(v*100) / 100
	if math.IsInf(r, 0) {
		r = v
	}
	return strconv.FormatFloat(r+0, 'f', -1, 64) + "°"
}

// fixed prints v with n decimals and never as minus zero.
func fixed(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if s[0] == '-' {
		if z, _ := strconv.ParseFloat(s, 64); z == 0 {
			return s[1:]
		}
	}
	return s
}

// Fields splits text around white space as strings.Fields does, but leaves a length of
// feet and inches in one piece: 10 at the end of a line and 1/4" in the next are read as
// two. No-break spaces split nothing.
func Fields(text string) []string {
	const digits = "0123456789"
	var out []string
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }) {
		if n := len(out) - 1; n >= 0 && strings.Contains(digits, w[:1]) {
			last := out[n]
			inches := strings.HasSuffix(last, "'")
			fraction := strings.Contains(digits, last[len(last)-1:]) && strings.Contains(w, "/") && strings.Contains(w, `"`)
			if inches || fraction {
				out[n] = last + " " + w
				continue
			}
		}
		out = append(out, w)
	}
	return out
}
