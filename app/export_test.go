// SPDX-License-Identifier: MIT

package app

import (
	"bytes"
	"errors"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/app/view"
	"earline/project"
	"earline/scene/gl"
)

func handedNamed(t *testing.T, w *Window, id string) handed {
	t.Helper()
	for _, h := range w.handedOut() {
		if h.id == id {
			return h
		}
	}
	t.Fatalf("no export %s", id)
	return handed{}
}

// exported waits until an export is over and returns what the window says of it.
func exported(t *testing.T, w *Window, q *queue, id, path string) string {
	t.Helper()
	w.session.Say("")
	w.makeAndWrite(handedNamed(t, w, id), path)
	if !w.ask.Busy() {
		t.Errorf("%s: nothing shows that it is being made", id)
	}
	q.Until(t, func() bool { return w.session.Hint != "" })
	return w.session.Hint
}

// Everything that File > Export names is written, as what its name says.
func TestEverythingIsExported(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	if err := w.session.Do("make it a lesson", "", func(d *project.Design) { d.Lesson = project.Lesson{Seed: 1, Level: 1} }); err != nil {
		t.Fatal(err)
	}
	begins := map[string]string{".pdf": "%PDF-", ".svg": "<svg", ".dxf": "  0\n", ".csv": "\ufeff", ".glb": "glTF"}
	dir := t.TempDir()
	for _, h := range w.handedOut() {
		if menuItem(w, "File", "Export") == nil {
			t.Fatal("no Export in the menu")
		}
		path := filepath.Join(dir, h.id+h.ext)
		if said := exported(t, w, q, h.id, path); !strings.HasPrefix(said, h.name+" written as ") {
			t.Errorf("%s: the window says %q", h.id, said)
		}
		if h.ext == ".svg" {
			path = filepath.Join(dir, h.id+"-S1.svg")
		}
		data, err := os.ReadFile(path)
		if err != nil || !bytes.Contains(data[:min(len(data), 200)], []byte(strings.TrimSpace(begins[h.ext]))) {
			t.Errorf("%s: %v, begins with %q", h.id, err, data[:min(len(data), 20)])
		}
	}
}

// What an export is given up for, or cannot be written, leaves what was there before.
func TestAnExportThatFailsLeavesTheOldFile(t *testing.T) {
	q := new(queue)
	w, f := testWindow(t, Config{Demo: "small", Post: q.Post})
	path := filepath.Join(t.TempDir(), "room book.pdf")
	if err := os.WriteFile(path, []byte("last week's"), 0o644); err != nil {
		t.Fatal(err)
	}
	old := func(when string) {
		t.Helper()
		if data, err := os.ReadFile(path); err != nil || string(data) != "last week's" {
			t.Errorf("%s: the file holds %.20q, %v", when, data, err)
		}
	}
	// The first still waits, as in a large room, until the user has given up.
	waits := &waiting{fakeRenderer: f, began: make(chan bool, 1), goOn: make(chan bool)}
	w.renderer = waits
	w.makeAndWrite(handedNamed(t, w, "book"), path)
	<-waits.began
	press(t, w, "Cancel")
	if w.ask.Busy() {
		t.Error("the dialog stays after Cancel")
	}
	close(waits.goOn)
	q.Until(t, func() bool { return w.session.Hint == "Cancelled: nothing is written." })
	old("cancelled")

	// A disk that takes nothing more, as far as a file that must not be written is like it.
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	w.renderer = f
	w.makeAndWrite(handedNamed(t, w, "proof"), path)
	q.Until(t, func() bool { return buttonNamed(w, "Close") != nil })
	old("refused")
	press(t, w, "Close")

	// A room without holes has no cards: one line, and no file.
	none := filepath.Join(t.TempDir(), "cards.pdf")
	if err := w.session.Do("remove the loudspeakers", "", func(d *project.Design) { d.Speakers = nil }); err != nil {
		t.Skip(err)
	}
	w.makeAndWrite(handedNamed(t, w, "cards"), none)
	q.Until(t, func() bool { return buttonNamed(w, "Close") != nil })
	if _, err := os.Stat(none); !errors.Is(err, os.ErrNotExist) {
		t.Error("cards of no holes are written")
	}
}

// waiting is a renderer whose first still takes until goOn is closed.
type waiting struct {
	*fakeRenderer
	began, goOn chan bool
}

func (r *waiting) Draw(j gl.Job) (*image.RGBA, error) {
	select {
	case r.began <- true:
	default:
	}
	<-r.goOn
	return r.fakeRenderer.Draw(j)
}

var _ view.Renderer = (*waiting)(nil)

// Drawings that are many files ask before they replace some that nobody named.
func TestOldSheetsAreAskedAbout(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	dir := t.TempDir()
	path := filepath.Join(dir, "room.svg")
	first := filepath.Join(dir, "room-S1.svg")
	if err := os.WriteFile(first, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	w.makeAndWrite(handedNamed(t, w, "drawings-svg"), path)
	q.Until(t, func() bool { return buttonNamed(w, "Replace") != nil })
	if data, _ := os.ReadFile(first); string(data) != "old" {
		t.Error("it is replaced before the answer")
	}
	press(t, w, "Replace")
	q.Until(t, func() bool { return strings.Contains(w.session.Hint, "written as") })
	if data, _ := os.ReadFile(first); !bytes.Contains(data, []byte("<svg")) {
		t.Errorf("the sheet holds %.20q", data)
	}
}
