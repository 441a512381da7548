// SPDX-License-Identifier: MIT

//go:build !linux || wayland

package repaint

// Prompt paints at once, and deals with what the user does when it comes. Here it
// leaves both to the toolkit.
type Prompt struct{}

// Begin begins to.
func (p *Prompt) Begin() {}

// Now paints what changed.
func (p *Prompt) Now() {}

// End leaves it to the toolkit again.
func (p *Prompt) End() {}
