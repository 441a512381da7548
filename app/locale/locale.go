// SPDX-License-Identifier: MIT

// Package locale spares Fyne a locale that it cannot parse. Import it for its
// effect.
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

func init() { set(os.Getenv, func(k, v string) { _ = os.Setenv(k, v) }) }

// set names English where the locale in force is C with an encoding and no
// language is asked for.
func set(get func(string) string, put func(key, value string)) {
	if get("LANGUAGE") != "" {
		return
	}
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := get(name); v != "" {
			if strings.HasPrefix(v, "C.") {
				put("LANGUAGE", "en")
			}
			return
		}
	}
}
