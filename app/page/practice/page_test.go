// SPDX-License-Identifier: MIT

package practice

import (
	"path/filepath"
	"slices"
	"testing"

	"earline/app/ask"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/practice"
)

// onPractice opens the page on the large demo; kept is the file of the house standard.
func onPractice(t *testing.T, kept string) (*pagetest.Bench, *practicePage) {
	t.Helper()
	b := pagetest.Open(t, "large")
	p := newPage(b.Session, b.Frame, kept)
	b.Show(p)
	return b, p
}

// entriesOf returns the entries of the dialog that is open.
func entriesOf(b *pagetest.Bench) []*ask.Entry {
	return slices.Collect(pagetest.Objects[*ask.Entry](b.Window.Canvas().Overlays().Top()))
}

// firstShort returns the first remark that falls short of a rule.
func firstShort(t *testing.T, p *practicePage, rule string) *practice.Remark {
	t.Helper()
	for i := range p.found.Remarks {
		if m := &p.found.Remarks[i]; !m.OK && m.Rule == rule {
			return m
		}
	}
	t.Fatalf("no remark of %s falls short", rule)
	return nil
}

// The seat that a remark about several is drawn at is the one selected.
func TestTheMarkedSeatIsTheWorst(t *testing.T) {
	b, p := onPractice(t, "")
	for i := range p.found.Remarks {
		m := &p.found.Remarks[i]
		if m.OK || m.Rule != "sight" {
			continue
		}
		k := m.Speakers[0]
		worst, seat := 1.0, -1
		for i := range b.Session.Result().Seats {
			if p := b.Session.Result().Pair(i, k).Deciding(); p != nil && p.Clearance < worst {
				worst, seat = p.Clearance, i
			}
		}
		got := p.markedSeat(m)
		if p := b.Session.Result().Pair(got, k).Deciding(); p == nil || p.Clearance > worst+1e-9 {
			t.Errorf("%s: seat %d, want %d", m.Text, got, seat)
		}
	}
	if got := p.markedSeat(&practice.Remark{Seats: []int{-1, 999}}); got != session.None {
		t.Errorf("seats that do not exist give %d", got)
	}
}

func TestTheMarkFollowsAnEdit(t *testing.T) {
	b, p := onPractice(t, "")
	p.panel.Choose(firstShort(t, p, "azimuth"))
	before := b.Session.Marked()
	if before == nil {
		t.Fatal("nothing is chosen")
	}
	k := before.Speakers[0]
	if err := b.Session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Z += 0.05 }); err != nil {
		t.Fatal(err)
	}
	if m := b.Session.Marked(); m == nil || m == before || m.Rule != before.Rule || m.Speakers[0] != k {
		t.Errorf("after an edit the mark is %+v", m)
	}
}

func TestAHouseStandardIsKeptForTheNextStart(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sub", "house.earline-rules")
	b, p := onPractice(t, path)
	rule, _ := practice.Find("azimuth")
	n := len(p.found.Failing())
	p.switchRule(rule)
	b.Press(t, "Switch off")
	if len(b.Session.Standard().Changes) != 0 {
		t.Fatal("switched off without a reason")
	}
	entries := entriesOf(b)
	entries[0].SetText("an old room")
	b.Press(t, "Switch off")
	if b.Frame.Busy() || !b.Session.Standard().Changes["azimuth"].Off || len(p.found.Failing()) >= n {
		t.Fatalf("not switched off: %+v", b.Session.Standard())
	}

	again, q := onPractice(t, path)
	if got := again.Session.Standard().Changes["azimuth"]; !got.Off || got.Reason != "an old room" {
		t.Errorf("after a new start: %+v", again.Session.Standard())
	}
	q.switchRule(rule) // on again, without a question
	if len(again.Session.Standard().Changes) != 0 || len(q.found.Failing()) != n {
		t.Error("not switched on again")
	}
}

func TestOtherLimits(t *testing.T) {
	b, p := onPractice(t, "")
	rule, _ := practice.Find("symmetry-azimuth")
	p.limitRule(rule)
	entries := entriesOf(b)
	if len(entries) != 3 {
		t.Fatalf("%d entries, want least, most and reason", len(entries))
	}
	entries[1].SetText("45°")
	entries[2].SetText("pairs stand as the walls allow")
	b.Press(t, "Set")
	c := b.Session.Standard().Changes["symmetry-azimuth"]
	if b.Frame.Busy() || c.Max == nil || *c.Max != 45 {
		t.Fatalf("%+v", c)
	}
	for _, m := range p.found.Failing() {
		if m.Rule == "symmetry-azimuth" {
			t.Errorf("still short: %s", m.Text)
		}
	}
	p.resetRule(rule)
	if len(b.Session.Standard().Changes) != 0 {
		t.Error("the rule's own limits are not back")
	}
}

// Limits typed for a rule took away those that a file had set by layer.
func TestLimitsByLayerStayWhenOthersAreTyped(t *testing.T) {
	_, p := onPractice(t, "")
	most := 22.0
	p.setStandard(practice.Standard{Changes: map[string]practice.Change{"elevation": {Reason: "wide rows",
		Layers: map[practice.Layer]practice.Limits{practice.Side: {Max: &most}}}}})
	tape := 2.0
	if err := p.changeRule("elevation", &practice.Change{Max: &tape, Reason: "a rough tape"}); err != nil {
		t.Fatal(err)
	}
	if got := p.session.Standard().Changes["elevation"].Layers[practice.Side].Max; got == nil || *got != most {
		t.Errorf("%+v", p.session.Standard())
	}
}
