// SPDX-License-Identifier: MIT

package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/document"
	"earline/app/page/pagetest"
	"earline/assets"
	"earline/project/file"
)

// asked returns the text of the dialog that is open.
func asked(w *Window) string {
	var text []string
	if top := w.win.Canvas().Overlays().Top(); top != nil {
		pagetest.Walk(top, func(o fyne.CanvasObject) {
			if l, ok := o.(*widget.Label); ok {
				text = append(text, l.Text)
			}
		})
	}
	return strings.Join(text, "\n")
}

// crashed leaves unsaved work in dir, as a window that is killed does: of the file
// at path, or of a room that was never saved.
func crashed(t *testing.T, path, dir string) {
	t.Helper()
	w, _ := testWindow(t, Config{Path: path, Dir: dir})
	raise(t, w, 0.25)
	w.session.WriteRecovery()
	w.session.Doc.Wait()
	w.session.Open(document.New(file.New(), dir)) // or the test's end would close it properly
}

// saved writes the starter room to a new file.
func saved(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "room.earline")
	if err := file.Write(path, file.New()); err != nil {
		t.Fatal(err)
	}
	return path
}

// A room was saved while another window had it open: saving there replaced it
// without a word.
func TestSavingOverWhatSomeoneElseSavedAsksFirst(t *testing.T) {
	path := saved(t)
	w, _ := testWindow(t, Config{Path: path})
	other, err := document.Open(path, "")
	if err != nil {
		t.Fatal(err)
	}
	raise(t, w, 0.25)
	other.Design().Name = "of the other"
	if err := other.Save(path); err != nil {
		t.Fatal(err)
	}
	w.save(nil)
	if !strings.Contains(asked(w), "room.earline has been changed by another window or program") {
		t.Fatalf("it asks %q", asked(w))
	}
	press(t, w, "Cancel")
	if d, err := file.Read(path); err != nil || d.Name != "of the other" {
		t.Fatal("it was replaced all the same")
	}
	w.save(nil)
	press(t, w, "Replace")
	if d, err := file.Read(path); err != nil || d.Name == "of the other" || w.session.Doc.Dirty() {
		t.Error("it is not saved")
	}
	raise(t, w, 0.1)
	w.save(nil)
	if w.ask.Busy() || w.session.Doc.Dirty() {
		t.Errorf("what this window saved itself it asks about: %s", asked(w))
	}
}

// The dialog of unsaved work said neither how old it was nor that the file was
// newer, and its room could be saved over the newer one.
func TestRestoringOverANewerFileIsSaid(t *testing.T) {
	path, dir := saved(t), t.TempDir()
	crashed(t, path, dir)
	newer := file.New()
	newer.Name = "newer"
	if err := file.Write(path, newer); err != nil {
		t.Fatal(err)
	}
	w, _ := testWindow(t, Config{Path: path, Dir: dir})
	w.offerRecovery(every)
	for _, want := range []string{"room.earline in " + filepath.Dir(path), "less than a minute ago", "is newer"} {
		if !strings.Contains(asked(w), want) {
			t.Errorf("no word of %q in:\n%s", want, asked(w))
		}
	}
	press(t, w, "Restore")
	if !w.session.Doc.Dirty() || w.session.Doc.Path() != path {
		t.Fatal("it is not restored")
	}
	w.save(nil)
	if !w.ask.Busy() {
		t.Error("the newer file is replaced without a question")
	}
	press(t, w, "Cancel")
}

// A room that was never saved was lost by a crash, as the next window gave its copy
// up with its own new room.
func TestANewRoomAfterACrashRemovedTheUnsavedOne(t *testing.T) {
	dir := t.TempDir()
	crashed(t, "", dir)
	q := new(queue)
	w, _ := testWindow(t, Config{Path: saved(t), Dir: dir, Post: q.Post})
	w.newRoom()
	makeRoom(t, w, q)
	raise(t, w, 0.1)
	w.session.WriteRecovery()
	w.session.Doc.Wait()
	w.stopQuietly()
	again, _ := testWindow(t, Config{Dir: dir})
	again.offerRecovery(every)
	if !strings.Contains(asked(again), "New room, never saved") {
		t.Errorf("offered: %q", asked(again))
	}
}

// All that windows left is offered at once, and what is left open comes again.
func TestSeveralUnsavedRoomsAreOffered(t *testing.T) {
	dir := t.TempDir()
	crashed(t, "", dir)
	crashed(t, saved(t), dir)
	if err := os.WriteFile(filepath.Join(dir, "x"+file.RecoveryExt), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	w, _ := testWindow(t, Config{Dir: dir})
	w.offerRecovery(every)
	for _, want := range []string{"room.earline in", "New room, never saved", "cannot be read"} {
		if !strings.Contains(asked(w), want) {
			t.Errorf("no word of %q in:\n%s", want, asked(w))
		}
	}
	press(t, w, "Discard") // which asks
	press(t, w, "Keep")
	press(t, w, "Close")
	w.offerRecovery(every)
	press(t, w, "Discard")
	press(t, w, "Discard")
	if left, _ := document.Copies(dir, dir); len(left) != 1 {
		t.Errorf("%d copies are left", len(left))
	}
	press(t, w, "Restore")
	if w.ask.Busy() || !w.session.Doc.Dirty() {
		t.Error("the other one is not restored")
	}
}

// A start right after a kill found the killed window's folder still held, and offered
// nothing.
func TestAStartRightAfterAKillOffersTheWorkAMomentLater(t *testing.T) {
	root := t.TempDir()
	killed, gone := document.Claim(root)
	crashed(t, "", killed)
	posted := make(chan func(), 100)
	w, _ := testWindow(t, Config{Dir: filepath.Join(root, "2"), root: root, Post: func(f func()) { posted <- f }})
	w.offerAtStart(time.Millisecond) // whose second look waits in posted
	if w.ask.Busy() {
		t.Fatalf("offered while the window lives: %s", asked(w))
	}
	gone()
	for !w.ask.Busy() {
		(<-posted)()
	}
	if !strings.Contains(asked(w), "New room, never saved") {
		t.Errorf("offered: %q", asked(w))
	}
}

// "Don't save", then a file that could not be opened: the room stayed on show and
// its recovery copy was gone.
func TestDontSaveKeepsTheCopyUntilAnotherRoomIsOnShow(t *testing.T) {
	dir := t.TempDir()
	w, _ := testWindow(t, Config{Dir: dir})
	raise(t, w, 0.25)
	w.session.WriteRecovery()
	w.session.Doc.Wait()
	bad := filepath.Join(t.TempDir(), "bad.earline")
	if err := os.WriteFile(bad, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.confirmUnsaved(func() { w.open(bad) })
	press(t, w, "Don't save")
	if left, _ := document.Copies(dir, dir); len(left) != 1 {
		t.Errorf("%d copies of the room on show", len(left))
	}
	press(t, w, "Close")
	w.confirmUnsaved(func() { w.open(saved(t)) })
	press(t, w, "Don't save")
	if left, _ := document.Copies(dir, dir); len(left) != 0 {
		t.Errorf("%d copies of a room that was given up", len(left))
	}
}

// A fault in the program lost what had been done since the last recovery copy.
func TestAFaultInTheProgramKeepsTheLastEdit(t *testing.T) {
	dir := t.TempDir()
	w, _ := testWindow(t, Config{Dir: dir})
	raise(t, w, 0.25)
	func() {
		defer func() { _ = recover() }()
		w.guarded(func() { panic("a fault") })
	}()
	left, _ := document.Copies(dir, dir)
	if len(left) != 1 {
		t.Fatalf("%d copies", len(left))
	}
	d, err := left[0].Restore(t.TempDir())
	if err != nil || d.Design().Speakers[0].At != w.session.Design().Speakers[0].At {
		t.Errorf("the last edit is not in it (%v)", err)
	}
}

func TestAgo(t *testing.T) {
	for d, want := range map[time.Duration]string{
		-time.Hour: "less than a minute ago", 59 * time.Second: "less than a minute ago", time.Minute: "1 minute ago",
		59 * time.Minute: "59 minutes ago", 90 * time.Minute: "1 hour ago", 47 * time.Hour: "1 day ago", 72 * time.Hour: "3 days ago",
	} {
		if got := ago(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// A second double click on a room opened it again without a word.
func TestARoomThatAnotherWindowShowsIsTold(t *testing.T) {
	path, root := saved(t), t.TempDir()
	dir := func() string {
		dir, release := document.Claim(root)
		t.Cleanup(release)
		return dir
	}
	first, _ := testWindow(t, Config{Path: path, Dir: dir(), root: root})
	if first.session.Hint != "" {
		t.Errorf("the first window says %q", first.session.Hint)
	}
	second, _ := testWindow(t, Config{Path: path, Dir: dir(), root: root})
	const want = "room.earline is open in another window too. Each asks before it replaces what the other has saved."
	if second.session.Hint != want {
		t.Errorf("the second window says %q, want %q", second.session.Hint, want)
	}
	second.openDemo(assets.Demos()[0])
	third, _ := testWindow(t, Config{Dir: dir(), root: root})
	third.open(path)
	if third.session.Hint != want {
		t.Errorf("the third window says %q, want %q", third.session.Hint, want)
	}
}
