// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/project/lesson"
)

// The status line told all that is wrong in a lesson before anybody had looked.
func TestTheStatusLineGivesNoFaultOfALessonAway(t *testing.T) {
	l, err := lesson.Make(7, 2)
	if err != nil {
		t.Fatal(err)
	}
	w, _ := testWindow(t, Config{Design: l.Start})
	if w.drawer.top.Title() != "Lesson" {
		t.Errorf("the page %s is on top", w.drawer.top.Title())
	}
	text, cause := w.sentence()
	if cause != nil || !strings.HasPrefix(text, "A lesson: ") || w.status.practice.Text != "Rules: told when marked" {
		t.Errorf("%q, %q", text, w.status.practice.Text)
	}
}

// The page of a lesson does not come up again when a proposal is refused on another.
func TestAProposalInALessonLeavesThePageOnTop(t *testing.T) {
	l, err := lesson.Make(7, 2)
	if err != nil {
		t.Fatal(err)
	}
	q := new(queue)
	w, _ := testWindow(t, Config{Design: l.Start, Post: q.Post})
	runID(t, w, "solve.lift")
	press(t, w, "Propose")
	q.Until(t, func() bool { return w.session.Offer != nil })
	if w.drawer.top.Title() != "Proposal" {
		t.Errorf("the page %s is on top of the proposal", w.drawer.top.Title())
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyF3})
	runID(t, w, "proposal.refuse")
	if w.drawer.top.Title() != "Rules" {
		t.Errorf("the page %s came up", w.drawer.top.Title())
	}
}

// New lesson shows a room that is one, in place of the one before.
func TestANewLessonOpensItsPage(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	runID(t, w, "lesson.new")
	press(t, w, "Make the lesson")
	q.Until(t, func() bool { return w.lesson() })
	if w.drawer.top.Title() != "Lesson" || w.session.Doc.Dirty() {
		t.Errorf("the page %s is on top", w.drawer.top.Title())
	}
	runID(t, w, "file.new") // and goes with the lesson
	makeRoom(t, w, q)
	if w.drawer.top.Title() != "Sight" || menuItem(w, "Rules", "Mark the lesson") == nil {
		t.Errorf("the page %s is on top", w.drawer.top.Title())
	}
}
