// SPDX-License-Identifier: MIT

package app

import "testing"

// A proposal stands in the picture on every page, and its page is there only
// meanwhile.
func TestAProposalIsDrawnUntilItIsRefused(t *testing.T) {
	q := new(queue)
	w, f := testWindow(t, Config{Demo: "large", Post: q.Post})
	shown := func() bool { return w.drawer.tabs[len(w.drawer.tabs)-1].button.Visible() }
	if shown() {
		t.Error("there is a tab before there is a proposal")
	}
	runID(t, w, "solve.lift")
	press(t, w, "Propose")
	if w.drawer.top.Title() != "Proposal" || !shown() {
		t.Error("the page does not come up")
	}
	q.Until(t, func() bool { return w.session.Offer != nil })
	if !drawn(f, "proposed moves") {
		t.Error("the proposal is not in the picture")
	}
	runID(t, w, "view.sight-page")
	if !drawn(f, "proposed moves") {
		t.Error("on another page it is not in the picture")
	}
	runID(t, w, "proposal.refuse")
	if drawn(f, "proposed moves") || shown() {
		t.Error("something stays of what was refused")
	}
	runID(t, w, "solve.lift")
	press(t, w, "Propose")
	press(t, w, "Cancel")
	if w.drawer.top.Title() != "Sight" || shown() {
		t.Error("cancelled, and yet its page is there")
	}
}

// Every page can be brought up by name, and its commands stand in the menu.
func TestEveryPageHasItsPlaceInTheMenu(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	for i, title := range []string{"Sight", "Rules", "Sound", "Picture", "As built", "Set-out", "Compare", "Lists"} {
		item := menuItem(w, "Go", title+" page")
		if item == nil {
			t.Fatalf("%s is not in the menu", title)
		}
		item.Action()
		if w.drawer.top != w.drawer.tabs[i] || !menuItem(w, "Go", title+" page").Checked {
			t.Errorf("%s does not come up", title)
		}
	}
	for _, l := range w.drawer.tabs {
		for _, c := range l.Commands() {
			if menuItem(w, c.Menu, c.Label()) == nil {
				t.Errorf("%s/%s is not in the menu", c.Menu, c.Label())
			}
		}
	}
}

// At 1024 by 700 the right edge of every page was cut off once the inspector showed
// loudspeakers.
func TestEveryPageFitsASmallScreen(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "large", Post: q.Post})
	w.inspector.OpenAll()
	runID(t, w, "solve.lift")
	press(t, w, "Propose")
	q.Until(t, func() bool { return w.session.Offer != nil })
	for _, l := range w.drawer.tabs {
		w.drawer.show(l.Page)
		if least := w.win.Content().MinSize(); least.Width > 1024 || least.Height > 700 {
			t.Errorf("%s needs %v", l.Title(), least)
		}
	}
}
