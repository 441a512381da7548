// SPDX-License-Identifier: MIT

package built

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Limits of what is taken for a measurement, common practice without a source.
const (
	leastTrust = 0.010 // m: what is built is off by this much everywhere
	mostTrust  = 0.050 // m: beyond three times this somebody looks again, whatever may be
	mostOff    = 1.0   // m: beyond this it is no measurement of this thing
	mostTurn   = 90.0  // degrees
	times      = 3     // tolerances within which a figure is taken without a question
)

// Question is asked about a figure that may be a slip.
type Question struct {
	Text string // a question of one line: "Centimetres? Then it is 1566 mm."
	// Value is what is entered when the answer is yes, in the room frame or degrees.
	Value float64
}

// Refusal is why a figure cannot be one of this thing, in one line.
type Refusal struct{ Found, Allowed string }

// Error implements error.
func (r *Refusal) Error() string { return r.Found + ", allowed: " + r.Allowed }

// Sheet is what the site sees of a design: its items and what each figure is measured
// from.
type Sheet struct {
	Design *project.Design
	Items  []Item
}

// NewSheet returns the sheet of d. Tolerances are those that need no audit; Result.Items
// has the exact ones.
func NewSheet(d *project.Design) *Sheet {
	s := &Sheet{d, Items(d)}
	for i := range s.Items {
		usualTolerance(d, &s.Items[i])
	}
	return s
}

// Line returns what a measure of an item is taken from; without Words for a width and
// an angle.
func (s *Sheet) Line(it *Item, q Quantity) Line {
	if all := s.lines(it, q); len(all) > 0 {
		return all[0]
	}
	return Line{}
}

// Called returns what a measure is called on site: "from laser line", "turn".
func (s *Sheet) Called(it *Item, q Quantity) string {
	if l := s.Line(it, q); l.Words != "" {
		return "from " + l.Words
	}
	return q.String()
}

// Judge says whether v, a figure from the site in metres or degrees as it is shown
// there, is one to take: then it returns its value in the room frame. What is too far
// from the plan for that, or looks like a known slip, is asked about; what no slip
// explains and nobody can build so is refused with a *Refusal.
func (s *Sheet) Judge(it *Item, m *Measure, v float64) (value float64, q *Question, err error) {
	units := s.Design.Units
	line := s.Line(it, m.Quantity)
	planned := line.Shown(m.Planned)
	off := away(m.Quantity, v, planned)
	tolerance := m.More
	if (off < 0) != line.turned {
		tolerance = m.Less
	}
	least, most, far := leastTrust, mostTrust, mostOff
	if m.Quantity.Angle() {
		least, most, far = 1, angleTolerance, mostTurn
	}
	tolerance = min(max(tolerance, least), most)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, nil, &Refusal{"no number", "a number"}
	}
	switch {
	case math.Abs(off) <= m.Quantity.same(): // as printed is as planned
		return m.Planned, nil, nil
	case math.Abs(off) <= tolerance:
		return line.Frame(v), nil, nil
	}
	if slip, meant, ok := s.slip(it, m, v, tolerance); ok {
		value := line.Frame(meant)
		if math.Abs(away(m.Quantity, value, m.Planned)) <= m.Quantity.same() {
			value = m.Planned
		}
		return 0, &Question{fmt.Sprintf("%s Then it is %s.", slip, figure(m.Quantity, meant, units)), value}, nil
	}
	switch {
	case math.Abs(off) <= times*tolerance:
		return line.Frame(v), nil, nil
	case math.Abs(off) > far:
		return 0, nil, &Refusal{figure(m.Quantity, v, units) + ", " + figure(m.Quantity, math.Abs(off), units) + " off the plan",
			fmt.Sprintf("%s to %s", figure(m.Quantity, planned-far, units), figure(m.Quantity, planned+far, units))}
	}
	return 0, &Question{fmt.Sprintf("%s off the plan, %s: is it really %s?", figure(m.Quantity, math.Abs(off), units),
		figure(m.Quantity, planned, units), figure(m.Quantity, v, units)), line.Frame(v)}, nil
}

// slip finds the slip that explains v, and what was meant: another unit, the other side
// of the line, another wall, the other offset, a metre misread.
func (s *Sheet) slip(it *Item, m *Measure, v, tolerance float64) (question string, meant float64, ok bool) {
	all := s.lines(it, m.Quantity)
	planned := m.Planned
	if len(all) > 0 {
		planned = all[0].Shown(m.Planned)
	}
	near := func(meant float64) bool {
		off := math.Abs(away(m.Quantity, meant, planned))
		return off <= times*tolerance && 5*off < math.Abs(away(m.Quantity, v, planned))
	}
	if m.Quantity.Angle() {
		if near(-v) {
			return "The other way?", -v, true
		}
		if back := math.Remainder(v+180, 360); m.Quantity == Turn && near(back) {
			return "Seen from the seats?", back, true
		}
		return "", 0, false
	}
	for _, u := range []struct {
		words string
		times float64
	}{{"Centimetres?", 10}, {"Metres?", 1000}, {"Inches?", 25.4}, {"Millimetres?", 0.001}, {"Ten times too much?", 0.1}} {
		if near(v * u.times) {
			return u.words, v * u.times, true
		}
	}
	if m.Quantity != Width && near(-v) {
		if m.Quantity == Height {
			return "The other side of the laser line?", -v, true
		}
		return "The other side?", -v, true
	}
	for _, l := range all[min(1, len(all)):] {
		if meant := all[0].Shown(l.Frame(v)); near(meant) {
			return "From the " + l.Words + "?", meant, true
		}
	}
	for _, metre := range []float64{1, -1} {
		if near(v + metre) {
			return "A metre misread?", v + metre, true
		}
	}
	return "", 0, false
}

// swapped returns the item's other offset that v is a figure of; nil for none.
func (s *Sheet) swapped(it *Item, m *Measure, v float64) *Measure {
	for i := range it.Measures {
		o := &it.Measures[i]
		if o.Quantity == m.Quantity || o.Quantity.Angle() != m.Quantity.Angle() || o.Quantity == Width || m.Quantity == Width {
			continue
		}
		if off := s.Line(it, o.Quantity).Shown(o.Planned) - v; math.Abs(off) <= leastTrust {
			return o
		}
	}
	return nil
}

// at is where an item is planned, as far as its measures say.
func (it *Item) at() geometry.Vec {
	return geometry.Vec{X: it.planned(FromScreen), Y: it.planned(FromLeft), Z: it.planned(Height)}
}

// figure shows a figure from the site.
func figure(q Quantity, v float64, u project.Units) string {
	if q.Angle() {
		return fmt.Sprintf("%.1f°", v+0)
	}
	if u == project.Imperial {
		return unit.Length(v).Format(false)
	}
	return millimetres(v) + " mm"
}

// millimetres shows a length in them, with a tenth where there is one.
func millimetres(v float64) string {
	tenths := math.Round(v*1e4) + 0
	if math.Mod(tenths, 10) == 0 {
		return fmt.Sprintf("%.0f", tenths/10)
	}
	return fmt.Sprintf("%.1f", tenths/10)
}

// Show returns a value of the room frame, or degrees, as it is shown on site: "464 mm"
// against the laser line.
func (s *Sheet) Show(it *Item, q Quantity, v float64) string {
	return figure(q, s.Line(it, q).Shown(v), s.Design.Units)
}

// Typed judges a figure as somebody types it: in millimetres, inches where lengths are
// imperial, or with its unit.
func (s *Sheet) Typed(it *Item, q Quantity, text string) (value float64, ask *Question, err error) {
	one := unit.Millimetre
	if s.Design.Units == project.Imperial {
		one = unit.Inch
	}
	var v float64
	if q.Angle() {
		a, err := unit.ParseDegreesSum(text)
		if err != nil {
			return 0, nil, err
		}
		v = float64(a)
	} else {
		l, err := unit.ParseLengthSum(text, one)
		if err != nil {
			return 0, nil, err
		}
		v = float64(l)
	}
	for i := range it.Measures {
		if m := &it.Measures[i]; m.Quantity == q {
			return s.Judge(it, m, v)
		}
	}
	return 0, nil, &Refusal{q.String(), "what can be measured of " + it.Name}
}
