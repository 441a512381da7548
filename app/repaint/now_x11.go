// SPDX-License-Identifier: MIT

//go:build linux && !wayland

package repaint

/*
#cgo LDFLAGS: -lX11
#include <X11/Xlib.h>
#include <poll.h>

// wait returns once there is something to read from fd, or a second is over.
static int wait(int fd) {
	struct pollfd p = {fd, POLLIN, 0};
	return poll(&p, 1, 1000);
}
*/
import "C"

import (
	"reflect"
	"runtime/debug"
	"sync/atomic"
	"unsafe"

	"fyne.io/fyne/v2"
	"github.com/go-gl/glfw/v3.3/glfw"
)

// Toolkit is the version of Fyne that drawSingleFrame was looked up in.
const Toolkit = "v2.7.1"

// drawSingleFrame paints the windows in which something changed. Fyne has no other way
// to paint before its next tick.
//
//go:linkname drawSingleFrame fyne.io/fyne/v2/internal/driver/glfw.(*gLDriver).drawSingleFrame
func drawSingleFrame(driver unsafe.Pointer)

// Prompt paints at once, and deals with what the user does when it comes. The zero
// value leaves both to the toolkit.
type Prompt struct {
	driver unsafe.Pointer
	ended  atomic.Bool
}

// Begin begins to, on the UI goroutine once the toolkit runs.
func (p *Prompt) Begin() {
	d := reflect.ValueOf(fyne.CurrentApp().Driver())
	if d.Kind() != reflect.Pointer || d.Type().String() != "*glfw.gLDriver" || version() != Toolkit {
		return
	}
	display := glfw.GetX11Display()
	if display == nil {
		return
	}
	p.driver = d.UnsafePointer()
	go p.listen(C.XConnectionNumber((*C.Display)(unsafe.Pointer(display))))
}

// listen has the toolkit deal with what comes through the connection to the display.
func (p *Prompt) listen(connection C.int) {
	dealt := make(chan struct{}, 1)
	for !p.ended.Load() {
		if C.wait(connection) == 0 {
			continue
		}
		fyne.Do(func() {
			if !p.ended.Load() {
				glfw.PollEvents()
				p.Now()
			}
			dealt <- struct{}{}
		})
		<-dealt
	}
}

// Now paints what changed. UI goroutine only.
func (p *Prompt) Now() {
	if p.driver != nil && !p.ended.Load() {
		drawSingleFrame(p.driver)
	}
}

// End leaves it to the toolkit again. UI goroutine only; call it before the window
// goes.
func (p *Prompt) End() { p.ended.Store(true) }

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
