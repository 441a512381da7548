// SPDX-License-Identifier: MIT

package app

import (
	"earline/app/field"
	"earline/project"
)

// undo takes back the last edit, or what is being typed in an entry.
func (w *Window) undo() {
	if w.ask.Busy() {
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
	if !w.ask.Busy() {
		w.session.Redo()
	}
}

func (w *Window) setUnits(u project.Units) {
	w.commit()
	_ = w.session.Do("show "+string(u)+" lengths", "", func(d *project.Design) { d.Units = u })
}
