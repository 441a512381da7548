// SPDX-License-Identifier: MIT

package document

import (
	"path/filepath"
	"testing"

	"earline/project"
	"earline/project/file"
)

func edit(t *testing.T, d *Document) {
	t.Helper()
	if err := d.Do("raise", "", func(d *project.Design) { d.Speakers[0].At.Z += 0.1 }); err != nil {
		t.Fatal(err)
	}
}

func TestSaveThenOpen(t *testing.T) {
	dir := t.TempDir()
	d := New(file.New(), filepath.Join(dir, "recovery"))
	edit(t, d)
	if err := d.Save(filepath.Join(dir, "room")); err != nil {
		t.Fatal(err)
	}
	if got, want := d.Path(), filepath.Join(dir, "room.earline"); got != want || d.Dirty() {
		t.Errorf("saved as %s (changed: %v), want %s", got, d.Dirty(), want)
	}
	again, err := Open(d.Path(), "")
	if err != nil {
		t.Fatal(err)
	}
	if again.Design().Speakers[0].At != d.Design().Speakers[0].At {
		t.Error("what was opened is not what was saved")
	}
}

func TestFailedSaveChangesNothing(t *testing.T) {
	d := New(file.New(), "")
	edit(t, d)
	if d.Save(filepath.Join(t.TempDir(), "none", "room")) == nil {
		t.Fatal("saved into a folder that is not there")
	}
	if d.Path() != "" || !d.Dirty() {
		t.Error("the document counts as saved")
	}
}

// Two windows on one room: each replaced what the other had saved without a word.
func TestAFileThatSomeoneElseSavedIsNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "room.earline")
	a := New(file.New(), "")
	if err := a.Save(path); err != nil {
		t.Fatal(err)
	}
	b, err := Open(path, "")
	if err != nil {
		t.Fatal(err)
	}
	if a.State() != Same || b.State() != Same {
		t.Error("a file that nobody touched counts as changed")
	}
	edit(t, a)
	if err := a.Save(path); err != nil {
		t.Fatal(err)
	}
	if a.State() != Same || b.State() != Changed {
		t.Errorf("after the first has saved: %v, %v", a.State(), b.State())
	}
}

func TestRecoveryCopy(t *testing.T) {
	dir := t.TempDir()
	d := New(file.New(), dir)
	if left, _ := Copies(dir, dir); len(left) != 0 {
		t.Fatal("work is recovered that was never done")
	}
	crash(t, d)
	left, _ := Copies(dir, dir)
	if len(left) != 1 {
		t.Fatalf("%d copies", len(left))
	}
	got, err := left[0].Restore(dir)
	if err != nil || got.Design().Speakers[0].At != d.Design().Speakers[0].At || !got.Dirty() {
		t.Fatal("the recovery copy is not the unsaved work")
	}
	got.DropRecovery()
	if left, _ := Copies(dir, dir); len(left) != 0 {
		t.Error("a forgotten copy is still there")
	}
}

// A copy that is still to be written when the document is saved must not come
// back to life.
func TestSavingOvertakesTheRecoveryCopy(t *testing.T) {
	dir := t.TempDir()
	for range 50 {
		d := New(file.New(), dir)
		edit(t, d)
		d.WriteRecovery(nil)
		d.DropRecovery()
		d.Wait()
		if left, _ := filepath.Glob(filepath.Join(dir, "*")); len(left) != 0 {
			t.Fatalf("left behind: %v", left)
		}
	}
}

func TestTitle(t *testing.T) {
	d := New(file.New(), "")
	if got, want := d.Title(), "New room"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	d.path = "/a/b.earline"
	if got, want := d.Title(), "b.earline"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
}
