// SPDX-License-Identifier: MIT

//go:build !linux

package gl

// NewContext returns a hidden window's context. Main thread only. The error is
// one line naming what is missing.
func NewContext() (Context, error) {
	c, err := NewWindow()
	if err != nil {
		return nil, unavailable(err)
	}
	return c, nil
}
