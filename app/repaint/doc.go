// SPDX-License-Identifier: MIT

// Package repaint makes the toolkit paint less of the window, and sooner.
//
// Fyne paints the whole window at its next tick, sixty a second, whatever changed. With
// OpenGL in software that takes longer than an edit and its picture. Install puts a
// painter between the window's canvas and its own: it keeps a picture of the window,
// lets Fyne's painter paint only what changed and what lies over and under that, and
// copies the picture to the window. Begin deals with what the user does when it comes
// (X11 only), and Now paints at once.
//
// Fyne promises none of the methods that this takes. They are looked for when the
// program runs, and where one is missing the window is painted as Fyne does it.
package repaint
