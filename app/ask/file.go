// SPDX-License-Identifier: MIT

package ask

import (
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/portal"
	"earline/app/words"
)

// Open asks for a file with that extension and hands its path over. It is read by
// name, so that the reader's limits hold.
func (a *Asker) Open(ext string, then func(path string)) { a.OpenAny([]string{ext}, then) }

// OpenAny is Open for a file with any of some extensions.
func (a *Asker) OpenAny(exts []string, then func(path string)) {
	f := portal.File{Title: "Open", Accept: "Open", Ext: exts[0], Also: exts[1:]}
	a.choose(f, then, func() { a.openHere(exts, then) })
}

// openHere asks in a dialog of our own.
func (a *Asker) openHere(exts []string, then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			a.Report("This file cannot be opened", err)
		}
		if r == nil {
			return
		}
		_ = r.Close()
		then(r.URI().Path())
	}, a.window)
	d.SetFilter(storage.NewExtensionFileFilter(exts))
	if l, err := storage.ListerForURI(storage.NewFileURI(a.folder())); err == nil {
		d.SetLocation(l)
	}
	quietly(func() { a.Show(d, 860, 560) })
}

// quietly shows a dialog of Fyne's that would complain in its log of every folder for
// music and films that the user does not have.
func quietly(show func()) {
	to := log.Writer()
	log.SetOutput(io.Discard)
	defer log.SetOutput(to)
	show()
}

// Save asks for a folder and a name, asks again before a file other than own is
// replaced, and hands over the path with its extension. It opens nothing: a name
// that is only thought about must not empty the file that has it.
func (a *Asker) Save(title, name, ext, own string, then func(path string)) {
	f := portal.File{Title: title, Accept: "Save", Ext: ext, Name: name, Save: true}
	if !strings.EqualFold(filepath.Ext(name), ext) {
		f.Name += ext
	}
	a.choose(f, func(path string) {
		whole, err := pathOf("", path, ext)
		switch {
		case err != nil:
			a.Report("The file cannot be saved there", err)
		case whole == path:
			then(path) // the desktop has asked about replacing it
		default:
			a.replace(whole, own, then)
		}
	}, func() { a.saveHere(title, name, ext, own, then) })
}

// replace hands path over, but asks first where a file other than own would be replaced.
func (a *Asker) replace(path, own string, then func(path string)) {
	if _, err := os.Stat(path); err != nil || path == own {
		then(path)
		return
	}
	a.Question("Replace the file?", filepath.Base(path)+" is there already.",
		Answer{Text: "Replace", Main: true, Do: func() { then(path) }}, Answer{Text: "Cancel"})
}

// saveHere asks in a dialog of our own.
func (a *Asker) saveHere(title, name, ext, own string, then func(path string)) {
	folder := NewEntry()
	folder.SetText(a.folder())
	entry := NewEntry()
	entry.SetText(name)
	fault := widget.NewLabel("")
	fault.Wrapping = fyne.TextWrapWord
	fault.Importance = widget.DangerImportance
	browse := field.NewButton("Browse…", func() {
		d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
			if err == nil && l != nil {
				folder.SetText(l.Path())
			}
		}, a.window)
		if l, err := storage.ListerForURI(storage.NewFileURI(folder.Text)); err == nil {
			d.SetLocation(l)
		}
		quietly(func() { a.Show(d, 860, 560) })
	})
	d := dialog.NewCustomWithoutButtons(words.Of(title), container.NewVBox(
		container.New(layout.NewFormLayout(),
			widget.NewLabel(words.Of("Folder")), container.NewBorder(nil, nil, nil, browse, folder),
			widget.NewLabel(words.Of("Name")), entry),
		fault), a.window)
	folder.escape, entry.escape = d.Hide, d.Hide
	accept := func() {
		path, err := pathOf(folder.Text, entry.Text, ext)
		if err != nil {
			fault.SetText(words.Of(err.Error()))
			return
		}
		d.Hide()
		a.replace(path, own, then)
	}
	entry.OnSubmitted = func(string) { accept() }
	folder.OnSubmitted, folder.escape, entry.escape = entry.OnSubmitted, d.Hide, d.Hide
	ok := field.NewButton("Save", accept)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{field.NewButton("Cancel", d.Hide), ok})
	a.show(d, 560, 190, d.Hide, accept)
	a.window.Canvas().Focus(entry)
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
	if dir := filepath.Dir(path); !IsFolder(dir) {
		return "", fmt.Errorf("there is no folder %s", dir)
	}
	if IsFolder(path) {
		return "", fmt.Errorf("%s is a folder", path)
	}
	return path, nil
}

// FileName turns a title into a name that any file system takes.
func FileName(title string) string {
	keep := func(r rune) rune {
		switch {
		case strings.ContainsRune(`/\:*?"<>|`, r), r < ' ':
			return '-'
		}
		return r
	}
	return strings.TrimSpace(strings.Map(keep, title))
}

// IsFolder reports whether there is a folder at path.
func IsFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
