// SPDX-License-Identifier: MIT

package app

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project"
	"earline/project/bass"
	"earline/scene"
)

// onSound opens the page of sound on a demo by that command.
func onSound(t *testing.T, demo, id string) (*Window, *fakeRenderer, *queue) {
	t.Helper()
	q := new(queue)
	w, f := testWindow(t, Config{Demo: demo, Post: q.Post})
	runID(t, w, id)
	return w, f, q
}

// runID runs the command with that ID.
func runID(t *testing.T, w *Window, id string) {
	t.Helper()
	c, ok := w.commands.Command(id)
	if !ok {
		t.Fatalf("no command %s", id)
	}
	w.run(c)
}

// heard returns the study of the bass, once it is of the design on show.
func heard(w *Window) *bass.Study {
	if st, state := w.session.Known.Bass.Get(); state == session.Fresh {
		return st
	}
	return nil
}

// The map lies in the picture while its page is on top, with the number of every
// seat, and not else.
func TestTheMapIsDrawnOnItsPage(t *testing.T) {
	w, f, q := onSound(t, "large", "sound.levels")
	runID(t, w, "sound.map")
	drawn := func() bool {
		return slices.ContainsFunc(f.lastList().Meshes, func(m scene.Mesh) bool { return m.Name == "heat" })
	}
	q.Until(t, drawn)
	runID(t, w, "view.sight-page")
	if drawn() {
		t.Error("the map stays on another page")
	}
	runID(t, w, "view.sound-page")
	if !drawn() {
		t.Error("the map does not come back")
	}
}

// Nothing on the page is cut off at 1280 by 800: neither buttons nor choices.
func TestNothingOnThePageIsCutOff(t *testing.T) {
	w, _, q := onSound(t, "large", "sound.bass")
	w.win.Resize(fyne.NewSize(1280, 800))
	q.Until(t, func() bool { return heard(w) != nil })
	for _, topic := range []string{"bass", "levels", "decay", "arrivals"} {
		runID(t, w, "sound."+topic)
		for text := range pagetest.Objects[*canvas.Text](w.drawer.top.Head()) {
			if text.Visible() && strings.HasSuffix(text.Text, "…") {
				t.Errorf("%s: %q", topic, text.Text)
			}
		}
		for b := range pagetest.Objects[*widget.Button](w.drawer.top.Body()) {
			if b.Visible() && b.Size().Width < b.MinSize().Width {
				t.Errorf("%s: button %q has %v of %v", topic, b.Text, b.Size().Width, b.MinSize().Width)
			}
		}
	}
}

// An edit away from the page costs it nothing, and what it shows is of the audit.
func TestThePageSleepsWhenItIsNotOnTop(t *testing.T) {
	w, _, _ := onSound(t, "large", "sound.levels")
	runID(t, w, "view.sight-page")
	if err := w.session.Do("rename", "", func(d *project.Design) { d.Name = "another" }); err != nil {
		t.Fatal(err)
	}
	direct := &w.session.Known.Direct
	if direct.Last().Key.Design == w.session.Design() {
		t.Error("worked out though nobody looks")
	}
	runID(t, w, "view.sound-page")
	if direct.Last().Key.Design != w.session.Design() {
		t.Error("what is shown is not of this design")
	}
}

// While a subwoofer is dragged its response is that of where it is now; given up,
// it is that of before.
func TestTheResponseFollowsADrag(t *testing.T) {
	w, _ := inDrawing(t, "small", view.Plan)
	runID(t, w, "sound.bass")
	w.win.Canvas().Capture() // which tells the view its new size
	if q, ok := posted.Load(w); ok {
		q.(*queue).Run() // the picture of that size may come later
	}
	level := func() float64 { return heard(w).Response.Seat(0)[40] }
	before := level()
	at := w.session.Design().Speakers[speakerNamed(t, w.session.Design(), "LFE1")].At.Vec()
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(0.4, 0.5, 0))
	if w.session.Design() == w.session.Doc.Design() {
		t.Fatal("nothing was dragged")
	}
	if level() == before {
		t.Error("the response does not follow")
	}
	if runID(t, w, "view.back"); level() != before {
		t.Error("given up, the response is not that of before")
	}
}

// The zones for subwoofers are drawn where bass is looked at, and not among the
// rays of sight.
func TestZonesAreDrawnWithTheBass(t *testing.T) {
	w, f, _ := onSound(t, "large", "sound.bass")
	drawn := func() bool {
		return slices.ContainsFunc(f.lastList().Lines, func(l scene.Lines) bool { return l.Name == "sub zones" })
	}
	if !drawn() {
		t.Error("no zones on the page of sound")
	}
	runID(t, w, "view.sight-page")
	if drawn() {
		t.Error("zones on the page of sight")
	}
}
