// SPDX-License-Identifier: MIT

package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"earline/app/page/pagetest"
	"earline/project"
)

// dialogText returns all that the dialog on top says.
func dialogText(w *Window) string {
	var all []string
	pagetest.Walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			all = append(all, l.Text)
		}
	})
	return strings.Join(all, "\n")
}

func TestABackdropIsImported(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	name := filepath.Join(t.TempDir(), "sofa.obj")
	if err := os.WriteFile(name, []byte("v 0 0 0\nv 1800 0 0\nv 0 900 0\nf 1 2 3\np 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if menuItem(w, "File", "Import backdrop…") == nil {
		t.Error("no such command in the menu")
	}
	before := w.session.Design()
	w.importBackdrop(name)
	q.Until(t, w.ask.Busy)
	if said := dialogText(w); !strings.Contains(said, "in mm it is most like a room") || !strings.Contains(said, "1 single points") {
		t.Errorf("says %q", said)
	}
	fill(t, w, "sofa", "1 m", "0.5 m", "0", "90")
	press(t, w, "Import")
	d := w.session.Design()
	if w.ask.Busy() || len(d.Backdrops) != 1 {
		t.Fatalf("%d backdrops; %s", len(d.Backdrops), dialogText(w))
	}
	if b := d.Backdrops[0]; b.Name != "sofa" || b.Unit != project.Millimetres || b.At != (project.Point{X: 1, Y: 0.5}) || b.Turn != 90 || b.ID != "b1" || b.Obstacle {
		t.Errorf("%+v", b)
	}
	if w.session.Doc.UndoLabel() != "import backdrop sofa" {
		t.Errorf("undo %q", w.session.Doc.UndoLabel())
	}
	w.undo()
	if w.session.Design() != before {
		t.Error("one step back does not take it out")
	}
}

// What cannot be imported is said in one line, and nothing changes.
func TestABadBackdropIsRefused(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	before := w.session.Design()
	path := filepath.Join(t.TempDir(), "a.dwg")
	if err := os.WriteFile(path, []byte("AC1032"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.importBackdrop(path)
	q.Until(t, w.ask.Busy)
	if said := dialogText(w); !strings.Contains(said, "a DWG file") {
		t.Errorf("says %q", said)
	}
	if w.session.Design() != before {
		t.Error("it changed")
	}
}

// A mesh dropped on the window is imported.
func TestADroppedMeshIsImported(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	path := filepath.Join(t.TempDir(), "SOFA.OBJ")
	if err := os.WriteFile(path, []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.drop(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)})
	q.Until(t, w.ask.Busy)
	press(t, w, "Import")
	if n := len(w.session.Design().Backdrops); n != 1 {
		t.Errorf("%d backdrops", n)
	}
}
