// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"earline/project"
)

var errNoPicture = errors.New("there is no 3D view here; earline render may still draw it")

// answer is a button of a question. do may be nil.
type answer struct {
	text string
	main bool
	do   func()
}

// pop shows a dialog, which Escape closes.
func (w *Window) pop(d dialog.Dialog, width, height float32) {
	w.dialog = d
	d.Resize(fyne.NewSize(width, height))
	d.Show()
}

// question asks and does what is answered. Escape gives the answer that does
// nothing, if there is one; else an answer must be chosen.
func (w *Window) question(title, text string, answers ...answer) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(title, label, w.win)
	var buttons []fyne.CanvasObject
	for _, a := range answers {
		b := widget.NewButton(a.text, func() {
			d.Hide()
			if a.do != nil {
				a.do()
			}
		})
		if a.main {
			b.Importance = widget.HighImportance
		}
		buttons = append(buttons, b)
	}
	d.SetButtons(buttons)
	w.pop(d, 460, 160)
	if !slices.ContainsFunc(answers, func(a answer) bool { return a.do == nil }) {
		w.dialog = nil
	}
}

// report shows an error: every fault on a line of its own.
func (w *Window) report(title string, err error) {
	label := widget.NewLabel(faultLines(err))
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Close", container.NewVScroll(label), w.win)
	w.pop(d, 680, 300)
}

// faultLines returns an error in words, every fault on a line of its own.
func faultLines(err error) string {
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

// askPath asks for a folder and a name, asks again before a file is replaced,
// and hands over the path with its extension. It opens nothing: a name that is
// only thought about must not empty the file that has it.
func (w *Window) askPath(title, name, ext string, then func(path string)) {
	folder := widget.NewEntry()
	folder.SetText(w.folder())
	entry := widget.NewEntry()
	entry.SetText(name)
	fault := widget.NewLabel("")
	fault.Wrapping = fyne.TextWrapWord
	fault.Importance = widget.DangerImportance
	browse := widget.NewButton("Browse…", func() {
		d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
			if err == nil && l != nil {
				folder.SetText(l.Path())
			}
		}, w.win)
		if l, err := storage.ListerForURI(storage.NewFileURI(folder.Text)); err == nil {
			d.SetLocation(l)
		}
		d.Resize(fyne.NewSize(860, 560))
		d.Show()
	})
	d := dialog.NewCustomWithoutButtons(title, container.NewVBox(
		container.NewBorder(nil, nil, widget.NewLabel("Folder"), browse, folder),
		container.NewBorder(nil, nil, widget.NewLabel("Name   "), nil, entry),
		fault), w.win)
	accept := func() {
		path, err := pathOf(folder.Text, entry.Text, ext)
		if err != nil {
			fault.SetText(err.Error())
			return
		}
		d.Hide()
		if _, err := os.Stat(path); err == nil && path != w.session.Doc.Path() {
			w.question("Replace the file?", filepath.Base(path)+" is there already.",
				answer{"Replace", true, func() { then(path) }}, answer{"Cancel", false, nil})
			return
		}
		then(path)
	}
	entry.OnSubmitted = func(string) { accept() }
	ok := widget.NewButton("Save", accept)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{widget.NewButton("Cancel", d.Hide), ok})
	w.pop(d, 560, 190)
	w.win.Canvas().Focus(entry)
}

// pathOf joins a folder and a name that were typed.
func pathOf(folder, name, ext string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || name == ext {
		return "", errors.New("the file needs a name")
	}
	if !strings.EqualFold(filepath.Ext(name), ext) {
		name += ext
	}
	path := name
	if !filepath.IsAbs(name) {
		path = filepath.Join(strings.TrimSpace(folder), name)
	}
	if dir := filepath.Dir(path); !isFolder(dir) {
		return "", fmt.Errorf("there is no folder %s", dir)
	}
	if isFolder(path) {
		return "", fmt.Errorf("%s is a folder", path)
	}
	return path, nil
}

// fileName turns a title into a name that any file system takes.
func fileName(title string) string {
	keep := func(r rune) rune {
		switch {
		case strings.ContainsRune(`/\:*?"<>|`, r), r < ' ':
			return '-'
		}
		return r
	}
	return strings.TrimSpace(strings.Map(keep, title))
}
