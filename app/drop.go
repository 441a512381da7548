// SPDX-License-Identifier: MIT

package app

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/document"
	"earline/project/mesh"
)

// drop opens the room among the files that were dropped on the window, and says what
// is done with the others. A mesh or a plan by itself is imported.
func (w *Window) drop(_ fyne.Position, uris []fyne.URI) {
	var paths []string
	for _, u := range uris {
		paths = append(paths, u.Path())
	}
	if len(paths) == 0 {
		return
	}
	if w.ask.Busy() {
		w.session.Say("Not opened: " + names(paths) + ". Close the dialog first.")
		return
	}
	if len(paths) == 1 && slices.Contains(mesh.Endings(), strings.ToLower(filepath.Ext(paths[0]))) {
		w.commit()
		w.importBackdrop(paths[0])
		return
	}
	room, left := sortDropped(paths)
	if room == "" {
		w.session.Say(left)
		return
	}
	w.confirmUnsaved(func() {
		w.open(room)
		if left != "" && w.session.Doc.Path() == room {
			w.session.Say(left)
		}
	})
}

// sortDropped returns the room to open, empty for none, and one line about what is
// not opened, empty for nothing.
func sortDropped(paths []string) (room, left string) {
	var others []string
	for _, p := range paths {
		if room == "" && strings.EqualFold(filepath.Ext(p), document.Ext) && !ask.IsFolder(p) {
			room = p
		} else {
			others = append(others, p)
		}
	}
	switch {
	case len(others) == 0:
		return room, ""
	case room != "":
		return room, "Opened " + filepath.Base(room) + ", not " + names(others) + ": one room at a time."
	case len(others) == 1 && ask.IsFolder(others[0]):
		return "", names(others) + " is a folder: drop a room, a file that ends in " + document.Ext + "."
	case len(others) == 1:
		return "", names(others) + " is no room: those end in " + document.Ext + "."
	}
	return "", "Nothing opened of " + names(others) + ": a room ends in " + document.Ext + "."
}

// names lists files by name, the first few of many.
func names(paths []string) string {
	const most = 3
	var all []string
	for i, p := range paths {
		if i == most {
			all = append(all, "others")
			break
		}
		all = append(all, filepath.Base(p))
	}
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}
