// SPDX-License-Identifier: MIT

package gl

import (
	"errors"
	"fmt"
	"os"
)

// NewContext returns a surfaceless EGL context, or a hidden window's when EGL
// cannot be had. Call it on the main thread: EGL would not mind, the window
// does. The error is one line naming what is missing for either.
func NewContext() (Context, error) {
	c, noEGL := NewEGL()
	if noEGL == nil {
		return c, nil
	}
	noWindow := errors.New("no display is set")
	if os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != "" {
		var w Context
		if w, noWindow = NewWindow(); noWindow == nil {
			return w, nil
		}
	}
	return nil, unavailable(fmt.Errorf("%w, and %w", noEGL, noWindow))
}
