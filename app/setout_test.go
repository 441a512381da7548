// SPDX-License-Identifier: MIT

package app

import (
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/session"
	"earline/project/place"
)

// The list is walked with the keyboard alone: every line selects its thing in the
// picture and opens it in the inspector, and what the picture selects is led to.
func TestTheSetOutListIsWalkedWithTheKeyboardAlone(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	runID(t, w, "view.set-out-page")
	c := w.win.Canvas()
	q.Until(t, func() bool { _, state := w.session.Known.SetOut.Get(); return state == session.Fresh })
	if c.Focused() == nil {
		t.Fatal("the page has no keyboard")
	}
	seen := map[place.Item]bool{}
	list, _ := w.session.Known.SetOut.Get()
	for range list.Items {
		c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
		seen[w.session.Chosen.Item] = true
	}
	for k, l := range w.session.Design().Speakers {
		if !seen[place.Item{Kind: place.SpeakerItem, Index: k}] {
			t.Errorf("no line selects %s", l.Name())
		}
	}
	if !seen[place.Item{Kind: place.ScreenItem}] || !seen[place.Item{Kind: place.ProjectorItem}] {
		t.Errorf("what was selected: %v", seen)
	}
	if w.session.Doc.UndoLabel() != "" {
		t.Error("looking changed the design")
	}
}

// What is not looked at costs nothing: no list is worked out for a page that is not on
// top.
func TestTheSetOutIsNotWorkedOutUnseen(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	raise(t, w, 0.01)
	q.Run()
	if w.session.Known.SetOut.Last().OK {
		t.Error("a list was worked out that nobody sees")
	}
}

// Print preview, asked for before the page was ever seen, stayed empty: "No drawings
// yet".
func TestThePreviewIsNotEmptyBeforeThePageWasSeen(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	runID(t, w, "setout.preview")
	if got := w.drawer.top.Title(); got != "Set-out" {
		t.Errorf("under the preview %s is on top, which works no drawings out", got)
	}
	q.Until(t, func() bool { _, state := w.session.Known.SetOut.Get(); return state == session.Fresh })
}
