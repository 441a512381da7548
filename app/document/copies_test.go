// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"earline/project/file"
)

// crash leaves the recovery copy of an edited document in dir, as a window that is
// killed does.
func crash(t *testing.T, d *Document) {
	t.Helper()
	edit(t, d)
	d.WriteRecovery(func(err error) { t.Error(err) })
	d.Wait()
}

func titles(copies []Copy) (all []string) {
	for _, c := range copies {
		all = append(all, c.Title)
	}
	return all
}

// A room that was never saved was lost when the next window was given an unsaved
// room too: both had one copy, and closing the second removed it.
func TestAnUnsavedRoomWasOverwrittenByTheNext(t *testing.T) {
	dir := t.TempDir()
	first := New(file.New(), dir)
	crash(t, first)
	second := New(file.New(), dir)
	crash(t, second)
	if left, _ := Copies(dir, dir); len(left) != 2 {
		t.Fatalf("%d copies of two rooms", len(left))
	}
	second.DropRecovery()
	left, _ := Copies(dir, dir)
	if len(left) != 1 {
		t.Fatalf("%d copies of the first room", len(left))
	}
	got, err := left[0].Restore(dir)
	if err != nil || got.Design().Speakers[0].At != first.Design().Speakers[0].At || !got.Dirty() || got.Path() != "" {
		t.Errorf("restored something else (%v)", err)
	}
}

// Unsaved work was not offered when the number of the process that had left it was
// another's by then, nor when two windows had crashed. What a window has that runs
// is its own.
func TestWorkOfEveryCrashedWindowIsOffered(t *testing.T) {
	root := t.TempDir()
	for n, dir := range []string{root, filepath.Join(root, "2"), filepath.Join(root, "3")} {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, lockName), []byte(strconv.Itoa(os.Getpid())+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		design := file.New()
		design.Name = "room " + strconv.Itoa(n+1)
		d := New(design, dir)
		crash(t, d)
		at := time.Now().Add(-time.Duration(n) * time.Hour)
		if err := os.Chtimes(d.copy, at, at); err != nil {
			t.Fatal(err)
		}
	}
	own, release := Claim(root)
	defer release()
	all, _ := Copies(root, own)
	if got := strings.Join(titles(all), ", "); got != "room 1, room 2, room 3" {
		t.Errorf("offered: %s", got)
	}
	other, releaseOther := Claim(root) // has 2
	all, _ = Copies(root, own)
	if got := strings.Join(titles(all), ", "); got != "room 1, room 3" {
		t.Errorf("with another window open offered: %s", got)
	}
	all, _ = Copies(root, other)
	if got := strings.Join(titles(all), ", "); got != "room 2, room 3" {
		t.Errorf("to the other window offered: %s", got)
	}
	releaseOther()
}

// Two windows may offer the same work: one of them has it.
func TestWorkIsRestoredOnce(t *testing.T) {
	dir := t.TempDir()
	crash(t, New(file.New(), dir))
	left, _ := Copies(dir, dir)
	again, _ := Copies(dir, dir)
	d, err := left[0].Restore(filepath.Join(dir, ""))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := again[0].Restore(dir); err == nil || !strings.Contains(err.Error(), "another window") {
		t.Errorf("restored twice: %v", err)
	}
	if err := again[0].Discard(); err != nil {
		t.Error(err)
	}
	if err := d.Save(filepath.Join(t.TempDir(), "room")); err != nil {
		t.Fatal(err)
	}
	if left, _ := Copies(dir, dir); len(left) != 0 {
		t.Errorf("after saving these are left: %v", titles(left))
	}
}

// A copy that could not be read, or was of a newer Earline, was passed over without
// a word and written over at the next edit.
func TestAnUnreadableCopyIsMovedAsideAndTold(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a"+file.RecoveryExt)
	if err := os.WriteFile(name, []byte(`{"format": "earline", "version": 99}`), 0o600); err != nil {
		t.Fatal(err)
	}
	left, faults := Copies(dir, dir)
	if len(left) != 0 || len(faults) != 1 || !strings.Contains(faults[0].Error(), "written by a newer Earline") ||
		!strings.Contains(faults[0].Error(), name+".unreadable") {
		t.Errorf("%v, %v", left, faults)
	}
	if _, err := os.Stat(name + ".unreadable"); err != nil {
		t.Error(err)
	}
	if _, faults := Copies(dir, dir); len(faults) != 0 {
		t.Errorf("told again: %v", faults)
	}
}

// What a crash left was put over a file that had been saved elsewhere since, with
// no word that the file was newer.
func TestACopyKnowsThatItsFileIsNewer(t *testing.T) {
	dir := t.TempDir()
	d := New(file.New(), dir)
	if err := d.Save(filepath.Join(t.TempDir(), "room")); err != nil {
		t.Fatal(err)
	}
	crash(t, d)
	state := func() State {
		left, faults := Copies(dir, dir)
		if len(left) != 1 || left[0].Path != d.Path() || len(faults) != 0 {
			t.Fatalf("%v, %v", left, faults)
		}
		return left[0].File
	}
	if got := state(); got != Same {
		t.Errorf("untouched: %v", got)
	}
	other, err := Open(d.Path(), "")
	if err != nil {
		t.Fatal(err)
	}
	edit(t, other)
	edit(t, other)
	if err := other.Save(d.Path()); err != nil {
		t.Fatal(err)
	}
	if got := state(); got != Changed {
		t.Errorf("saved elsewhere: %v", got)
	}
	left, _ := Copies(dir, dir)
	restored, err := left[0].Restore(dir)
	if err != nil || restored.State() != Changed {
		t.Errorf("restored, it takes the file for its own (%v)", err)
	}
	if err := os.Remove(d.Path()); err != nil {
		t.Fatal(err)
	}
	if got := restored.State(); got != Gone {
		t.Errorf("removed: %v", got)
	}
}
