// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/document"
	"earline/app/field"
	"earline/app/words"
)

// every takes all recovery copies.
func every(document.Copy) bool { return true }

// offerAtStart offers what is left, and looks again after a while where a window
// had a folder: it may have been killed a moment ago.
func (w *Window) offerAtStart(after time.Duration) {
	w.offerRecovery(every)
	if w.cfg.Dir == "" || !document.Held(w.recoveryRoot(), w.cfg.Dir) {
		return
	}
	time.AfterFunc(after, func() {
		w.cfg.Post(func() {
			if !w.closed && !w.ask.Busy() {
				w.offerRecovery(every)
			}
		})
	})
}

// recoveryRoot is the folder that has the recovery folders of all windows.
func (w *Window) recoveryRoot() string {
	if w.cfg.root != "" {
		return w.cfg.root
	}
	return w.cfg.Dir
}

// offerRecovery offers the unsaved work that is wanted of what windows left which
// ended without being closed, each to be restored, discarded or left for the next
// start. It tells what cannot be read.
func (w *Window) offerRecovery(wanted func(document.Copy) bool) {
	if w.cfg.Dir == "" {
		return
	}
	all, faults := document.Copies(w.recoveryRoot(), w.cfg.Dir)
	var parts []fyne.CanvasObject
	for _, c := range all {
		if wanted(c) {
			parts = append(parts, w.offer(c))
		}
	}
	if len(parts) == 0 {
		if len(faults) > 0 {
			w.ask.Report("Unsaved work cannot be restored", errors.Join(faults...))
		}
		return
	}
	for _, f := range faults {
		parts = append(parts, paragraph(f.Error()))
	}
	parts = append(parts, paragraph("What is neither restored nor discarded is offered again at the next start."))
	w.ask.Text("Restore unsaved work?", 680, 340, parts...)
}

// offer returns a line that tells of a copy, with what can be done with it.
func (w *Window) offer(c document.Copy) fyne.CanvasObject {
	restore := field.NewButton("Restore", func() {
		w.ask.Escape()
		w.restore(c)
	})
	restore.Importance = widget.HighImportance
	discard := field.NewButton("Discard", nil)
	discard.OnTapped = func() {
		w.ask.Escape()
		w.ask.Question("Discard the unsaved work?", told(c, time.Now())+" It cannot be recovered.",
			ask.Answer{Text: "Discard", Do: func() {
				if err := c.Discard(); err != nil {
					w.ask.Report("The unsaved work is not discarded", err)
					return
				}
				w.offerRecovery(every)
			}},
			ask.Answer{Text: "Keep", Main: true, Escape: true, Do: func() { w.offerRecovery(every) }})
	}
	return container.NewBorder(nil, nil, nil, container.NewVBox(container.NewHBox(restore, discard)), paragraph(told(c, time.Now())))
}

// restore puts a copy on show.
func (w *Window) restore(c document.Copy) {
	d, err := c.Restore(w.cfg.Dir)
	if err != nil {
		w.ask.Report("The unsaved work is not restored", err)
		return
	}
	w.replace(d)
}

// told says what a copy is of, how old it is, and what restoring it would mean.
func told(c document.Copy, now time.Time) string {
	text := c.Title + ", never saved"
	if c.Path != "" {
		text = c.Title + " in " + filepath.Dir(c.Path)
	}
	text += ", as it was " + ago(now.Sub(c.Time)) + "."
	switch c.File {
	case document.Changed:
		text += " The file has been changed since by another window or program, and is newer: the unsaved work lacks those changes."
	case document.Gone:
		text += " The file itself is not there any more."
	}
	return text
}

// ago says how long something is past, as people do.
func ago(d time.Duration) string {
	for _, u := range []struct {
		name string
		long time.Duration
	}{{"day", 24 * time.Hour}, {"hour", time.Hour}, {"minute", time.Minute}} {
		switch n := int(d / u.long); {
		case n == 1:
			return "1 " + u.name + " ago"
		case n > 1:
			return fmt.Sprintf("%d %ss ago", n, u.name)
		}
	}
	return "less than a minute ago"
}

func paragraph(text string) *widget.Label {
	l := widget.NewLabel(words.Of(text))
	l.Wrapping = fyne.TextWrapWord
	return l
}
