// SPDX-License-Identifier: MIT

package ask

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/portal"
)

// fakeDesktop answers as it is told; asked gets what was asked for.
type fakeDesktop struct {
	asked  chan portal.File
	answer chan string
	err    error
}

func (d *fakeDesktop) Choose(ctx context.Context, f portal.File) (string, error) {
	d.asked <- f
	if d.err != nil {
		return "", d.err
	}
	select {
	case path := <-d.answer:
		return path, nil
	case <-ctx.Done():
		return "", portal.ErrCancelled
	}
}

// onDesktop returns a window, an asker in it and its desktop. next waits for what the
// asker wants to be run on the UI goroutine, and runs it.
func onDesktop(t *testing.T, err error) (w fyne.Window, a *Asker, d *fakeDesktop, next func()) {
	w, a = open(t)
	d = &fakeDesktop{asked: make(chan portal.File, 1), answer: make(chan string, 1), err: err}
	posted := make(chan func(), 1)
	a.Desktop, a.Post = d, func(f func()) { posted <- f }
	return w, a, d, func() { (<-posted)() }
}

// The desktop's own chooser opens, and the window waits for it.
func TestOpenUsesTheDesktopsChooser(t *testing.T) {
	_, a, d, next := onDesktop(t, nil)
	var got string
	a.Open(".earline", func(path string) { got = path })
	if f := <-d.asked; f.Save || f.Ext != ".earline" || f.Kind != "Rooms" || f.Folder == "" {
		t.Errorf("asked for %+v", f)
	}
	if !a.Busy() {
		t.Error("the window does not wait")
	}
	d.answer <- "/a/room.earline"
	next()
	if got != "/a/room.earline" || a.Busy() {
		t.Errorf("found %q, busy %v", got, a.Busy())
	}
}

// The desktop asks about replacing a file by itself: nobody is asked twice. But a name
// that gets its ending here is another one than the desktop asked about.
func TestSaveOnTheDesktopAsksOnceAboutReplacing(t *testing.T) {
	there := filepath.Join(t.TempDir(), "there.earline")
	if err := os.WriteFile(there, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for chosen, question := range map[string]bool{there: false, there[:len(there)-len(".earline")]: true} {
		w, a, d, next := onDesktop(t, nil)
		var got string
		a.Save("Save the room as", "New room", ".earline", "", func(path string) { got = path })
		if f := <-d.asked; !f.Save || f.Name != "New room.earline" {
			t.Errorf("asked for %+v", f)
		}
		d.answer <- chosen
		next()
		if question != a.Busy() {
			t.Fatalf("%s: asked again: %v, want %v", chosen, a.Busy(), question)
		}
		if question {
			press(t, w, "Replace")
		}
		if got != there {
			t.Errorf("%s: saves to %q, want %q", chosen, got, there)
		}
	}
}

// Without a portal, or when it fails, the dialog of our own comes.
func TestWithoutAPortalOurOwnDialogAsks(t *testing.T) {
	w, a, d, next := onDesktop(t, errors.New("no portal"))
	a.Save("Save the room as", "New room", ".earline", "", func(string) { t.Error("saved") })
	<-d.asked
	next()
	if !a.Busy() || len(entries(w)) == 0 {
		t.Error("nothing asks for a name")
	}
}

// Cancel and Escape give up the desktop's chooser, and nothing else comes instead.
func TestCancelGivesUpTheDesktopsChooser(t *testing.T) {
	for _, give := range []func(fyne.Window, *Asker){
		func(w fyne.Window, _ *Asker) { press(t, w, "Cancel") },
		func(_ fyne.Window, a *Asker) { a.Escape() },
	} {
		w, a, d, next := onDesktop(t, nil)
		a.Open(".earline", func(string) { t.Error("opened") })
		<-d.asked
		give(w, a)
		next()
		if a.Busy() {
			t.Error("something still asks")
		}
	}
}

// Escape did nothing while Name had the keyboard, and closed both dialogs over Browse.
func TestEscapeClosesOneSaveDialog(t *testing.T) {
	w, a := open(t)
	a.Save("Save the picture as", "room", ".png", "", func(string) { t.Error("saved") })
	press(t, w, "Browse…")
	if n := len(w.Canvas().Overlays().List()); n != 2 {
		t.Fatalf("%d dialogs are open", n)
	}
	a.Escape()
	if n := len(w.Canvas().Overlays().List()); n != 1 {
		t.Fatalf("%d dialogs are open after Escape, want 1", n)
	}
	for _, e := range entries(w) {
		if e.Text == "room" {
			e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		}
	}
	if a.Busy() {
		t.Error("Escape in Name leaves the dialog open")
	}
}
