// SPDX-License-Identifier: MIT

//go:build linux

package disk

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A disk that is full in the middle of a save: the old file stays whole, the error
// names it, and nothing is left beside it. The limit of file sizes of a process of
// its own stands in for the disk's end, which only an administrator could bring about.
func TestAFullDiskLeavesTheOldFile(t *testing.T) {
	const inside = "EARLINE_TEST_FULL_DISK"
	if path := os.Getenv(inside); path != "" {
		room := syscall.Rlimit{Cur: 4096, Max: 4096}
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &room); err != nil {
			t.Fatal(err)
		}
		t.Log("Replace says:", Replace(path, bytes.Repeat([]byte{'n'}, 1<<20)))
		t.Log("Create says:", Create(path+".new", bytes.Repeat([]byte{'n'}, 1<<20)))
		return
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "room")
	write(t, path, "as it was", 0o600)
	cmd := exec.Command(os.Args[0], "-test.run", "^TestAFullDiskLeavesTheOldFile$", "-test.v")
	cmd.Env = append(os.Environ(), inside+"="+path)
	said, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	for _, want := range []string{"Replace says: write " + path + ": file too large", "Create says: write " + path + ".new: file too large"} {
		if !strings.Contains(string(said), want) {
			t.Errorf("no %q in:\n%s", want, said)
		}
	}
	holds(t, path, "as it was")
	if all := names(t, dir); len(all) != 1 {
		t.Errorf("left behind: %v", all)
	}
}
