// SPDX-License-Identifier: MIT

// Package app is Earline's window: an inspector at the left, the room in three
// dimensions beside it, the table of seats by loudspeakers under that, a status
// line at the foot. Everything here runs on the UI goroutine (Fyne's main one);
// only app/job and app/view take results over from other threads.
package app
