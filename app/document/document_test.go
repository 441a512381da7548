// SPDX-License-Identifier: MIT

package document

import (
	"os"
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

func TestRecoveryCopy(t *testing.T) {
	dir := t.TempDir()
	d := New(file.New(), dir)
	if _, ok := Recovered("", dir); ok {
		t.Fatal("work is recovered that was never done")
	}
	edit(t, d)
	d.WriteRecovery(func(err error) { t.Error(err) })
	d.Wait()
	got, ok := Recovered("", dir)
	if !ok || got.Design().Speakers[0].At != d.Design().Speakers[0].At || !got.Dirty() {
		t.Fatal("the recovery copy is not the unsaved work")
	}
	d.DropRecovery()
	if _, ok := Recovered("", dir); ok {
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

func TestBrokenRecoveryCopyIsPassedOver(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(file.RecoveryPath(dir, ""), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, ok := Recovered("", dir); ok {
		t.Error("half a file was recovered")
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
