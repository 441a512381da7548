// SPDX-License-Identifier: MIT

package app

import (
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/session"
	"earline/project"
)

// With the keyboard alone: the plan is kept, changed, compared and faded; on another
// page the picture is as it was before.
func TestTheFadeGoesWithItsPage(t *testing.T) {
	q := new(queue)
	w, f := testWindow(t, Config{Demo: "small", Post: q.Post})
	runID(t, w, "compare.keep")
	press(t, w, "Keep")
	if w.drawer.top.Title() != "Compare" {
		t.Fatalf("%s is on top", w.drawer.top.Title())
	}
	if err := w.session.Do("raise", "", func(d *project.Design) { d.Speakers[1].At.Z += 0.1 }); err != nil {
		t.Fatal(err)
	}
	q.Until(t, func() bool { _, state := w.session.Compare(0); return state == session.Fresh })
	runID(t, w, "view.compare-page")
	c := w.win.Canvas()
	if c.Focused() == nil {
		t.Fatal("the page has no keyboard")
	}
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if w.session.Chosen.Speaker != 1 || !drawn(f, "chosen of both") {
		t.Error("what moves is not chosen, or not outlined")
	}
	runID(t, w, "compare.half")
	if fade := w.room.Options().Fade; fade == nil || fade.Share != 0.5 {
		t.Fatalf("%+v", fade)
	}
	runID(t, w, "view.sight-page")
	if w.room.Options().Fade != nil || drawn(f, "chosen of both") {
		t.Error("the fade stays in the picture")
	}
	runID(t, w, "edit.undo")
	runID(t, w, "edit.undo")
	if len(w.session.Design().Variants) != 0 {
		t.Error("keeping is not one step of undo")
	}
}
