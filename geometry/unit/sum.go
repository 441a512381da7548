// SPDX-License-Identifier: MIT

package unit

import (
	"math"
	"strings"
)

const (
	sumForms    = "numbers joined by + - * / and brackets, such as 2.3 + 0.1, 5200 mm / 2 or 3.9 - 2*0.26"
	numberForms = "a number such as 2.4 or -12,5"
)

// ParseLengthSum reads what ParseLength reads, and sums of such lengths:
//
//	2.3+0.1   5200 mm / 2   3.9-2*0.26   2.3 m + 4 in   (5.2 m - 0.3)/2
//
// A number without a unit is in def where a length is wanted, and a bare factor or
// divisor beside * and /. What ParseLength alone can read means what it says
// there: 66-1/2" and 5' - 6" are lengths, no sums. The error is a *ParseError.
func ParseLengthSum(text string, def Length) (Length, error) {
	v, err := ParseLength(text, def)
	if err == nil || !joined(text) {
		return v, err
	}
	s := reckoner{def: float64(def), commas: def == Metre, part: lengthPart}
	r, allowed := s.read(text)
	if allowed == "" && !r.has && def == 0 {
		allowed = "a length with its unit, such as 2.4 m, 2400 mm or 7' 10\""
	}
	if allowed == "" && !(math.Abs(s.quantity(r)) <= float64(MaxLength)) {
		allowed = "at most 10000 m"
	}
	if allowed != "" {
		return 0, &ParseError{Found: quote(text), Allowed: allowed}
	}
	const dust = 1e-7 // m: a tenth of a micrometre, what sums of binary fractions leave
	return Length(math.Round(s.quantity(r)/dust) / (1 / dust)), nil
}

// ParseDegreesSum reads what ParseDegrees reads, and sums of such angles: 45/2,
// 30° + 2.5. The error is a *ParseError.
func ParseDegreesSum(text string) (Degrees, error) {
	v, err := ParseDegrees(text)
	if err == nil || !joined(text) {
		return v, err
	}
	s := reckoner{def: 1, commas: true, part: anglePart}
	r, allowed := s.read(strings.ReplaceAll(text, "°", " deg "))
	if allowed == "" && !(math.Abs(r.v) <= float64(MaxDegrees)) {
		allowed = "at most 36000°"
	}
	if allowed != "" {
		return 0, &ParseError{Found: quote(text), Allowed: allowed}
	}
	return Degrees(math.Round(r.v*1e7) / 1e7), nil
}

// ParseNumber reads a bare decimal number with a point or a comma, or a sum of
// such: 2.4, −12,5, 3*0.25. It knows no exponents, no hexadecimals, no grouping.
// The error is a *ParseError.
func ParseNumber(text string) (float64, error) {
	s := reckoner{def: 1, commas: true, part: barePart}
	r, allowed := s.read(text)
	if allowed == sumForms && !joined(text) {
		allowed = numberForms
	}
	const most = 1e12 // beyond anything that is typed, and far from overflow
	if allowed == "" && !(math.Abs(r.v) <= most) {
		allowed = "a smaller number"
	}
	if allowed != "" {
		return 0, &ParseError{Found: quote(text), Allowed: allowed}
	}
	if s.operators > 0 {
		return math.Round(r.v*1e9) / 1e9, nil
	}
	return r.v, nil
}

// joined reports whether text holds a mark by which numbers are joined, beyond a
// sign in front.
func joined(text string) bool {
	text = strings.TrimSpace(signs.Replace(plain.Replace(text)))
	if text == "" {
		return false
	}
	return strings.ContainsAny(text[1:], "+-*/") || strings.ContainsAny(text, "()")
}

// signs maps the marks of multiplication and division that people type to those
// of a keyboard.
var signs = strings.NewReplacer("×", "*", "·", "*", "÷", "/")

// reckoned is what part of a sum comes to: a bare number, or a quantity in metres
// or degrees.
type reckoned struct {
	v   float64
	has bool // a unit
}

// reckoner works a sum out from left to right, * and / before + and -.
type reckoner struct {
	toks      []token
	operators int
	def       float64 // of one bare unit, where a quantity is wanted
	commas    bool    // a bare number may hold a comma before three digits
	// part reads one operand from the start of toks.
	part    func([]token) (p part, rest []token, ok bool)
	allowed string // why it cannot be read; empty while it can
}

// read works out text; allowed is empty when it could be read.
func (s *reckoner) read(text string) (r reckoned, allowed string) {
	toks, ok := scan(signs.Replace(plain.Replace(text)))
	if !ok || len(toks) == 0 || len(text) > 64 {
		return r, sumForms
	}
	s.toks = toks
	r = s.sum()
	if s.allowed == "" && (len(s.toks) > 0 || math.IsNaN(r.v) || math.IsInf(r.v, 0)) {
		s.allowed = sumForms
	}
	return r, s.allowed
}

func (s *reckoner) refuse(allowed string) reckoned {
	if s.allowed == "" {
		s.allowed = allowed
	}
	s.toks = nil
	return reckoned{}
}

// quantity returns r in metres or degrees.
func (s *reckoner) quantity(r reckoned) float64 {
	if r.has {
		return r.v
	}
	return float64(scale(r.v, Length(s.def)))
}

// take consumes one of the marks, if it comes next.
func (s *reckoner) take(marks string) (mark byte, ok bool) {
	if len(s.toks) == 0 || s.toks[0].number || len(s.toks[0].text) != 1 || !strings.Contains(marks, s.toks[0].text) {
		return 0, false
	}
	mark, s.toks = s.toks[0].text[0], s.toks[1:]
	return mark, true
}

func (s *reckoner) sum() reckoned {
	r := s.product()
	for {
		mark, ok := s.take("+-")
		if !ok {
			return r
		}
		s.operators++
		t := s.product()
		if r.has != t.has { // the bare one is a quantity too
			r, t = reckoned{s.quantity(r), true}, reckoned{s.quantity(t), true}
		}
		if mark == '-' {
			t.v = -t.v
		}
		r.v += t.v
	}
}

func (s *reckoner) product() reckoned {
	r := s.operand()
	for {
		mark, ok := s.take("*/")
		if !ok {
			return r
		}
		s.operators++
		switch t := s.operand(); {
		case mark == '/' && t.has || r.has && t.has:
			return s.refuse("a length or an angle times or divided by a bare number")
		case mark == '*':
			r = reckoned{r.v * t.v, r.has || t.has}
		case t.v == 0:
			return s.refuse("division by anything but 0")
		default:
			r.v /= t.v
		}
	}
}

func (s *reckoner) operand() reckoned {
	if mark, ok := s.take("+-"); ok {
		r := s.operand()
		if mark == '-' {
			r.v = -r.v
		}
		return r
	}
	if _, ok := s.take("("); ok {
		r := s.sum()
		if _, ok := s.take(")"); !ok {
			return s.refuse(sumForms)
		}
		return r
	}
	if len(s.toks) == 0 {
		return s.refuse(sumForms)
	}
	p, rest, ok := s.part(s.toks)
	if !ok {
		return s.refuse(sumForms)
	}
	s.toks = rest
	if p.grouped && (p.unit != 0 && p.unit != Metre || p.unit == 0 && !s.commas) {
		return s.refuse("a decimal point, as three digits after a comma could be thousands")
	}
	if p.unit == 0 {
		return reckoned{p.value, false}
	}
	return reckoned{float64(scale(p.value, p.unit)), true}
}

// barePart reads a number without a unit.
func barePart(toks []token) (p part, rest []token, ok bool) {
	if !toks[0].number {
		return p, nil, false
	}
	p.value, p.grouped, ok = readNumber(toks[0].text)
	return p, toks[1:], ok
}

// anglePart reads a number with or without the word for degrees.
func anglePart(toks []token) (p part, rest []token, ok bool) {
	p, rest, ok = barePart(toks)
	if ok && len(rest) > 0 && (rest[0].text == "deg" || rest[0].text == "degrees") {
		p.unit, p.grouped, rest = 1, false, rest[1:]
	}
	return p, rest, ok
}

// lengthPart reads a number with or without a unit, or feet with inches. A
// fraction is one only before the sign of an inch or a foot: elsewhere its stroke
// divides.
func lengthPart(toks []token) (p part, rest []token, ok bool) {
	p, rest, ok = readPart(toks)
	if !ok || p.fraction && p.unit != Inch && p.unit != Foot {
		p, rest, ok = barePart(toks)
		if ok && len(rest) > 0 && !rest[0].number {
			if u, known := unitOf(rest[0].text); known {
				p.unit, rest = u, rest[1:]
			}
		}
		return p, rest, ok
	}
	if p.unit != Foot || p.value != math.Trunc(p.value) || len(rest) == 0 {
		return p, rest, true
	}
	next := rest
	if next[0].text == "-" && len(next) > 1 {
		next = next[1:] // 7'-10"
	}
	if in, after, ok := readPart(next); ok && in.unit == Inch && in.value < 12 && !in.grouped {
		return part{value: p.value*12 + in.value, unit: Inch}, after, true
	}
	return p, rest, true
}
