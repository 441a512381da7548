// SPDX-License-Identifier: MIT

package ask

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

// open returns a window and an asker in it.
func open(t *testing.T) (fyne.Window, *Asker) {
	t.Helper()
	test.NewTempApp(t)
	w := test.NewTempWindow(t, widget.NewLabel(""))
	w.Resize(fyne.NewSize(900, 600))
	return w, New(w, t.TempDir)
}

// objects returns everything of one kind in the dialog that is open.
func objects[T fyne.CanvasObject](w fyne.Window) (found []T) {
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if v, ok := o.(T); ok {
			found = append(found, v)
		}
		switch o := o.(type) {
		case *fyne.Container:
			for _, c := range o.Objects {
				walk(c)
			}
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(o).Objects() {
				walk(c)
			}
		}
	}
	walk(w.Canvas().Overlays().Top())
	return found
}

func entries(w fyne.Window) []*Entry { return objects[*Entry](w) }

func press(t *testing.T, w fyne.Window, text string) {
	t.Helper()
	for _, b := range objects[*field.Button](w) {
		if b.Text == text {
			test.Tap(b)
			return
		}
	}
	t.Fatalf("no button %q is shown", text)
}

func TestOptionsAreReadInTheirUnits(t *testing.T) {
	win, a := open(t)
	var o struct {
		Elevation unit.Degrees
		Shift     unit.Length
	}
	f := &Options{Units: project.Imperial}
	f.Degrees("Elevation", &o.Elevation)
	f.Length("Shift", &o.Shift)
	a.Options("x", "y", "Go", f, func() {})
	e := entries(win)
	e[0].SetText("25")
	e[1].SetText("20")
	press(t, win, "Go")
	if a.Busy() || o.Elevation != 25 || o.Shift < 0.5079 || o.Shift > 0.5081 {
		t.Errorf("read %+v", o)
	}
	a.Options("x", "y", "Go", f, func() {})
	e[1].SetText("some")
	press(t, win, "Go")
	if !a.Busy() || o.Elevation != 25 {
		t.Error("what is no length was taken")
	}
	e[1].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if a.Busy() {
		t.Error("Escape does not close the form")
	}
}

func TestPathOf(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ name, want string }{
		{"room", filepath.Join(dir, "room.earline")},
		{" room.EARLINE ", filepath.Join(dir, "room.EARLINE")},
		{filepath.Join(dir, "a.b"), filepath.Join(dir, "a.b.earline")},
	} {
		if got, err := pathOf(dir, c.name, ".earline"); err != nil || got != c.want {
			t.Errorf("pathOf(%q) = %q, %v; want %q", c.name, got, err, c.want)
		}
	}
	for _, name := range []string{"", "  ", ".earline", "no/such/folder"} {
		if got, err := pathOf(dir, name, ".earline"); err == nil {
			t.Errorf("pathOf(%q) = %q, want a refusal", name, got)
		}
	}
}
