// SPDX-License-Identifier: MIT

// Package gl draws a display list of package scene off-screen with OpenGL and
// returns the picture as an image, labels included. It is the only importer of
// g3n and go-gl/gl, and it decides nothing.
//
// A Renderer owns one goroutine locked to one thread for life; every OpenGL
// call happens there. Its exported methods are safe from any goroutine.
// A Context is what that thread needs from the platform: surfaceless EGL where
// Linux has it (no X server, no DISPLAY), else a hidden window.
//
// Pictures are drawn upside down on purpose: row 0 of an OpenGL picture is its
// lowest, row 0 of an image its highest, so turning the projection over makes
// the read-back come out the right way up without a second pass. Each place
// that feels the turn says so.
package gl
