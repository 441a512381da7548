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
	top    dialog.Dialog // shown last; nil where Escape must not close it
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
}

// Busy reports whether a dialog or menu is open, which keys must not reach
// through.
func (a *Asker) Busy() bool { return a.window.Canvas().Overlays().Top() != nil }

// Escape closes the dialog that is open, unless it needs an answer.
func (a *Asker) Escape() {
	if a.top != nil {
		a.top.Hide()
	}
}

// Show shows a dialog, which Escape closes.
func (a *Asker) Show(d dialog.Dialog, width, height float32) {
	a.top = d
	d.Resize(fyne.NewSize(width, height))
	d.Show()
}

// Question asks and does what is answered. Escape gives the answer that does
// nothing, if there is one; else an answer must be chosen.
func (a *Asker) Question(title, text string, answers ...Answer) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(title, label, a.window)
	var buttons []fyne.CanvasObject
	for _, answer := range answers {
		b := widget.NewButton(answer.Text, func() {
			d.Hide()
			if answer.Do != nil {
				answer.Do()
			}
		})
		if answer.Main {
			b.Importance = widget.HighImportance
		}
		buttons = append(buttons, b)
	}
	d.SetButtons(buttons)
	a.Show(d, 460, 160)
	if !slices.ContainsFunc(answers, func(a Answer) bool { return a.Do == nil }) {
		a.top = nil
	}
}

// Report shows an error: every fault on a line of its own.
func (a *Asker) Report(title string, err error) {
	label := widget.NewLabel(Lines(err))
	label.Wrapping = fyne.TextWrapWord
	a.Show(dialog.NewCustom(title, "Close", container.NewVScroll(label), a.window), 680, 300)
}

// Text shows something to be read.
func (a *Asker) Text(title string, width, height float32, parts ...fyne.CanvasObject) {
	a.Show(dialog.NewCustom(title, "Close", container.NewVScroll(container.NewVBox(parts...)), a.window), width, height)
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
