// SPDX-License-Identifier: MIT

package app

import (
	"unicode"

	"fyne.io/fyne/v2"

	"earline/app/view"
	"earline/scene"
)

// key takes the keys that no focused part wanted.
func (w *Window) key(ev *fyne.KeyEvent) {
	if w.busy() {
		if ev.Name == fyne.KeyEscape && w.dialog != nil {
			w.dialog.Hide()
		}
		return
	}
	switch ev.Name {
	case fyne.KeyEscape:
		if w.cancelDrag() {
			return
		}
		if w.options.Client {
			w.setClient(false)
			return
		}
		if !w.session.Chosen.Path && w.unmark() {
			return
		}
		w.goBack()
	case fyne.KeyF1:
		w.showKeys()
	case fyne.KeyF2:
		w.drawer.show(sightPage)
	case fyne.KeyF3:
		w.drawer.show(practicePage)
	case fyne.KeyF4:
		w.drawer.show(soundPage)
	case fyne.KeyF11:
		w.setClient(!w.options.Client)
	}
}

// rune takes the letters and digits that no entry wanted.
func (w *Window) rune(r rune) {
	if w.busy() {
		return
	}
	switch r = unicode.ToLower(r); r {
	case '1', '2', '3', '4', '5', '6':
		w.setView(view.Kinds[r-'1'])
	case 'f':
		w.view.Fit()
	case 'c':
		w.setClient(!w.options.Client)
	case 'r':
		w.setRays((w.options.Rays + 1) % (scene.Nothing + 1))
	case 'p':
		w.toggle(&w.options.People)
	case 'l':
		w.toggle(&w.options.Labels)
	case 'k':
		w.toggle(&w.options.Cones)
	}
}
