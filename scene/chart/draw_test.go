// SPDX-License-Identifier: MIT

package chart

import (
	"image/color"
	"math"
	"testing"
)

// A level line is drawn where its value stands: the darkest row of pixels.
func TestLineStandsAtItsValue(t *testing.T) {
	c := &Chart{Y: Axis{Min: 0, Max: 10}, X: Axis{Min: 0, Max: 1}, Series: []Series{{X: []float64{0, 1}, Y: []float64{3.3, 3.3}, Heavy: true}}}
	s := Light()
	s.Grid = s.Field
	d := c.Layout(Paper{W: 480, H: 180, Style: s})
	img := d.Image()
	x := (d.Field().Min.X + d.Field().Max.X) / 2
	sum, weight := 0.0, 0.0
	for y := d.Field().Min.Y + 2; y < d.Field().Max.Y-2; y++ {
		w := 255 - float64(img.RGBAAt(x, y).R)
		sum, weight = sum+w*(float64(y)+0.5), weight+w
	}
	_, want, ok := d.Pixel(0.5, 3.3)
	if got := sum / weight; !ok || math.Abs(got-want) > 0.05 {
		t.Errorf("the line stands at %v px, want %v", got, want)
	}
}

// luminance is that of WCAG 2.2 (W3C Recommendation, 2023).
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
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.2, success criteria 1.4.3 and 1.4.11: text has a contrast of 4.5,
// graphics that must be told apart one of 3 to what they stand on.
func TestStylesCanBeRead(t *testing.T) {
	for name, s := range map[string]Style{"dark": Dark(), "light": Light()} {
		for what, ink := range map[string]color.NRGBA{"title": s.Ink, "numbers": s.Faint, "marks": s.Mark} {
			if got := contrast(ink, s.Back); got < 4.5 {
				t.Errorf("%s: %s have a contrast of %.2f, want 4.5", name, what, got)
			}
		}
		for i, ink := range append([]color.NRGBA{s.Wanted, s.Unwanted}, s.Inks...) {
			if got := contrast(ink, s.Field); got < 3 {
				t.Errorf("%s: colour %d has a contrast of %.2f, want 3", name, i-1, got)
			}
		}
	}
}

// Lines that are not quiet differ in pattern or, where patterns come again, in
// colour; signs of points differ in shape.
func TestLinesDifferWithoutColour(t *testing.T) {
	c := &Chart{}
	for range 8 {
		c.Series = append(c.Series, Series{Kind: Line})
	}
	for range 5 {
		c.Series = append(c.Series, Series{Kind: Points})
	}
	l := c.seriesStyles()
	for i := range 8 {
		for k := range i {
			if l[i].dash == l[k].dash && (i-k < 4 || l[i].ink == l[k].ink) {
				t.Errorf("lines %d and %d look alike", k, i)
			}
		}
	}
	for i := 9; i < 13; i++ {
		for k := 8; k < i; k++ {
			if l[i].symbol%5 == l[k].symbol%5 {
				t.Errorf("points %d and %d look alike", k, i)
			}
		}
	}
}
