// SPDX-License-Identifier: MIT

package field

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

func newTestEntry(t *testing.T, value *string) (*Entry, fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	e := newEntry(Binding{
		Value: func() string { return *value },
		Set:   func(text string) error { *value = text; return nil },
	}, func(string) {}, func([]Offer) {})
	w := test.NewTempWindow(t, e)
	w.Resize(fyne.NewSize(200, 40))
	return e, w
}

// Seen: Tab to a width of 4.000 m, type 3.9, and it read "3.94.000 m".
func TestTypingIntoAnEnteredFieldReplacesItsText(t *testing.T) {
	value := "4.000 m"
	e, w := newTestEntry(t, &value)
	w.Canvas().Focus(e)
	test.Type(e, "3.9")
	if e.Text != "3.9" {
		t.Errorf("the field reads %q", e.Text)
	}
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	e.selectAll()
	test.Type(e, "3")
	e.TypedShortcut(&fyne.ShortcutUndo{})
	if e.Text != value || e.Pending() {
		t.Errorf("one step back the field reads %q", e.Text)
	}
	e.selectAll()
	test.Type(e, "3.9")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if value != "3.9" {
		t.Errorf("taken in: %q", value)
	}
}

// A click into a field that has no focus selects its text; a second one places
// the cursor.
func TestAClickSelectsTheTextOnce(t *testing.T) {
	value := "4.000 m"
	e, _ := newTestEntry(t, &value)
	click := func() {
		at := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(30, 10)}, Button: desktop.MouseButtonPrimary}
		e.MouseDown(at)
		e.MouseUp(at)
	}
	click()
	if got := e.SelectedText(); got != value {
		t.Errorf("after the first click %q is selected", got)
	}
	click()
	if got := e.SelectedText(); got != "" {
		t.Errorf("after the second click %q is selected", got)
	}
}
