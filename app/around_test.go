// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// F11 gives the picture the whole screen, without the menu; Escape brings everything
// back. A window that is closed meanwhile does not come back as large as the screen.
func TestShowingAroundTakesTheWholeScreen(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.fyne.Preferences().SetFloat(widthKey, 777)
	w.key(&fyne.KeyEvent{Name: fyne.KeyF11})
	if !w.win.FullScreen() || w.win.MainMenu() != nil || w.side.Visible() {
		t.Errorf("full screen %v, menu %v", w.win.FullScreen(), w.win.MainMenu() != nil)
	}
	w.keepLook()
	if got := w.fyne.Preferences().Float(widthKey); got != 777 {
		t.Errorf("the window comes back %v wide", got)
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.win.FullScreen() || w.win.MainMenu() != w.controls.menu.Fyne || !w.side.Visible() {
		t.Errorf("full screen %v, menu %v", w.win.FullScreen(), w.win.MainMenu() != nil)
	}
}

// In the client view X did nothing and said nothing where the file has one design, and a
// picture was saved without a word: the status line is not there.
func TestTheClientViewSaysWhatWasDoneAndWhatWasNot(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.runNamed("view.client")
	w.rune('x')
	if got := w.room.View.Said(); !strings.HasPrefix(got, "Not done: ") {
		t.Errorf("X said %q", got)
	}
	w.session.Say("Picture saved as x.png.")
	if got := w.room.View.Said(); got != "Picture saved as x.png." {
		t.Errorf("a saved picture said %q", got)
	}
	w.runNamed("view.client")
	if got := w.room.View.Said(); got != "" {
		t.Errorf("left with %q", got)
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyF11})
	asked := w.room.View.Said()
	w.session.Say("")
	if got := w.room.View.Said(); got != asked || asked == "" {
		t.Errorf("the walk said %q, then %q", asked, got)
	}
}
