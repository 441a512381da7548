// SPDX-License-Identifier: MIT

package app

import (
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
