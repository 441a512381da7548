// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"

	"earline/app/field"
	"earline/app/page"
)

// goToPage brings a page to the top and gives it the keyboard.
func (w *Window) goToPage(p page.Page) {
	w.drawer.show(p)
	w.enterPage()
}

// enterPage gives the keyboard to the page on top.
func (w *Window) enterPage() {
	if p, ok := w.drawer.top.Page.(page.Keyed); ok {
		w.win.Canvas().Focus(p.First())
	}
}

// nextPart gives the keyboard to the part of the window after the one that has it:
// inspector, picture, page, first steps; in the client view picture and bar.
func (w *Window) nextPart() {
	c := w.win.Canvas()
	focused, _ := c.Focused().(fyne.CanvasObject)
	switch {
	case !w.side.Visible(): // in the client view
		if w.client.object.Visible() && focused != nil && !field.Holds(w.client.object, focused) {
			c.Focus(w.client.first())
		} else {
			c.Focus(w.room.View)
		}
	case focused != nil && field.Holds(w.drawer.object, focused) && w.guide.Object().Visible():
		c.Focus(w.guide.First())
	case focused == nil || field.Holds(w.drawer.object, focused) || field.Holds(w.guide.Object(), focused):
		c.Focus(w.inspector.First())
	case field.Holds(w.side, focused):
		c.Focus(w.room.View)
	default:
		w.enterPage()
	}
}

// openMenus opens the first menu. Systems with a menu of their own have their own key
// for it.
func (w *Window) openMenus() {
	if c, ok := w.win.Canvas().(interface{ ToggleMenu() }); ok {
		c.ToggleMenu()
	}
}
