// SPDX-License-Identifier: MIT

package app

import (
	"time"

	"earline/app/field"
	"earline/project"
)

// undo takes back the last edit, or what is being typed in an entry.
func (w *Window) undo() {
	if w.busy() || w.giveUp() {
		return
	}
	if e, ok := w.win.Canvas().Focused().(*field.Entry); ok && e.Pending() {
		e.Undo()
		return
	}
	if w.doc.Undo() {
		w.changed()
	}
}

// redo makes the last edit that was taken back again.
func (w *Window) redo() {
	if !w.busy() && !w.giveUp() && w.doc.Redo() {
		w.changed()
	}
}

func (w *Window) setUnits(u project.Units) {
	w.commit()
	_ = w.Do("show "+string(u)+" lengths", "", func(d *project.Design) { d.Units = u })
}

// startAutosave sees to it that the recovery copy is written soon.
func (w *Window) startAutosave() {
	if w.autosave != nil {
		return
	}
	w.autosave = time.AfterFunc(w.cfg.Autosave, func() {
		w.cfg.Post(func() {
			w.autosave = nil
			if w.closed {
				return
			}
			w.keep()
		})
	})
}

// keep writes the recovery copy, or removes it when there is nothing to lose.
func (w *Window) keep() {
	if !w.doc.Dirty() {
		w.doc.Forget()
		return
	}
	w.doc.Keep(func(err error) {
		w.cfg.Post(func() {
			w.status.hint("No recovery copy can be written: " + err.Error())
			w.showStatus()
		})
	})
}

// stopAutosave writes at once what was to be written later.
func (w *Window) stopAutosave() {
	if w.autosave == nil {
		return
	}
	w.autosave.Stop()
	w.autosave = nil
	w.keep()
}
