// SPDX-License-Identifier: MIT

package ask

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// Entry is an entry of a form in which Escape closes the form: Fyne's keeps the
// key to itself.
type Entry struct {
	widget.Entry
	escape func()
}

// NewEntry returns an empty entry.
func NewEntry() *Entry {
	e := &Entry{}
	e.ExtendBaseWidget(e)
	return e
}

// FocusGained implements fyne.Focusable: what stands there is selected, so that typing
// replaces it.
func (e *Entry) FocusGained() {
	e.Entry.FocusGained()
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// TypedKey implements fyne.Focusable.
func (e *Entry) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyEscape && e.escape != nil {
		e.escape()
		return
	}
	e.Entry.TypedKey(ev)
}

// Form shows a form until accept takes it or it is cancelled. first gets the
// keyboard; it may be nil.
func (a *Asker) Form(title, text, button string, items []*widget.FormItem, first *Entry, accept func() error) {
	words := widget.NewLabel(text)
	words.Wrapping = fyne.TextWrapWord
	fault := widget.NewLabel("")
	fault.Wrapping, fault.Importance = fyne.TextWrapWord, widget.DangerImportance
	d := dialog.NewCustomWithoutButtons(title,
		container.New(layout.NewCustomPaddedVBoxLayout(4), words, widget.NewForm(items...), fault), a.window)
	try := func() {
		if err := accept(); err != nil {
			fault.SetText(Lines(err))
			return
		}
		d.Hide()
	}
	for _, i := range items {
		if e, ok := i.Widget.(*Entry); ok {
			e.OnSubmitted, e.escape = func(string) { try() }, d.Hide
		}
	}
	ok := widget.NewButton(button, try)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{widget.NewButton("Cancel", d.Hide), ok})
	a.Show(d, 560, 170+float32(len(items))*34)
	if first != nil {
		a.window.Canvas().Focus(first)
	}
}
