// SPDX-License-Identifier: MIT

package gl

import (
	"errors"
	"fmt"
	"unsafe"

	"github.com/go-gl/glfw/v3.3/glfw"
)

// window is the context of a hidden GLFW window.
type window struct{ w *glfw.Window }

var _ Context = (*window)(nil)

// NewWindow returns the OpenGL 3.3 core context of a hidden window. Main thread
// only, as GLFW demands; inside a Fyne program that is the UI goroutine once
// the application has started. The renderer must be closed before GLFW ends
// (Fyne: in the window's OnClosed), else its thread hangs on a destroyed
// window. Release cannot destroy the window from the render thread: it lives,
// idle, until GLFW ends.
func NewWindow() (_ Context, err error) {
	// Without a display the bindings log one error, return none from Init and
	// panic on the next call.
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("no window system answers (%v)", p)
		}
	}()
	if err := glfw.Init(); err != nil {
		return nil, fmt.Errorf("no window system answers (%w)", err)
	}
	// The hints are GLFW's, shared with whoever opens the next window.
	glfw.DefaultWindowHints()
	defer glfw.DefaultWindowHints()
	glfw.WindowHint(glfw.ContextVersionMajor, 3)
	glfw.WindowHint(glfw.ContextVersionMinor, 3)
	glfw.WindowHint(glfw.OpenGLProfile, glfw.OpenGLCoreProfile)
	glfw.WindowHint(glfw.OpenGLForwardCompatible, glfw.True)
	glfw.WindowHint(glfw.Visible, glfw.False)
	if before := glfw.GetCurrentContext(); before != nil {
		defer before.MakeContextCurrent()
	}
	w, err := glfw.CreateWindow(1, 1, "", nil, nil)
	if err != nil {
		return nil, fmt.Errorf("no window with OpenGL 3.3 could be made (%w)", err)
	}
	if w == nil { // the bindings log some platform errors and return neither
		return nil, errors.New("no window with OpenGL 3.3 could be made")
	}
	return &window{w}, nil
}

func (c *window) MakeCurrent() (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the hidden window cannot be drawn to: %v", p)
		}
	}()
	c.w.MakeContextCurrent()
	return nil
}

func (c *window) Proc(name string) unsafe.Pointer { return glfw.GetProcAddress(name) }

func (c *window) Release() { glfw.DetachCurrentContext() }
