// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"os"
	"path/filepath"
	"slices"

	"earline/app/ask"
	"earline/app/document"
	"earline/assets"
	"earline/project"
	"earline/project/file"
	"earline/project/newroom"
)

var errNoPicture = errors.New("there is no 3D view here; earline render may still draw it")

const (
	recentKey = "recent"
	recentMax = 8
)

// first returns the document to begin with.
func (w *Window) first() (*document.Document, error) {
	switch {
	case w.cfg.Path != "":
		d, err := document.Open(w.cfg.Path, w.cfg.Dir)
		if err == nil {
			w.remember(d.Path())
			return d, nil
		}
		return document.New(firstRoom(), w.cfg.Dir), err
	case w.cfg.Demo != "":
		if d, ok := file.Demo(w.cfg.Demo); ok {
			return document.New(d, w.cfg.Dir), nil
		}
	case w.cfg.Design != nil:
		return document.New(w.cfg.Design, w.cfg.Dir), nil
	}
	return document.New(firstRoom(), w.cfg.Dir), nil
}

// tellOthers tells the other windows which file this one shows, and says so here where
// one of them shows the same.
func (w *Window) tellOthers() {
	if w.cfg.Dir == "" {
		return
	}
	path := w.session.Doc.Path()
	document.Tell(w.cfg.Dir, path)
	if path != "" && document.ShownElsewhere(w.recoveryRoot(), w.cfg.Dir, path) {
		w.session.Say(filepath.Base(path) + " is open in another window too. Each asks before it replaces what the other has saved.")
	}
}

// confirmUnsaved calls then when no changes would be lost: immediately if there are
// none, otherwise after the user saves or discards them.
func (w *Window) confirmUnsaved(then func()) {
	if w.ask.Busy() {
		return
	}
	w.commit()
	if !w.session.Doc.Dirty() {
		then()
		return
	}
	w.ask.Question("Save the changes?",
		"The changes to "+w.session.Doc.Title()+" are not saved.",
		ask.Answer{Text: "Save", Main: true, Do: func() { w.save(then) }},
		// The recovery copy goes once another document is on show.
		ask.Answer{Text: "Don't save", Do: then},
		ask.Answer{Text: "Cancel"})
}

// replace shows another document in place of the one that was asked about.
func (w *Window) replace(d *document.Document) {
	w.guide.End() // its steps are of the room that goes
	w.session.Discard()
	w.session.Open(d)
}

// newRoom asks what a new room is to be, and shows it.
func (w *Window) newRoom() {
	w.confirmUnsaved(func() {
		wish := newroom.Usual()
		wish.Units = w.session.Design().Units
		w.ask.NewRoom(wish, func(wish newroom.Wish, done func(error) bool) {
			// It may take a second.
			go func() {
				d, err := newroom.Design(wish)
				w.cfg.Post(func() {
					if !w.closed && done(err) && err == nil {
						w.replace(document.New(d, w.cfg.Dir))
					}
				})
			}()
		})
	})
}

// begin shows what make returns as a new document; the caller has asked.
func (w *Window) begin(make func() (*project.Design, error)) {
	go func() {
		d, err := make()
		w.cfg.Post(func() {
			switch {
			case w.closed:
			case err != nil:
				w.ask.Report("The room cannot be made", err)
			default:
				w.replace(document.New(d, w.cfg.Dir))
			}
		})
	}()
}

// firstRoom is the room that is there when no file is opened: one without a fault, to
// look at and to change.
func firstRoom() *project.Design {
	d, err := newroom.Design(newroom.Usual())
	if err != nil { // tests hold it good
		return file.New()
	}
	return d
}

func (w *Window) openDemo(d assets.Demo) { w.afterDemo(d, func() { w.session.Say(d.Story) }) }

// afterDemo opens a demo room, unless the user keeps what is unsaved, and calls then.
func (w *Window) afterDemo(d assets.Demo, then func()) {
	w.confirmUnsaved(func() {
		if design, ok := file.Demo(d.Name); ok {
			w.replace(document.New(design, w.cfg.Dir))
			then()
		}
	})
}

// chooseFile asks for a file and opens it.
func (w *Window) chooseFile() {
	w.confirmUnsaved(func() {
		w.ask.Open(document.Ext, w.open)
	})
}

// open opens the file at path; the caller has asked. When it cannot be read the
// document on show stays.
func (w *Window) open(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	d, err := document.Open(path, w.cfg.Dir)
	if err != nil {
		w.ask.Report(filepath.Base(path)+" cannot be opened", err)
		return
	}
	w.remember(path)
	w.replace(d)
	w.offerRecovery(func(c document.Copy) bool { return c.Path == path })
}

// save saves to the document's file, or to one that is asked for, and goes on
// with then when that went well; then may be nil.
func (w *Window) save(then func()) {
	w.commit()
	if w.session.Doc.Path() == "" {
		w.saveAs(then)
		return
	}
	w.saveOver(w.session.Doc.Path(), then)
}

func (w *Window) saveAs(then func()) {
	if w.ask.Busy() {
		return
	}
	w.commit()
	name := w.session.Doc.Title()
	if w.session.Doc.Path() == "" {
		name = ask.FileName(name)
	}
	w.ask.Save("Save the room as", name, document.Ext, w.session.Doc.Path(), func(path string) { w.saveOver(path, then) })
}

// saveOver saves to path, but asks first where that would undo what someone else
// saved in the document's file.
func (w *Window) saveOver(path string, then func()) {
	if path != w.session.Doc.Path() || w.session.Doc.State() != document.Changed {
		w.saveTo(path, then)
		return
	}
	w.ask.Question("Replace what someone else saved?",
		filepath.Base(path)+" has been changed by another window or program since it was read here. Saving replaces those changes.",
		ask.Answer{Text: "Save as…", Main: true, Do: func() { w.saveAs(then) }},
		ask.Answer{Text: "Replace", Do: func() { w.saveTo(path, then) }},
		ask.Answer{Text: "Cancel"})
}

func (w *Window) saveTo(path string, then func()) {
	if err := w.session.Doc.Save(path); err != nil {
		w.ask.Report("The room is not saved", err)
		return
	}
	w.remember(w.session.Doc.Path())
	w.showControls()
	w.showTitle()
	w.tellOthers()
	if then != nil {
		then()
	}
}

// quit closes the window once nothing can be lost.
func (w *Window) quit() {
	w.confirmUnsaved(func() {
		w.stopQuietly()
		w.win.Close()
	})
}

// stopQuietly gives the recovery copy up: there is nothing to recover.
func (w *Window) stopQuietly() { w.session.Discard() }

// remember puts path at the head of the recent files.
func (w *Window) remember(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	list := slices.DeleteFunc(w.recent(), func(p string) bool { return p == path })
	list = append([]string{path}, list...)
	list = list[:min(len(list), recentMax)]
	if !slices.Equal(list, w.recent()) {
		w.fyne.Preferences().SetStringList(recentKey, list)
	}
}

func (w *Window) recent() []string { return w.fyne.Preferences().StringList(recentKey) }

// folder is where dialogs begin: beside the document, else at home.
func (w *Window) folder() string {
	if p := w.session.Doc.Path(); p != "" {
		return filepath.Dir(p)
	}
	if r := w.recent(); len(r) > 0 {
		if dir := filepath.Dir(r[0]); ask.IsFolder(dir) {
			return dir
		}
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "."
	}
	return home
}
