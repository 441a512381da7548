// SPDX-License-Identifier: MIT

package repaint

import "runtime/debug"

// version returns the version of Fyne that the program is built with; empty when that
// is not known.
func version() string {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, m := range b.Deps {
		if m.Path == "fyne.io/fyne/v2" && m.Replace == nil {
			return m.Version
		}
	}
	return ""
}
