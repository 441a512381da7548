// SPDX-License-Identifier: MIT

package gl

import "github.com/go-gl/glfw/v3.3/glfw"

// WorkArea returns how many pixels of the screen windows may cover; ok is false where
// that cannot be known. Main thread only, while GLFW is up.
func WorkArea() (width, height int, ok bool) {
	defer func() { // without a display the bindings panic
		if recover() != nil {
			ok = false
		}
	}()
	m := glfw.GetPrimaryMonitor()
	if m == nil {
		return 0, 0, false
	}
	_, _, width, height = m.GetWorkarea()
	return width, height, width > 0 && height > 0
}
