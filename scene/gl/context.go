// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"unsafe"
)

// Context is one OpenGL context without a visible surface. Start takes it over:
// all three methods are then called on the render thread only.
type Context interface {
	// MakeCurrent makes the context current on the calling thread.
	MakeCurrent() error
	// Proc returns the address of the named OpenGL function, nil if unknown.
	Proc(name string) unsafe.Pointer
	// Release ends the context's use; the context cannot be used again.
	Release()
}

// unavailable words the one line shown in place of the view when this machine
// cannot draw it.
func unavailable(cause error) error {
	return fmt.Errorf("no 3D view: %w; audits and solvers work without it", cause)
}
