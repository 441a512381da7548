// SPDX-License-Identifier: MIT

package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/project/practice"
	"earline/scene"
)

// chooseLine chooses a remark on the practice page.
func chooseLine(t *testing.T, w *Window, m *practice.Remark) {
	t.Helper()
	if w.showRules(m); w.session.Chosen.Remark != m {
		t.Fatalf("%q is not in the list", m.Text)
	}
}

// firstShort returns the first remark that falls short of a rule.
func firstShort(t *testing.T, w *Window, rule string) *practice.Remark {
	t.Helper()
	r, _ := w.session.Known.Practice.Get()
	for i := range r.Remarks {
		if m := &r.Remarks[i]; !m.OK && m.Rule == rule {
			return m
		}
	}
	t.Fatalf("no remark of %s falls short", rule)
	return nil
}

func drawn(f *fakeRenderer, name string) bool {
	l := f.lastList()
	for _, m := range l.Meshes {
		if m.Name == name {
			return true
		}
	}
	for _, n := range l.Lines {
		if n.Name == name {
			return true
		}
	}
	return false
}

func TestARemarkIsDrawnAndEscapeTakesItOut(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "large"})
	runID(t, w, "view.rules-page")
	m := firstShort(t, w, "sight")
	chooseLine(t, w, m)
	if !drawn(f, "mark") {
		t.Error("the mark is not drawn")
	}
	if w.session.Chosen.Speaker != m.Speakers[0] || w.session.Chosen.Seat == scene.None {
		t.Errorf("selected: loudspeaker %d, seat %d", w.session.Chosen.Speaker, w.session.Chosen.Seat)
	}
	if w.status.sentence.Text != m.Text {
		t.Errorf("status says %q", w.status.sentence.Text)
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if drawn(f, "mark") || w.room.Options().Only || w.session.Chosen.Speaker != scene.None {
		t.Error("Escape left the mark, or what it selected")
	}
}

func TestLookingAlongAPathTakesTheMarkOut(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	runID(t, w, "view.rules-page")
	chooseLine(t, w, firstShort(t, w, "azimuth"))
	w.session.LookAlong(3, 2)
	if w.session.Marked() != nil || w.session.Chosen.Seat != 3 || !w.room.Options().Only {
		t.Errorf("%+v", w.session.Chosen)
	}
	runID(t, w, "view.sight-page")
	if !w.session.Chosen.Path || !w.room.Options().Only {
		t.Error("turning the page left the path")
	}
}

func TestAMendedRemarkGivesTheRaysBack(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "large"})
	runID(t, w, "view.rules-page")
	chooseLine(t, w, firstShort(t, w, "sight"))
	if !w.room.Options().Only {
		t.Fatal("other rays are still drawn")
	}
	w.session.SetStandard(practice.Standard{Changes: map[string]practice.Change{"sight": {Off: true, Reason: "a test"}}})
	if w.session.Marked() != nil || w.room.Options().Only || drawn(f, "mark line") {
		t.Error("the mark is gone and its view is not")
	}
}

func TestStatusCountsCauses(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	if got := w.status.practice.Text; !strings.HasPrefix(got, "Rules: ") || !strings.Contains(got, " to settle, ") {
		t.Errorf("status says %q", got)
	}
}

// A house standard that cannot be read is told at the start, and the window works.
func TestABadHouseStandardIsTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "house.earline-rules")
	if err := os.WriteFile(path, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	w, _ := testWindow(t, Config{Demo: "small", Standard: path})
	if !w.ask.Busy() {
		t.Fatal("nothing says that it is not in force")
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.ask.Busy() || w.session.Result() == nil {
		t.Error("the window does not go on")
	}
}
