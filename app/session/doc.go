// SPDX-License-Identifier: MIT

// Package session is one open design: its document, what is known about it, what
// is selected, what is proposed. It knows no window and works without a display.
//
// How it flows:
//
//	an edit      Do, Undo, Redo, Draft, Accept ─▶ Design is another one ─▶ Show
//	a picture    Show ─▶ Known.Audit.Get ─▶ Fresh: draw it
//	                                      Stale: draw what was known before; the
//	                                      new answer is on its way ─▶ Show again
//
// Nothing is pushed: an edit computes nothing by itself. Whoever shows an answer
// asks for it with Get each time that Show is called, and what nobody shows is
// not computed. Designs and results never change once made, so a pointer to one
// says all about it, and the key of an answer is a comparable value made of such
// pointers.
//
// Everything here is for the UI goroutine only. Work alone runs on goroutines of
// its own, which hand its results over through Post.
package session
