// SPDX-License-Identifier: MIT

package app

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/session"
)

// On a ladder there is no mouse: the page is reached, a thing chosen and its figures
// typed in with the keyboard alone, each one step of undo.
func TestFiguresAreTypedInWithTheKeyboardAlone(t *testing.T) {
	q := new(queue)
	w, f := testWindow(t, Config{Demo: "small", Post: q.Post})
	runID(t, w, "view.as-built-page")
	c := w.win.Canvas()
	q.Until(t, func() bool { _, state := w.session.Known.AsBuilt.Get(); return state == session.Fresh })
	if c.Focused() == nil {
		t.Fatal("the page has no keyboard")
	}
	key := func(name fyne.KeyName) { t.Helper(); c.Focused().TypedKey(&fyne.KeyEvent{Name: name}) }
	text := func(s string) {
		t.Helper()
		for _, r := range s {
			c.Focused().TypedRune(r)
		}
	}
	key(fyne.KeyDown) // from the picture to the first loudspeaker
	key(fyne.KeyReturn)
	d := w.session.Design()
	x := float64(d.Speakers[0].At.X)
	text("12") // 12 mm: metres off, refused
	key(fyne.KeyReturn)
	if w.session.Doc.UndoLabel() != "" {
		t.Error("a figure a metre off was taken")
	}
	key(fyne.KeyEscape)
	text(fmt.Sprintf("%.1f", 1000*x+5))
	key(fyne.KeyReturn)
	m := w.session.Design().AsBuilt.Of(d.Speakers[0].ID)
	if m.X == nil || float64(*m.X)-x < 0.004 || float64(*m.X)-x > 0.006 {
		t.Fatalf("%+v, planned %v; %q", m, x, w.session.Hint)
	}
	q.Until(t, func() bool { _, state := w.session.Known.AsBuilt.Get(); return state == session.Fresh })
	if !drawn(f, "proposed moves") {
		t.Error("where it was built is not in the picture")
	}
	key(fyne.KeyReturn) // an empty one is passed over
	runID(t, w, "edit.undo")
	if w.session.Design().AsBuilt.Given() {
		t.Error("one step of undo does not take it back")
	}
	if w.session.Design().Speakers[0] != d.Speakers[0] {
		t.Error("the plan was changed")
	}
}
