// SPDX-License-Identifier: MIT

package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// MaxLength is the longest length that Parse and JSON accept, either side of
// zero: far beyond any room, and near enough that no sum of lengths overflows.
const MaxLength = 10_000 * Metre

// MaxDegrees is the same for angles: a hundred turns.
const MaxDegrees Degrees = 36_000

// ParseError says in one line what stood where a quantity was wanted.
type ParseError struct {
	Found   string // as it was written
	Allowed string
}

// Error returns `found "…", allowed: …`.
func (e *ParseError) Error() string { return "found " + e.Found + ", allowed: " + e.Allowed }

const (
	lengthForms = `a length such as 2.4 m, 2400 mm, 7' 10 1/2" or 94.5 in`
	degreeForms = "an angle such as 30 or -12.5°"
)

// ParseLength reads a length as people write it. The system is told by the unit
// alone, so either can be typed anywhere:
//
//	2.4 m   2,4 m   240 cm   2400 mm
//	7' 10 1/2"   7'-10.5"   7 ft 10 1/2 in   94 1/2"   94.5 in   7½'
//
// A number without a unit is in def, one of the constants of Length; when def
// is 0 it is refused as ambiguous. A sign may stand in front. Typographic
// primes, quotes, minus signs and vulgar fractions read like the plain ones. A
// comma is a decimal comma; before exactly three digits it could also part
// thousands, and is then read only in metres. The error is a *ParseError.
// ParseLength inverts Length.Format within the printed resolution.
func ParseLength(text string, def Length) (Length, error) {
	refuse := func(allowed string) (Length, error) {
		return 0, &ParseError{Found: quote(text), Allowed: allowed}
	}
	if len(text) > 64 {
		return refuse(lengthForms)
	}
	toks, ok := scan(plain.Replace(text))
	if !ok || len(toks) == 0 {
		return refuse(lengthForms)
	}
	negative := toks[0].text == "-"
	if negative || toks[0].text == "+" {
		toks = toks[1:]
	}

	var total Length
	var parts []part
	for len(toks) > 0 {
		p, rest, ok := readPart(toks)
		if !ok {
			return refuse(lengthForms)
		}
		parts, toks = append(parts, p), rest
		if p.unit == Foot && len(parts) == 1 && len(toks) > 1 && toks[0].text == "-" {
			toks = toks[1:] // 7'-10"
		}
	}
	switch len(parts) {
	case 1:
		p := parts[0]
		if p.unit == 0 {
			if def == 0 {
				return refuse("a length with its unit, such as 2.4 m, 2400 mm or 7' 10\"")
			}
			p.unit = def
		}
		if p.fraction && p.unit != Inch && p.unit != Foot {
			return refuse("fractions of an inch or foot only; decimals in metric lengths")
		}
		if p.grouped && p.unit != Metre {
			return refuse("a decimal point, as three digits after a comma could be thousands")
		}
		total = scale(p.value, p.unit)
	case 2:
		ft, in := parts[0], parts[1]
		if in.unit == 0 {
			in.unit = Inch // 7' 10
		}
		if ft.unit != Foot || in.unit != Inch || ft.value != math.Trunc(ft.value) {
			return refuse(lengthForms)
		}
		if in.value >= 12 || in.grouped || ft.grouped {
			return refuse("whole feet, then 0 to less than 12 inches")
		}
		total = scale(ft.value*12+in.value, Inch)
	default:
		return refuse(lengthForms)
	}
	if !(total <= MaxLength) {
		return refuse("at most 10000 m")
	}
	if negative {
		total = -total
	}
	return total, nil
}

// ParseDegrees reads an angle in degrees, with or without its unit: 30, 30°,
// -12,5 deg. The error is a *ParseError. It inverts Degrees.String within the
// printed resolution.
func ParseDegrees(text string) (Degrees, error) {
	refuse := func(allowed string) (Degrees, error) {
		return 0, &ParseError{Found: quote(text), Allowed: allowed}
	}
	s := strings.TrimSpace(plain.Replace(text))
	for _, suffix := range []string{"°", "degrees", "deg"} {
		if t, ok := strings.CutSuffix(s, suffix); ok {
			s = strings.TrimSpace(t)
			break
		}
	}
	number, negative := strings.CutPrefix(s, "-")
	if !negative {
		number = strings.TrimPrefix(s, "+")
	}
	v, _, ok := readNumber(number)
	if !ok {
		return refuse(degreeForms)
	}
	if !(Degrees(v) <= MaxDegrees) {
		return refuse("at most 36000°")
	}
	if negative {
		v = -v
	}
	return Degrees(v), nil
}

// plain maps what typesetting and keyboards of other lands write to plain
// characters. Two primes come before one.
var plain = strings.NewReplacer(
	"''", `"`, "′′", `"`, "’’", `"`,
	"″", `"`, "”", `"`, "“", `"`, "′", "'", "’", "'", "‘", "'",
	"−", "-", "–", "-", "⁄", "/", "\u00a0", " ", "\u202f", " ", "\u2009", " ",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
)

// token is a number, a word or a mark.
type token struct {
	text   string
	number bool
}

func scan(s string) (toks []token, ok bool) {
	for i := 0; i < len(s); {
		c := s[i]
		j := i + 1
		switch {
		case c == ' ' || c == '\t':
			i++
			continue
		case isDigit(c) || c == '.' || c == ',':
			for j < len(s) && (isDigit(s[j]) || s[j] == '.' || s[j] == ',') {
				j++
			}
			toks = append(toks, token{s[i:j], true})
		case isLetter(c):
			for j < len(s) && isLetter(s[j]) {
				j++
			}
			word := strings.ToLower(s[i:j])
			if j < len(s) && s[j] == '.' && (word == "in" || word == "ft") {
				j++ // 5 ft. 6 in.
			}
			toks = append(toks, token{word, false})
		case strings.IndexByte(`'"/-+*()`, c) >= 0:
			toks = append(toks, token{s[i:j], false})
		default:
			return nil, false
		}
		i = j
	}
	return toks, true
}

// part is an unsigned value and its unit, 0 when none is written.
type part struct {
	value    float64
	unit     Length
	fraction bool // written with a vulgar fraction
	grouped  bool // a comma before exactly three digits
}

// readPart reads NUMBER, NUMBER/NUMBER or NUMBER [-] NUMBER/NUMBER and the unit
// that follows.
func readPart(toks []token) (p part, rest []token, ok bool) {
	if !toks[0].number {
		return p, nil, false
	}
	if v, ok := readFraction(toks); ok {
		p.value, p.fraction, toks = v, true, toks[3:]
	} else {
		v, grouped, ok := readNumber(toks[0].text)
		if !ok {
			return p, nil, false
		}
		p.value, p.grouped, toks = v, grouped, toks[1:]
		frac := toks
		if len(frac) > 0 && frac[0].text == "-" {
			frac = frac[1:] // 66-1/2"
		}
		if f, ok := readFraction(frac); ok {
			if v != math.Trunc(v) {
				return p, nil, false
			}
			p.value, p.fraction, toks = v+f, true, frac[3:]
		}
	}
	if len(toks) > 0 && !toks[0].number {
		u, known := unitOf(toks[0].text)
		if !known {
			return p, nil, false
		}
		p.unit, toks = u, toks[1:]
	}
	return p, toks, true
}

// readFraction reads a proper fraction of an inch or foot from the start of toks.
func readFraction(toks []token) (v float64, ok bool) {
	if len(toks) < 3 || !toks[0].number || toks[1].text != "/" || !toks[2].number {
		return 0, false
	}
	n, err1 := strconv.ParseUint(toks[0].text, 10, 16)
	d, err2 := strconv.ParseUint(toks[2].text, 10, 16)
	// Rules and tapes are divided by halving.
	if err1 != nil || err2 != nil || n >= d || d > 128 || d&(d-1) != 0 {
		return 0, false
	}
	return float64(n) / float64(d), true
}

// readNumber reads an unsigned decimal with a point or a comma.
func readNumber(s string) (v float64, grouped, ok bool) {
	digits := 0
	for i := range len(s) {
		switch {
		case isDigit(s[i]):
			digits++
		case s[i] != '.' && s[i] != ',':
			return 0, false, false
		}
	}
	if digits == 0 || strings.Count(s, ".")+strings.Count(s, ",") > 1 {
		return 0, false, false
	}
	if whole, decimals, comma := strings.Cut(s, ","); comma {
		grouped = len(decimals) == 3 && strings.Trim(whole, "0") != ""
		s = whole + "." + decimals
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, grouped, err == nil
}

func unitOf(word string) (Length, bool) {
	switch word {
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case "cm":
		return Centimetre, true
	case "mm":
		return Millimetre, true
	case `"`, "in", "inch", "inches":
		return Inch, true
	case "'", "ft", "foot", "feet":
		return Foot, true
	}
	return 0, false
}

// scale returns v units. It divides whole numbers where it can, so that 2400 mm
// is the same float64 as 2.4 m.
func scale(v float64, u Length) Length {
	switch u {
	case Centimetre:
		return Length(v / 100)
	case Millimetre:
		return Length(v / 1000)
	case Inch:
		return Length(v * 254 / 10_000)
	case Foot:
		return Length(v * 3048 / 10_000)
	}
	return Length(v * float64(u))
}

func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
func isLetter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }

// quote returns text quoted for a message, cut where it grows long.
func quote(text string) string {
	if len(text) > 40 {
		text = strings.ToValidUTF8(text[:40], "") + "…"
	}
	return fmt.Sprintf("%q", text)
}
