// SPDX-License-Identifier: MIT

package words

import (
	"slices"
	"strings"
	"testing"
)

const sample = `{
"%d seats": "%d Plätze",
"%s stands before %s": "%[2]s wird verdeckt von: %[1]s",
"Level %.1f dB": "Pegel %.1f dB",
"Nothing found.": "Nichts gefunden.",
"Row %d, seat %d": "Reihe %d, Platz %d",
"ceiling": "Decke",
"left wall": "linke Wand",
"too low by %s": "um %s zu niedrig",
"%.0f %% done": "%.0f %% fertig",
"and": "und"
}`

func read(t testing.TB, text string) *Catalogue {
	t.Helper()
	c, err := Read([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestTextsAreTranslated(t *testing.T) {
	c := read(t, sample)
	for english, want := range map[string]string{
		"":                                      "",
		"ceiling":                               "Decke",
		"Ceiling":                               "Decke",
		"left wall":                             "linke Wand",
		"Left wall":                             "Linke Wand",
		"Row 2, seat 13":                        "Reihe 2, Platz 13",
		"Level -3.2 dB":                         "Pegel -3,2 dB",
		"40 % done":                             "40 % fertig",
		"2.35 m":                                "2,35 m",
		"2.35:1":                                "2,35:1",
		"7.1.4":                                 "7.1.4", // no decimals
		"too low by 0.31 m.":                    "um 0,31 m zu niedrig.",
		"Nothing found":                         "Nothing found", // an entry says how it ends
		"left wall stands before ceiling":       "Decke wird verdeckt von: linke Wand",
		"Row 1, seat 2 stands before left wall": "linke Wand wird verdeckt von: Reihe 1, Platz 2",
		"Nothing found. Level 1.5 dB":           "Nichts gefunden. Pegel 1,5 dB",
		"ceiling: too low by 12 mm":             "Decke: um 12 mm zu niedrig",
		"left wall, ceiling":                    "linke Wand, Decke",
		"left wall and ceiling":                 "linke Wand und Decke",
		"• left wall\n• ceiling":                "• linke Wand\n• Decke",
		"ceiling (left wall)":                   "Decke (linke Wand)",
		"an unknown text":                       "an unknown text",
		"Studio 2.5 of somebody":                "Studio 2.5 of somebody", // a name
	} {
		if got := c.Of(english); got != want {
			t.Errorf("%q is %q, want %q", english, got, want)
		}
		if got := c.Of(english); got != want {
			t.Errorf("%q is %q the second time, want %q", english, got, want)
		}
	}
}

// A hole shows the English text, and is told of.
func TestWhatHasNoTranslationIsToldOf(t *testing.T) {
	c := read(t, sample)
	var missed []string
	c.Missed = func(m string) { missed = append(missed, m) }
	for _, text := range []string{"the left wall leans", "3 seats", "too low by a whole ell", "ceiling"} {
		c.Of(text)
	}
	if want := []string{"the left wall leans", "a whole ell"}; !slices.Equal(missed, want) {
		t.Fatalf("missed %q, want %q", missed, want)
	}
}

func TestACatalogueThatCannotBeUsedIsRefused(t *testing.T) {
	for name, text := range map[string]string{
		"no object":         `["a"]`,
		"nothing":           ``,
		"cut off":           `{"a": "b"`,
		"a number":          `{"a": 1}`,
		"a list":            `{"a": ["b"]}`,
		"twice":             `{"a": "b", "a": "c"}`,
		"a verb too few":    `{"%s of %d": "%s"}`,
		"a verb too many":   `{"%s of %d": "%s von %d und %d"}`,
		"another verb":      `{"%d seats": "%s Plätze"}`,
		"no such argument":  `{"%d seats": "%[2]d Plätze"}`,
		"a verb for a word": `{"seats": "%d Plätze"}`,
	} {
		if _, err := Read([]byte(text)); err == nil {
			t.Errorf("%s: %s is taken", name, text)
		}
	}
}

// English is no catalogue: a text is the very same.
func TestEnglishIsLeftAlone(t *testing.T) {
	Speak(nil)
	list := []string{"ceiling", "2.5 m"}
	if got := All(list); &got[0] != &list[0] || Of("2.5 m") != "2.5 m" || Back("2,5 m") != "2,5 m" || Comma() {
		t.Fatal("English is changed")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(sample, "Row 2, seat 13")
	f.Add(`{"%s%s": "%s%s", "%[2]d of %[1]d": "%[1]d von %[2]d"}`, "3 of 4")
	f.Add(`{"%*d": "%*d", "%": "%", "%%": "%%"}`, "%")
	f.Add(`{"a %s b %s c": "x %s %s"}`, "a  b  b  c")
	f.Fuzz(func(t *testing.T, catalogue, text string) {
		c, err := Read([]byte(catalogue))
		if err != nil {
			return
		}
		if len(text) > 1<<10 || strings.Count(catalogue, "%") > 40 {
			return // a text of the window is short
		}
		if a, b := c.Of(text), c.Of(text); a != b {
			t.Fatalf("%q is %q and then %q", text, a, b)
		}
	})
}
