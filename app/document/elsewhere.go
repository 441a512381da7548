// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
)

// shownName is the name of the file in a window's folder of recovery copies that says
// which design the window shows. It counts while the window has the folder.
const shownName = "shown"

// Tell keeps in dir, this window's own folder, that it shows the design at path, empty
// for one in no file. Where it cannot be kept other windows do not learn of it.
func Tell(dir, path string) {
	_ = os.WriteFile(filepath.Join(dir, shownName), []byte(path), 0o600)
}

// ShownElsewhere reports whether another window, which has a folder under root that is
// not own, shows the design at path. Of two windows that both tell before they ask at
// least one learns of the other.
func ShownElsewhere(root, own, path string) bool {
	here, err := os.Stat(path)
	if err != nil {
		return false
	}
	for _, dir := range folders(root, own) {
		if dir == own {
			continue
		}
		name, err := os.ReadFile(filepath.Join(dir, shownName))
		if err != nil || len(name) == 0 {
			continue
		}
		if there, err := os.Stat(string(name)); err != nil || !os.SameFile(here, there) {
			continue
		}
		held := true
		whileFree(dir, func() { held = false })
		if held {
			return true
		}
	}
	return false
}
