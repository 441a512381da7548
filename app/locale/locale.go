// SPDX-License-Identifier: MIT

// Package locale is the language that the environment asks for, and the one in which Fyne
// speaks in its own dialogs: English, until Speak says otherwise. It spares Fyne a locale
// that it cannot parse.
//
// Fyne reads the environment while its package lang is initialised and logs an
// error for LANG=C.UTF-8, the default of containers. Packages are initialised
// in the order of their import paths as far as their imports allow (Go
// specification, "Program initialization"): this one, which imports the
// standard library alone, comes before every path that begins with fyne.io.
package locale

import (
	"os"
	"strings"
)

// wanted is what the environment asked for before it was changed.
var wanted = fromEnvironment(os.Getenv)

// English comes before every other language.
func init() { _ = os.Setenv("LANGUAGE", "en") }

// Wanted returns the languages that the environment asks for, the best first, as codes of
// two letters: "de", "en". None is a system that says it elsewhere.
func Wanted() []string { return wanted }

// Speak has Fyne's dialogs speak a language from when it next chooses its words.
func Speak(code string) { _ = os.Setenv("LANGUAGE", code) }

// fromEnvironment reads the variables of messages in the order of POSIX (IEEE Std 1003.1,
// 8.2 Internationalization Variables), with LANGUAGE, a list, before them as in GNU
// gettext: it counts only where there is a locale other than C.
func fromEnvironment(get func(string) string) []string {
	name := ""
	for _, key := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if name = get(key); name != "" {
			break
		}
	}
	if bare, _, _ := strings.Cut(name, "."); bare == "" || bare == "C" || bare == "POSIX" {
		return nil
	}
	var out []string
	for _, n := range append(strings.Split(get("LANGUAGE"), ":"), name) {
		if len(n) >= 2 {
			out = append(out, strings.ToLower(n[:2]))
		}
	}
	return out
}
