// SPDX-License-Identifier: MIT

// Package locale has Fyne speak English, as the rest of the window does: else its own
// dialogs would come in the language of the system, in the middle of English ones. Import
// it for its effect. It also spares Fyne a locale that it cannot parse.
//
// Fyne reads the environment while its package lang is initialised and logs an
// error for LANG=C.UTF-8, the default of containers. Packages are initialised
// in the order of their import paths as far as their imports allow (Go
// specification, "Program initialization"): this one, which imports the
// standard library alone, comes before every path that begins with fyne.io.
package locale

import "os"

// English comes before every other language.
func init() { _ = os.Setenv("LANGUAGE", "en") }
