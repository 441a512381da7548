// SPDX-License-Identifier: MIT

package theme

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"

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
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// over lays a translucent colour over an opaque one.
func over(top, under color.NRGBA) color.NRGBA {
	mix := func(t, u uint8) uint8 { return uint8((int(t)*int(top.A) + int(u)*(255-int(top.A)) + 127) / 255) }
	return color.NRGBA{mix(top.R, under.R), mix(top.G, under.G), mix(top.B, under.B), 0xff}
}

var palettes = map[string]*Palette{"dark": &dark, "light": &light, "high contrast": &highContrast}

// What WCAG 2.2 asks: 1.4.3 of text, 1.4.11 of borders and of parts of controls.
const (
	textContrast = 4.5
	partContrast = 3
)

// Every pair of colours in which text stands on a ground, in every theme. Text on what
// is focused, marked or under the pointer too: the text of a focused button had 3.95.
func TestTextCanBeRead(t *testing.T) {
	for name, p := range palettes {
		at := p.color
		read := func(what string, ink, ground color.NRGBA) {
			t.Helper()
			if got := contrast(over(ink, ground), ground); got < textContrast {
				t.Errorf("%s: %s have %.2f, want %v", name, what, got, textContrast)
			}
		}
		grounds := map[string]Color{"panel": Panel, "back": Back, "heading": Head, "well": Well}
		for where, g := range grounds {
			read("text on "+where, at(Ink), at(g))
			read("widgets' text on "+where, p.text, at(g))
			read("names on "+where, at(Faint), at(g))
			read("faults on "+where, at(Fault), at(g))
			read("widgets' text under the pointer on "+where, p.text, over(at(Hover), at(g)))
		}
		for _, g := range []Color{Panel, Well, Head} {
			read("read-outs", at(Accent), at(g))
		}
		read("text of a button", p.text, at(Button))
		read("text of a focused button", p.text, over(at(Focus), at(Button)))
		read("text of a button under the pointer", p.text, over(at(Hover), at(Button)))
		read("text of a pressed button", p.text, over(at(Pressed), at(Button)))
		read("text of the chosen button", at(OnAccent), at(Accent))
		read("text of the chosen button, focused", at(OnAccent), over(at(Focus), at(Accent)))
		read("text of the chosen button under the pointer", at(OnAccent), over(at(Hover), at(Accent)))
		read("text of a focused choice", p.text, over(at(Focus), at(Panel)))
		read("text of a marked menu line", p.text, over(at(Focus), at(Head)))
		read("marked text", p.text, over(at(Marked), at(Well)))
		read("name of a chosen chip", at(Ink), at(Button))
		read("name of a group under the pointer", at(Ink), at(Button))
		for v := sight.NotJudged; v <= sight.Blocked; v++ {
			read("letters on the plate of "+v.String(), at(verdictColor(v, ink)), at(verdictColor(v, plate)))
			if v >= sight.Tight {
				read("letters of "+v.String()+" on a chip", at(VerdictInk(v)), at(Well))
				read("letters of "+v.String()+" on the chosen chip", at(VerdictInk(v)), at(Button))
			}
		}
		// What cannot be done now is exempt from 1.4.3; we hold it to 3 all the same.
		for _, g := range []Color{Panel, Head, Well} {
			if got := contrast(at(Disabled), at(g)); got < partContrast {
				t.Errorf("%s: what cannot be done has %.2f on %v", name, got, g)
			}
		}
	}
}

// Unticked boxes had a contrast of 1.40, borders of entries 1.56.
func TestBordersOfControlsAreSeen(t *testing.T) {
	for name, p := range palettes {
		at := p.color
		seen := func(what string, part, ground Color) {
			t.Helper()
			if got := contrast(at(part), at(ground)); got < partContrast {
				t.Errorf("%s: %s have %.2f, want %v", name, what, got, partContrast)
			}
		}
		for _, g := range []Color{Panel, Head, Well} {
			seen("borders of entries and boxes", Edge, g)
			seen("borders of focused entries, carets and ticks", Accent, g)
			seen("scroll bars", Bar, g)
		}
		seen("frames of charts", Edge, Back)
		seen("the bar of work in its track", Accent, Well)
		for i, c := range p.Chart().Inks {
			if got := contrast(c, p.Chart().Field); got < partContrast {
				t.Errorf("%s: line %d of charts has %.2f, want %v", name, i+1, got, partContrast)
			}
		}
	}
}

// The keys in a menu: Fyne works their colour out of that of text, by arithmetic that
// goes wrong for most colours (widget.shortcutColor of Fyne 2.7, repeated here).
func TestKeysInMenusCanBeRead(t *testing.T) {
	for name, p := range palettes {
		r, g, b, a := p.text.RGBA()
		a = uint32(float32(a) * 0.95)
		key := color.NRGBA{uint8(r), uint8(g), uint8(b), uint8(a)}
		head := p.color(Head)
		if got := contrast(over(key, head), head); got < textContrast {
			t.Errorf("%s: %v has %.2f, want %v", name, key, got, textContrast)
		}
	}
}

// The theme that is shown is the chosen one, and without a choice the system's.
func TestThemeIsTheChosenOneOrTheSystems(t *testing.T) {
	for _, c := range []struct {
		theme   Theme
		variant fyne.ThemeVariant
		want    *Palette
	}{
		{Theme{}, base.VariantDark, &dark},
		{Theme{}, base.VariantLight, &light},
		{Theme{Wishes: Wishes{Light: true}}, base.VariantDark, &light},
		{Theme{Wishes: Wishes{Light: true, Contrast: true}}, base.VariantDark, &highContrast},
		{Theme{Wishes: Wishes{Contrast: true}}, base.VariantLight, &highContrast},
		{Theme{Choice: Dark, Wishes: Wishes{Contrast: true}}, base.VariantLight, &dark},
		{Theme{Choice: Light}, base.VariantDark, &light},
		{Theme{Choice: HighContrast}, base.VariantLight, &highContrast},
	} {
		if c.theme.palette(c.variant) != c.want {
			t.Errorf("%+v with variant %d shows another palette", c.theme, c.variant)
		}
	}
}

// The window and the picture speak of a verdict in the same colours.
func TestVerdictsAreThePicturesOwn(t *testing.T) {
	for name, p := range palettes {
		for v := sight.NotJudged; v <= sight.Blocked; v++ {
			if got, want := p.color(verdictColor(v, plate)), nrgba(p.Drawing.Verdicts[v].Plate); got != want {
				t.Errorf("%s: %v has %v, want %v", name, v, got, want)
			}
		}
	}
}
