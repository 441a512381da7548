// SPDX-License-Identifier: MIT

package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
)

// With the keyboard one list was chosen, and Tab went on from the picture.
func TestChoosingAListKeepsTheKeyboard(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	runID(t, w, "view.lists-page")
	c := w.win.Canvas()
	c.FocusNext()
	chosen := c.Focused()
	chosen.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if b, ok := chosen.(*field.Button); !ok || b.Text != "Cables" || b.Importance != widget.HighImportance {
		t.Fatalf("%v was pressed", chosen)
	}
	if c.Focused() != chosen {
		t.Error("the keyboard is elsewhere")
	}
}
