// SPDX-License-Identifier: MIT

package ask

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
)

// Work shows that something is being made until done is called, and how far that is once
// tell is told a share of it. cancel is called when the user gives up; the dialog is
// closed then. All on the UI goroutine.
func (a *Asker) Work(title, what string, cancel func()) (tell func(share float64), done func()) {
	label := widget.NewLabel(words.Of(what))
	label.Wrapping = fyne.TextWrapWord
	bar := field.NewProgress()
	bar.Hide()
	d := dialog.NewCustomWithoutButtons(words.Of(title), container.NewBorder(label, nil, nil, nil, bar), a.window)
	give := func() {
		d.Hide()
		cancel()
	}
	b := field.NewButton("Cancel", give)
	d.SetButtons([]fyne.CanvasObject{b})
	a.show(d, 420, 160, give, nil)
	a.window.Canvas().Focus(b)
	return func(share float64) {
		bar.Show()
		bar.SetValue(share)
	}, d.Hide
}
