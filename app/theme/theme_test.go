// SPDX-License-Identifier: MIT

package theme

import (
	"image/color"
	"math"
	"testing"

	"earline/project/sight"
)

// luminance and contrast are those of WCAG 2.2 (W3C Recommendation, 2023),
// "relative luminance" and "contrast ratio".
func luminance(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}

// WCAG 2.2, success criterion 1.4.3: small text has a contrast of 4.5 or more.
func TestTextCanBeRead(t *testing.T) {
	for _, c := range []struct {
		name      string
		ink, back color.NRGBA
	}{
		{"text on a panel", Ink, Panel},
		{"names on a panel", Faint, Panel},
		{"details on a heading", Faint, Head},
		{"text in an entry", Ink, Well},
		{"details on the marked row of a list", Faint, Well},
		{"read-outs", Accent, Panel},
		{"faults", Fault, Panel},
		{"text on the chosen button", Back, Accent},
	} {
		if got := contrast(c.ink, c.back); got < 4.5 {
			t.Errorf("%s: contrast %.2f, want 4.5", c.name, got)
		}
	}
	for v := sight.NotJudged; v <= sight.Blocked; v++ {
		plate, ink, letter := Verdict(v)
		if got := contrast(ink, plate); got < 4.5 {
			t.Errorf("%v: contrast %.2f, want 4.5", v, got)
		}
		if letter == "" {
			t.Errorf("%v has no letter", v)
		}
	}
}

// Whoever sees no colours tells verdicts apart by lightness, and by letter.
func TestVerdictsDifferWithoutColour(t *testing.T) {
	seen := map[string]bool{}
	for v := sight.NotJudged; v <= sight.Blocked; v++ {
		_, _, letter := Verdict(v)
		if seen[letter] {
			t.Errorf("%v has the letter of another", v)
		}
		seen[letter] = true
	}
	clear, _, _ := Verdict(sight.Clear)
	tight, _, _ := Verdict(sight.Tight)
	blocked, _, _ := Verdict(sight.Blocked)
	if contrast(tight, clear) < 3 || contrast(tight, blocked) < 3 {
		t.Error("tight is not lighter than both others by 3 to 1")
	}
}
