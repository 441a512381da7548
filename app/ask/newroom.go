// SPDX-License-Identifier: MIT

package ask

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/project/newroom"
)

// NewRoom asks what a new room is to be, beginning with w, and has it planned. The
// dialog stays open meanwhile: plan is to call done once, on the UI goroutine, with why
// the room cannot be had, or nil, which closes the dialog. done reports whether the room
// is still wanted; it is not when the dialog was closed.
func (a *Asker) NewRoom(w newroom.Wish, plan func(w newroom.Wish, done func(error) bool)) {
	const mostRows = 8
	f := &Options{Units: w.Units}
	f.Length("Length", &w.Length)
	f.Length("Width", &w.Width)
	f.Length("Height", &w.Height)
	f.Count("Seats", &w.Seats)
	rows, rowNames := uint8(w.Rows), []string{"As many as suit the room"}
	for n := 1; n <= mostRows; n++ {
		rowNames = append(rowNames, strconv.Itoa(n))
	}
	f.Choice("Rows", rowNames, &rows)
	var names []string
	for _, s := range newroom.Systems() {
		names = append(names, s.Name+": "+s.Says)
	}
	system := uint8(max(slices.Index(newroom.SystemNames(), w.System), 0))
	f.Choice("System", names, &system)

	fault := widget.NewLabel("")
	fault.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(words.Of("New room"), container.New(layout.NewCustomPaddedVBoxLayout(4), widget.NewForm(f.items...), fault), a.window)
	open := true
	say := func(text string, importance widget.Importance) {
		fault.Importance = importance
		fault.SetText(words.Of(text))
	}
	planning := false
	try := func() {
		if planning {
			return
		}
		if err := f.Read(); err != nil {
			say(Lines(err), widget.DangerImportance)
			return
		}
		planning = true
		say("Planning the room…", widget.MediumImportance)
		wish := w
		wish.Rows, wish.System = int(rows), newroom.SystemNames()[system]
		plan(wish, func(err error) bool {
			planning = false
			if err != nil {
				say(Lines(err), widget.DangerImportance)
			} else if open {
				d.Hide()
				return true
			}
			return open
		})
	}
	for _, i := range f.items {
		if e, ok := i.Widget.(*Entry); ok {
			e.OnSubmitted, e.escape = func(string) { try() }, d.Hide
		}
	}
	ok := field.NewButton("Make the room", try)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{field.NewButton("Cancel", d.Hide), ok})
	a.show(d, 520, 320, d.Hide, try, func() { open = false })
	a.window.Canvas().Focus(f.first)
	f.first.TypedShortcut(&fyne.ShortcutSelectAll{})
}
