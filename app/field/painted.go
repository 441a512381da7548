// SPDX-License-Identifier: MIT

package field

import "fyne.io/fyne/v2"

// Painted reports whether o has been painted. Fyne knows only then in which window
// it is, and ends the program when a menu is asked for of what has no window: the
// click that shows a control and a click on it may come between two pictures.
func Painted(o fyne.CanvasObject) bool { return canvasOf(o) != nil }

// TappedSecondary implements fyne.SecondaryTappable.
func (e *Entry) TappedSecondary(at *fyne.PointEvent) {
	if Painted(e) {
		e.Entry.TappedSecondary(at)
	}
}
