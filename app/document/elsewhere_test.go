// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"testing"
)

// Who opened a room by a double click while a window had it did not learn of that window.
func TestARoomOpenedTwiceIsToldInTheSecondWindow(t *testing.T) {
	root := t.TempDir()
	files := t.TempDir()
	room, other := filepath.Join(files, "Küche 部屋.earline"), filepath.Join(files, "other.earline")
	for _, name := range []string{room, other} {
		if err := os.WriteFile(name, []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	first, release := Claim(root)
	second, releaseSecond := Claim(root)
	defer releaseSecond()
	expect := func(when, path string, want bool) {
		t.Helper()
		if got := ShownElsewhere(root, second, path); got != want {
			t.Errorf("%s: %v, want %v", when, got, want)
		}
	}
	expect("nobody has told of a room", room, false)
	Tell(second, room)
	expect("this window itself shows it", room, false)
	Tell(first, room)
	expect("the first window shows it", room, true)
	expect("the first window shows another", other, false)
	expect("in no file", "", false)
	link := filepath.Join(files, "link.earline")
	if err := os.Symlink(room, link); err == nil {
		expect("by another name", link, true)
	}
	Tell(first, "")
	expect("the first window has a new room", room, false)
	Tell(first, room)
	release()
	expect("the first window has ended", room, false)
}
