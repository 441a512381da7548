// SPDX-License-Identifier: MIT

package field

import "fyne.io/fyne/v2"

// painted reports whether o has been painted. Fyne knows only then in which window
// it is, and ends the program when a menu is asked for of what has no window: the
// click that shows a field and a click on it may come between two pictures.
func painted(o fyne.CanvasObject) bool {
	return fyne.CurrentApp().Driver().CanvasForObject(o) != nil
}

// Tapped implements fyne.Tappable.
func (c *Choice) Tapped(e *fyne.PointEvent) {
	if painted(c) {
		c.Select.Tapped(e)
	}
}

// TypedKey implements fyne.Focusable.
func (c *Choice) TypedKey(e *fyne.KeyEvent) {
	if painted(c) {
		c.Select.TypedKey(e)
	}
}

// TappedSecondary implements fyne.SecondaryTappable.
func (e *Entry) TappedSecondary(at *fyne.PointEvent) {
	if painted(e) {
		e.Entry.TappedSecondary(at)
	}
}
