// SPDX-License-Identifier: MIT

// Package app is Earline's window: the frame that holds an inspector at the left, the
// picture of the room beside it, the pages under that and a status line at the foot. It
// owns files, the menu and the toolbars; its parts are packages of their own:
//
//	app/session     what is open: the design, what is known, selected and proposed
//	app/inspector   the panel in which the design is edited
//	app/room        the picture of the room, over app/view and app/move
//	app/page/...    the pages; newPages lists them
//	app/command     the one table of what can be done
//	app/ask         the dialogs that ask something
//
// Parts know the session and not each other. Each changes the design, the selection and
// the proposal through it; the session tells Window.changed, which has every part ask
// anew for what it shows. The page on top comes before the picture, because it lays
// something over it.
//
// Everything here runs on the UI goroutine (Fyne's main one); only app/session and
// app/view take results over from other threads.
package app
