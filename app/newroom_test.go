// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/view"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// makeRoom answers the dialog of a new room with what it offers, and waits for the room.
func makeRoom(t *testing.T, w *Window, q *queue) {
	t.Helper()
	before := w.session.Doc
	press(t, w, "Make the room")
	q.Until(t, func() bool { return w.session.Doc != before })
}

// fill types into the entries of the dialog that is open, from the first.
func fill(t *testing.T, w *Window, texts ...string) {
	t.Helper()
	pagetest.Walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if e, ok := o.(*ask.Entry); ok && len(texts) > 0 {
			e.SetText(texts[0])
			texts = texts[1:]
		}
	})
	if len(texts) > 0 {
		t.Fatal("no entry for", texts)
	}
}

func TestNewAsksForSizeSeatsAndSystem(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	w.newRoom()
	fill(t, w, "5.2", "3.9", "2.5 m", "6")
	makeRoom(t, w, q)
	if w.ask.Busy() {
		t.Error("the dialog is still open")
	}
	d := w.session.Design()
	if got := len(w.session.Result().Seats); got != 6 || len(fit.Findings(d)) > 0 || d.Room.Footprint[2] != (project.Corner{X: 5.2, Y: 3.9}) {
		t.Errorf("%d seats in %v", got, d.Room.Footprint)
	}
	if text, _ := w.sentence(); !strings.HasPrefix(text, "Every ear sees every loudspeaker, and every eye the whole picture") {
		t.Errorf("status says %q", text)
	}
	if w.session.Doc.Dirty() {
		t.Error("a new room has unsaved changes")
	}
}

func TestEscapeKeepsTheRoomThatWasThere(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	before := w.session.Design()
	w.newRoom()
	w.ask.Escape()
	if w.ask.Busy() || w.session.Design() != before {
		t.Error("Escape did not keep the room")
	}
}

func TestFortySeatsAreRefusedInTheDialog(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Post: q.Post})
	before := w.session.Design()
	w.newRoom()
	fill(t, w, "4", "3", "2.4", "40")
	press(t, w, "Make the room")
	q.Until(t, func() bool { return strings.Contains(asked(w), "or fewer") })
	if !w.ask.Busy() || w.session.Design() != before {
		t.Error("the dialog went")
	}
}

// The first sight of a new room was the map, the page and the view of the last one.
func TestANewRoomBeginsAnew(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	w.key(&fyne.KeyEvent{Name: fyne.KeyF3})
	w.room.SetView(view.Plan)
	w.session.ChooseSpeaker(2)
	w.newRoom()
	makeRoom(t, w, q)
	if w.drawer.top != w.drawer.tabs[0] || w.room.View.Rig.Kind != view.Overview || w.session.Chosen != session.Nothing() {
		t.Errorf("page %s, view %v, chosen %v", w.drawer.top.Title(), w.room.View.Rig.Kind, w.session.Chosen)
	}
}

func TestTheFirstRoomHasNoFault(t *testing.T) {
	w, _ := testWindow(t, Config{})
	l := w.causes()
	if l == nil || l.First() != nil {
		t.Error(l)
	}
	if got := w.status.practice.Text; !strings.HasPrefix(got, "Rules: nothing to settle") {
		t.Error(got)
	}
}

// A loudspeaker in the wall was told by nothing but the last line of the inspector, and
// the status line said that every ear sees every loudspeaker.
func TestALoudspeakerInTheWallIsNamedAndLedTo(t *testing.T) {
	w, _ := testWindow(t, Config{})
	k := speakerNamed(t, w.session.Design(), "M+090")
	if err := w.session.Do("move M+090", "", func(d *project.Design) { d.Speakers[k].At.Y, d.Speakers[k].At.Z = -0.3, 1.2 }); err != nil {
		t.Fatal(err)
	}
	if !w.status.unbuildable.box.Visible() || w.status.unbuildable.text.Text != "1 cannot be built" {
		t.Errorf("badge: %q", w.status.unbuildable.text.Text)
	}
	if got := w.status.sentence.Text; !strings.Contains(got, " to settle: M+090 ") {
		t.Errorf("status says %q", got)
	}
	w.status.sentence.Tapped(nil)
	if got := w.session.Chosen.Item; got != (place.Item{Kind: place.SpeakerItem, Index: k}) || w.inspector.Speaker() != k {
		t.Errorf("led to %v", got)
	}
	w.session.Undo()
	if w.status.unbuildable.box.Visible() {
		t.Error("still said after undo")
	}
}

func TestTheCountsOfTheStatusLineLeadToTheWorst(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	i, k, _ := w.session.Result().Worst()
	w.status.counts[2].box.(*field.Link).Tapped(nil)
	if c := w.session.Chosen; !c.Path || c.Seat != i || c.Speaker != k {
		t.Errorf("blocked leads to %+v", c)
	}
	w.session.Choose(session.Nothing())
	for _, c := range w.causes().All() {
		if c.Seat == session.None && len(c.Findings) == 0 {
			w.leadTo(c)
			if w.session.Marked() != c.Remarks[0] {
				t.Errorf("%s is not shown", c.Text)
			}
		}
	}
}
