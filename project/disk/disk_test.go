// SPDX-License-Identifier: MIT

package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func write(t *testing.T, path, text string, mode fs.FileMode) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, mode); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q (%v), want %q", filepath.Base(path), got, err, want)
	}
}

// names returns what is in a folder.
func names(t *testing.T, dir string) (all []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

// A file that its owner had made read-only was replaced without a word.
func TestAReadOnlyFileWasReplaced(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "room.earline")
	write(t, path, "old", 0o444)
	err := Replace(path, []byte("new"))
	if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "the file is read-only") {
		t.Errorf("%v", err)
	}
	holds(t, path, "old")
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}

// Beside a room whose saving had been killed hundreds of times lay hundreds of
// files that nothing removed. What another process is writing stays.
func TestTemporaryFilesOfKilledProcessesPiledUp(t *testing.T) {
	dir := t.TempDir()
	stale, fresh := filepath.Join(dir, ".earline-0123456789abcdef.tmp"), filepath.Join(dir, ".earline-0123456789abcde0.tmp")
	other := filepath.Join(dir, "mine.tmp")
	for _, name := range []string{stale, fresh, other} {
		write(t, name, "half", 0o600)
		if name != fresh {
			hour := time.Now().Add(-time.Hour)
			if err := os.Chtimes(name, hour, hour); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := Replace(filepath.Join(dir, "a"), []byte("x")); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(names(t, dir), " "); got != ".earline-0123456789abcde0.tmp a mine.tmp" {
		t.Errorf("there are %s", got)
	}
}

// A name of 255 bytes, as long as file systems take, could not be saved.
func TestALongNameCannotBeSaved(t *testing.T) {
	dir := t.TempDir()
	long := filepath.Join(dir, strings.Repeat("x", 255-len(".earline"))+".earline")
	if err := os.WriteFile(long, nil, 0o600); err != nil {
		t.Skipf("no such name here: %v", err)
	}
	if err := Replace(long, []byte("x")); err != nil {
		t.Fatal(err)
	}
	holds(t, long, "x")
}

// A link to a file that was not there yet was replaced by a file; one in a circle
// too.
func TestALinkWasReplacedByAFile(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege")
	}
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "b"), 0o700); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(filepath.Join("b", "room"), link); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"first", "second"} {
		if err := Replace(link, []byte(text)); err != nil {
			t.Fatal(err)
		}
		holds(t, filepath.Join(dir, "b", "room"), text)
		if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Error("it is no link any more")
		}
	}
	circle := filepath.Join(dir, "circle")
	if err := os.Symlink("circle", circle); err != nil {
		t.Fatal(err)
	}
	if err := Replace(circle, []byte("x")); err == nil {
		t.Error("a circle of links was written")
	}
}

// Messages named a temporary file that the user had never heard of.
func TestMessagesNameTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none", "room.earline")
	for _, err := range []error{Replace(path, nil), Create(path, nil)} {
		var p *fs.PathError
		if !errors.As(err, &p) || p.Path != path || strings.Contains(err.Error(), ".tmp") {
			t.Errorf("%v", err)
		}
	}
}

func TestCreateReplacesNothing(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "room")
	if err := Create(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := Create(path, []byte("second")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("%v", err)
	}
	holds(t, path, "first")
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}

func TestReadStopsAtItsLimit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "f")
	write(t, path, "12345", 0o600)
	for limit, want := range map[int]string{3: "1234", 5: "12345", 9: "12345"} {
		if got, err := Read(path, limit); err != nil || string(got) != want {
			t.Errorf("limit %d: %q, %v", limit, got, err)
		}
	}
}

// What could be replaced is left as it was, and nothing is left beside it.
func TestCanReplaceLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	old, fresh, nowhere := filepath.Join(dir, "old"), filepath.Join(dir, "fresh"), filepath.Join(dir, "nowhere", "x")
	write(t, old, "old", 0o644)
	for path, want := range map[string]bool{old: true, fresh: true, nowhere: false, dir: false} {
		if err := CanReplace(path); (err == nil) != want {
			t.Errorf("%s: %v", path, err)
		}
	}
	holds(t, old, "old")
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}
