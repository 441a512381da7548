// SPDX-License-Identifier: MIT

// Package words says in the language of the window what the program says in English.
// All of the program makes its texts in English; they are translated where they are shown
// and nowhere else, so that answers, files and the command line know one language.
//
//	c, err := words.Read(assets.Words("de"))
//	words.Speak(c)                    once, before the window is made
//	words.Of("Row 2, seat 3")         Reihe 2, Platz 3
//
// A catalogue has for each English text its translation. Where the English is a format
// of package fmt, any text that it can print is translated: "Row %d, seat %d" has the
// translation "Reihe %d, Platz %d", and "%[2]s" gives the arguments another order. What
// stands for %s is translated in its turn. A text that no entry covers is taken apart into
// sentences and lists, and what remains is shown in English. Numbers get the decimal comma.
//
// Without Speak, Of returns what it is given, at no cost. All may be called from any
// goroutine.
package words

import (
	"sync/atomic"
)

// spoken is the catalogue of the language of the window; nil is English. It is set once,
// at the start.
var spoken atomic.Pointer[Catalogue]

// Speak makes c what Of translates by; nil is English.
func Speak(c *Catalogue) { spoken.Store(c) }

// Of returns an English text in the language of the window.
func Of(english string) string {
	if c := spoken.Load(); c != nil {
		return c.Of(english)
	}
	return english
}

// All returns English texts in the language of the window.
func All(english []string) []string {
	c := spoken.Load()
	if c == nil {
		return english
	}
	out := make([]string, len(english))
	for i, e := range english {
		out[i] = c.Of(e)
	}
	return out
}

// Comma reports whether numbers have a decimal comma.
func Comma() bool { return spoken.Load() != nil }

// Figure returns a number, with its unit, as it is written in the language of the window.
// What is no number is returned as it is.
func Figure(english string) string {
	if spoken.Load() != nil && quantity.MatchString(english) {
		return comma(english)
	}
	return english
}

// Back returns the English of what an entry without verbs translates; any other text, a
// number above all, is returned as it is.
func Back(text string) string {
	if c := spoken.Load(); c != nil {
		return c.back(text)
	}
	return text
}
