// SPDX-License-Identifier: MIT

package app

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/matrix"
	"earline/project"
	"earline/project/practice"
	"earline/scene"
)

// firstShort returns the first remark that falls short of a rule.
func firstShort(t *testing.T, w *Window, rule string) *practice.Remark {
	t.Helper()
	for i := range w.findings().Remarks {
		if m := &w.findings().Remarks[i]; !m.OK && m.Rule == rule {
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
	w.drawer.show(practicePage)
	m := firstShort(t, w, "sight")
	w.chooseRemark(m)
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
	if drawn(f, "mark") || w.picture().Only || w.session.Chosen.Speaker != scene.None {
		t.Error("Escape left the mark, or what it selected")
	}
}

// The seat that a remark about several is drawn at is the one selected.
func TestTheMarkedSeatIsTheWorst(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	for i := range w.findings().Remarks {
		m := &w.findings().Remarks[i]
		if m.OK || m.Rule != "sight" {
			continue
		}
		k := m.Speakers[0]
		worst, seat := 1.0, -1
		for i := range w.session.Result().Seats {
			if p := w.session.Result().Pair(i, k).Deciding(); p != nil && p.Clearance < worst {
				worst, seat = p.Clearance, i
			}
		}
		got := w.markedSeat(m)
		if p := w.session.Result().Pair(got, k).Deciding(); p == nil || p.Clearance > worst+1e-9 {
			t.Errorf("%s: seat %d, want %d", m.Text, got, seat)
		}
	}
	if got := w.markedSeat(&practice.Remark{Seats: []int{-1, 999}}); got != scene.None {
		t.Errorf("seats that do not exist give %d", got)
	}
}

func TestTheMarkFollowsAnEdit(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.drawer.show(practicePage)
	w.remarks.Choose(firstShort(t, w, "azimuth"))
	before := w.session.Marked()
	if before == nil {
		t.Fatal("nothing is chosen")
	}
	k := before.Speakers[0]
	if err := w.session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Z += 0.05 }); err != nil {
		t.Fatal(err)
	}
	if m := w.session.Marked(); m == nil || m == before || m.Rule != before.Rule || m.Speakers[0] != k {
		t.Errorf("after an edit the mark is %+v", m)
	}
}

func TestLookingAlongAPathTakesTheMarkOut(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.drawer.show(practicePage)
	w.chooseRemark(firstShort(t, w, "azimuth"))
	w.lookAlong(matrix.Cell{Seat: 3, Speaker: 2})
	if w.session.Marked() != nil || w.session.Chosen.Seat != 3 || !w.picture().Only {
		t.Errorf("%+v", w.session.Chosen)
	}
	w.drawer.show(sightPage)
	if !w.session.Chosen.Path || !w.picture().Only {
		t.Error("turning the page left the path")
	}
}

func TestAMendedRemarkGivesTheRaysBack(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "large"})
	w.drawer.show(practicePage)
	w.remarks.Choose(firstShort(t, w, "sight"))
	if !w.picture().Only {
		t.Fatal("other rays are still drawn")
	}
	if err := w.changeRule("sight", &practice.Change{Off: true, Reason: "a test"}); err != nil {
		t.Fatal(err)
	}
	if w.session.Marked() != nil || w.picture().Only || drawn(f, "mark line") {
		t.Error("the mark is gone and its view is not")
	}
}

func TestStatusCountsRemarks(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	if got := w.status.practice.Text; !strings.HasPrefix(got, "Practice: ") || !strings.Contains(got, " must, ") {
		t.Errorf("status says %q", got)
	}
}

func TestAHouseStandardIsKeptForTheNextStart(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sub", "house.earline-rules")
	w, _ := testWindow(t, Config{Demo: "large", Standard: path})
	rule, _ := practice.Find("azimuth")
	n := len(w.findings().Failing())
	w.switchRule(rule)
	press(t, w, "Switch off")
	if len(w.session.Standard().Changes) != 0 {
		t.Fatal("switched off without a reason")
	}
	entries := dialogEntries(w)
	entries[0].SetText("an old room")
	press(t, w, "Switch off")
	if w.busy() || !w.session.Standard().Changes["azimuth"].Off || len(w.findings().Failing()) >= n {
		t.Fatalf("not switched off: %+v", w.session.Standard())
	}

	again, _ := testWindow(t, Config{Demo: "large", Standard: path})
	if got := again.session.Standard().Changes["azimuth"]; !got.Off || got.Reason != "an old room" {
		t.Errorf("after a new start: %+v", again.session.Standard())
	}
	again.switchRule(rule) // on again, without a question
	if len(again.session.Standard().Changes) != 0 || len(again.findings().Failing()) != n {
		t.Error("not switched on again")
	}
}

func TestOtherLimits(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	rule, _ := practice.Find("symmetry-azimuth")
	w.limitRule(rule)
	entries := dialogEntries(w)
	if len(entries) != 3 {
		t.Fatalf("%d entries, want least, most and reason", len(entries))
	}
	entries[1].SetText("45°")
	entries[2].SetText("pairs stand as the walls allow")
	press(t, w, "Set")
	c := w.session.Standard().Changes["symmetry-azimuth"]
	if w.busy() || c.Max == nil || *c.Max != 45 {
		t.Fatalf("%+v", c)
	}
	for _, m := range w.findings().Failing() {
		if m.Rule == "symmetry-azimuth" {
			t.Errorf("still short: %s", m.Text)
		}
	}
	w.resetRule(rule)
	if len(w.session.Standard().Changes) != 0 {
		t.Error("the rule's own limits are not back")
	}
}
