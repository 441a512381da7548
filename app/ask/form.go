// SPDX-License-Identifier: MIT

package ask

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
)

// Entry is an entry of a dialog, in which Escape closes the dialog and Enter does what
// that is for: Fyne's keeps these keys to itself. Who enters it finds its text
// selected.
type Entry struct {
	widget.Entry
	ring   *field.Ring
	escape func()
}

// NewEntry returns an empty entry.
func NewEntry() *Entry {
	e := &Entry{ring: field.NewRing()}
	e.ExtendBaseWidget(e)
	return e
}

// CreateRenderer implements fyne.Widget.
func (e *Entry) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(e.Entry.CreateRenderer(), e.ring)
}

// FocusGained implements fyne.Focusable: what stands there is selected, so that typing
// replaces it.
func (e *Entry) FocusGained() {
	e.ring.Show(true)
	e.Entry.FocusGained()
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// FocusLost hides the ring.
func (e *Entry) FocusLost() {
	e.ring.Show(false)
	e.Entry.FocusLost()
}

// TypedKey passes on what is the dialog's.
func (e *Entry) TypedKey(ev *fyne.KeyEvent) {
	switch {
	case ev.Name == fyne.KeyEscape && e.escape != nil:
		e.escape()
	case ev.Name == fyne.KeyEscape, (ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter) && e.OnSubmitted == nil:
		field.Pass(e, ev)
	default:
		e.Entry.TypedKey(ev)
	}
}

// TappedSecondary implements fyne.SecondaryTappable.
func (e *Entry) TappedSecondary(at *fyne.PointEvent) {
	if field.Painted(e) {
		e.Entry.TappedSecondary(at)
	}
}

// Form shows a form until accept takes it or it is cancelled. first gets the
// keyboard; it may be nil.
func (a *Asker) Form(title, text, button string, items []*widget.FormItem, first *Entry, accept func() error) {
	says := widget.NewLabel(words.Of(text))
	says.Wrapping = fyne.TextWrapWord
	fault := widget.NewLabel("")
	fault.Wrapping, fault.Importance = fyne.TextWrapWord, widget.DangerImportance
	d := dialog.NewCustomWithoutButtons(words.Of(title),
		container.New(layout.NewCustomPaddedVBoxLayout(4), says, widget.NewForm(items...), fault), a.window)
	try := func() {
		if err := accept(); err != nil {
			fault.SetText(words.Of(Lines(err)))
			return
		}
		d.Hide()
	}
	for _, i := range items {
		if e, ok := i.Widget.(*Entry); ok {
			e.OnSubmitted, e.escape = func(string) { try() }, d.Hide
		}
	}
	ok := field.NewButton(button, try)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{field.NewButton("Cancel", d.Hide), ok})
	a.show(d, 560, 170+float32(len(items))*34, d.Hide, try)
	if first != nil {
		a.window.Canvas().Focus(first)
	}
}
