// SPDX-License-Identifier: MIT

// Package ask puts a question to the user and takes the answer: in a dialog, of
// which one at a time is open. UI goroutine only.
package ask

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/project"
)

// Asker asks in a window.
type Asker struct {
	// Desktop has a file chooser of its own; nil for none. Post runs a function on the UI
	// goroutine soon, once the desktop has answered.
	Desktop Chooser
	Post    func(func())

	window fyne.Window
	folder func() string
	open   []opened // the last lies on top
}

// opened is a dialog that is open.
type opened struct {
	dialog  dialog.Dialog
	overlay fyne.CanvasObject // what the dialog lies in
	// escape gives up, and enter does what the dialog is for; nil for nothing.
	escape, enter func()
}

// New returns an asker in w. folder returns where file dialogs begin.
func New(w fyne.Window, folder func() string) *Asker {
	return &Asker{Post: fyne.Do, window: w, folder: folder}
}

// Answer is a button of a question.
type Answer struct {
	Text string
	Main bool   // the one that is offered first
	Do   func() // may be nil
	// Escape is whether Escape gives this answer, as it gives one that does nothing.
	Escape bool
}

// Busy reports whether a dialog or menu is open, which keys must not reach
// through.
func (a *Asker) Busy() bool { return a.window.Canvas().Overlays().Top() != nil }

// Escape gives up what lies on top: a menu, or else a dialog, unless that needs an
// answer.
func (a *Asker) Escape() {
	top := a.window.Canvas().Overlays().Top()
	if top == nil {
		return
	}
	switch o, ok := a.top(); {
	case !ok || o.overlay != top:
		top.Hide()
	case o.escape != nil:
		o.escape()
	}
}

// Key takes a key that meant nothing to what has the keyboard in a dialog: Escape, or
// Enter, which does what the dialog is for.
func (a *Asker) Key(name fyne.KeyName) {
	switch name {
	case fyne.KeyEscape:
		a.Escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		if o, ok := a.top(); ok && o.enter != nil && o.overlay == a.window.Canvas().Overlays().Top() {
			o.enter()
		}
	}
}

// top returns the dialog that lies on top; false for none.
func (a *Asker) top() (opened, bool) {
	if len(a.open) == 0 {
		return opened{}, false
	}
	return a.open[len(a.open)-1], true
}

// Show shows a dialog, which Escape closes.
func (a *Asker) Show(d dialog.Dialog, width, height float32) {
	a.show(d, width, height, d.Hide, nil)
}

// show shows a dialog; escape and enter are what the keys do, and closed is told when it
// has gone.
func (a *Asker) show(d dialog.Dialog, width, height float32, escape, enter func(), closed ...func()) {
	d.SetOnClosed(func() {
		a.open = slices.DeleteFunc(a.open, func(o opened) bool { return o.dialog == d })
		for _, f := range closed {
			f()
		}
	})
	d.Resize(fyne.NewSize(width, height))
	d.Show()
	a.open = append(a.open, opened{d, a.window.Canvas().Overlays().Top(), escape, enter})
}

// Question asks and does what is answered. Escape gives the answer that does
// nothing, if there is one; else an answer must be chosen. That one stands first and
// the main one last, as in every dialog; the main one has the keyboard.
func (a *Asker) Question(title, text string, answers ...Answer) {
	label := widget.NewLabel(words.Of(text))
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(words.Of(title), label, a.window)
	place := func(a Answer) int {
		switch {
		case a.Main:
			return 2
		case a.Do == nil:
			return 0
		}
		return 1
	}
	answers = slices.Clone(answers)
	slices.SortStableFunc(answers, func(a, b Answer) int { return place(a) - place(b) })
	var buttons []fyne.CanvasObject
	var escape func()
	var main *field.Button
	for _, answer := range answers {
		b := field.NewButton(answer.Text, func() {
			d.Hide()
			if answer.Do != nil {
				answer.Do()
			}
		})
		if answer.Main {
			b.Importance = widget.HighImportance
			main = b
		}
		if answer.Do == nil || answer.Escape {
			escape = func() { b.Tapped(&fyne.PointEvent{}) }
		}
		buttons = append(buttons, b)
	}
	d.SetButtons(buttons)
	if main == nil {
		a.show(d, 460, 160, escape, nil)
		return
	}
	a.show(d, 460, 160, escape, func() { main.Tapped(&fyne.PointEvent{}) })
	a.window.Canvas().Focus(main)
}

// Report shows an error: every fault on a line of its own.
func (a *Asker) Report(title string, err error) {
	label := widget.NewLabel(words.Of(Lines(err)))
	label.Wrapping = fyne.TextWrapWord
	a.read(title, 680, 300, label)
}

// Text shows something to be read.
func (a *Asker) Text(title string, width, height float32, parts ...fyne.CanvasObject) {
	a.read(title, width, height, container.NewVBox(parts...))
}

// Large shows something nearly as large as the window, and gives the keyboard to first.
// closed is called when the dialog is.
func (a *Asker) Large(title string, what fyne.CanvasObject, first fyne.Focusable, closed func()) {
	d := dialog.NewCustomWithoutButtons(words.Of(title), what, a.window)
	d.SetButtons([]fyne.CanvasObject{field.NewButton("Close", d.Hide)})
	size := a.window.Canvas().Size()
	const beside = 24
	a.show(d, size.Width-beside, size.Height-beside, d.Hide, d.Hide, closed)
	a.window.Canvas().Focus(first)
}

// read shows something until it is closed.
func (a *Asker) read(title string, width, height float32, what fyne.CanvasObject) {
	d := dialog.NewCustomWithoutButtons(words.Of(title), container.NewVScroll(what), a.window)
	shut := field.NewButton("Close", d.Hide)
	d.SetButtons([]fyne.CanvasObject{shut})
	a.show(d, width, height, d.Hide, d.Hide)
	a.window.Canvas().Focus(shut)
}

// Lines returns an error in words, every fault on a line of its own.
func Lines(err error) string {
	faults := project.Faults(err)
	if len(faults) == 0 {
		return err.Error()
	}
	var lines []string
	for _, f := range faults {
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}
