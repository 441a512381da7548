// SPDX-License-Identifier: MIT

package drawing

import (
	"fmt"
	"math"
)

// Check returns what is wrong with sheets, so that no back end need ask: a length
// that is no number or is out of all reason, a scale that is not above 0, an insert of
// no block or of one that is in itself, two sheets of one number, a link that leads
// nowhere.
func Check(sheets []Sheet) error {
	numbers := map[string]bool{}
	for i := range sheets {
		n := sheets[i].Number
		if numbers[n] {
			return fmt.Errorf("drawing: found two sheets numbered %q, allowed: one", n)
		}
		numbers[n] = true
	}
	for i := range sheets {
		if err := sheets[i].check(numbers); err != nil {
			return fmt.Errorf("drawing: sheet %q: %w", sheets[i].Number, err)
		}
	}
	return nil
}

func (s *Sheet) check(numbers map[string]bool) error {
	const smallest, largest = 10, 5000 // mm, what a page description can hold, 14400 points
	if !(min(s.Paper.Width, s.Paper.Height) >= smallest && max(s.Paper.Width, s.Paper.Height) <= largest) {
		return fmt.Errorf("found paper of %g by %g mm, allowed: %d to %d mm", s.Paper.Width, s.Paper.Height, smallest, largest)
	}
	for i := range s.Views {
		v := &s.Views[i]
		w := v.Window
		switch {
		case !(v.Scale > 0 && v.Scale <= 1000):
			return fmt.Errorf("view %q: found scale %g, allowed: above 0, up to 1000", v.Name, v.Scale)
		case !sane(v.Origin.X, v.Origin.Y, w.X0, w.Y0, w.X1, w.Y1):
			return fmt.Errorf("view %q: found a place that is no length", v.Name)
		}
		if err := v.Marks.check(0); err != nil {
			return fmt.Errorf("view %q: %w", v.Name, err)
		}
	}
	for _, l := range s.Links {
		if !numbers[l.To] {
			return fmt.Errorf("found a link to sheet %q, which there is not", l.To)
		}
		if !sane(l.Box.X0, l.Box.Y0, l.Box.X1, l.Box.Y1) {
			return fmt.Errorf("found a link to sheet %q at no place", l.To)
		}
	}
	return s.Marks.check(0)
}

// sane tells whether all are lengths in mm below ten kilometres.
func sane(v ...float64) bool {
	for _, x := range v {
		if !(math.Abs(x) < 1e7) {
			return false
		}
	}
	return true
}

// deepest is how many blocks may be in each other.
const deepest = 8

func (m Marks) check(depth int) error {
	for _, k := range m {
		ok := true
		switch k := k.(type) {
		case Area:
			ok = sanePoints(k.Rings)
		case Lines:
			ok = k.Pen.sane() && sanePoints(k.Lines)
		case Curve:
			ok = k.Pen.sane() && sane(k.Centre.X, k.Centre.Y, k.Radius, k.From, k.Sweep) && k.Radius >= 0
		case Text:
			ok = sane(k.At.X, k.At.Y, k.Turn) && k.Size >= 0 && k.Size < 1000
		case Dimension:
			ok = sane(k.A.X, k.A.Y, k.B.X, k.B.Y, k.Line.X, k.Line.Y, k.Turn) && k.Size >= 0 && k.Size < 1000
		case Insert:
			if ok = k.Block != nil && sane(k.At.X, k.At.Y, k.Turn); !ok {
				break
			}
			if depth == deepest {
				return fmt.Errorf("block %q: found blocks %d deep in each other, allowed: %d", k.Block.Name, depth+1, deepest)
			}
			if err := k.Block.Marks.check(depth + 1); err != nil {
				return fmt.Errorf("block %q: %w", k.Block.Name, err)
			}
		}
		if !ok {
			return fmt.Errorf("found a %T without a place or of no size", k)
		}
	}
	return nil
}

func (p Pen) sane() bool {
	sum := 0.0
	for _, d := range p.Dash {
		if !(d >= 0 && d < 1000) {
			return false
		}
		sum += d
	}
	return p.Width >= 0 && p.Width < 1000 && (len(p.Dash) == 0 || sum > 0.01)
}

func sanePoints(lines [][]Point) bool {
	for _, l := range lines {
		for _, p := range l {
			if !sane(p.X, p.Y) {
				return false
			}
		}
	}
	return true
}
