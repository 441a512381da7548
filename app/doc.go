// SPDX-License-Identifier: MIT

// Package app is Earline's window: an inspector at the left, the room in three
// dimensions beside it, the table of seats by loudspeakers under that, a status
// line at the foot.
//
// What is open is the session's (app/session): every part of the window changes
// the design, the selection and the proposal through it, is told by Window.changed
// that something has changed, and then asks the session for what it shows.
//
// Everything here runs on the UI goroutine (Fyne's main one); only app/session and
// app/view take results over from other threads.
package app
