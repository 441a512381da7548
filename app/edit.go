// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"

	"earline/app/field"
	"earline/project"
)

// undo takes back the last edit, or what is being typed in an entry.
func (w *Window) undo() {
	if w.ask.Busy() {
		w.inDialog(&fyne.ShortcutUndo{})
		return
	}
	if e, ok := w.win.Canvas().Focused().(*field.Entry); ok && e.Pending() && !w.session.Dragging() {
		e.Undo()
		return
	}
	w.session.Undo()
}

// redo makes the last edit that was taken back again.
func (w *Window) redo() {
	if w.ask.Busy() {
		w.inDialog(&fyne.ShortcutRedo{})
		return
	}
	w.session.Redo()
}

// inDialog passes a shortcut on to what has the keyboard in a dialog.
func (w *Window) inDialog(s fyne.Shortcut) {
	if f, ok := w.win.Canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(s)
	}
}

func (w *Window) setUnits(u project.Units) {
	w.commit()
	_ = w.session.Do("show "+string(u)+" lengths", "", func(d *project.Design) { d.Units = u })
}
