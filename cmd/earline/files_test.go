// SPDX-License-Identifier: MIT

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// "--polar M=/dev/zero", and any huge file, ended in Go's own words about memory.
func TestAnEndlessTableOfPolarDataIsRefused(t *testing.T) {
	name := filepath.Join(t.TempDir(), "huge.csv")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(1 << 36); err != nil { // sparse
		t.Skipf("no sparse file here: %v", err)
	}
	f.Close()
	status, _, errs := earline("sound", "demo:small", "--polar", "compact="+name)
	if status != statusUnusable || !strings.Contains(errs, "a file of over 48 MiB") {
		t.Errorf("status %d: %s", status, errs)
	}
}

// A demo that could not be written left half a file, and the next try said that
// it was there already.
func TestADemoIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "room.earline")
	if status, _, errs := earline("demo", "small", "-o", name); status != statusFine {
		t.Fatal(errs)
	}
	before, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	status, _, errs := earline("demo", "large", "-o", name)
	if status != statusUnusable || !strings.Contains(errs, "is there already") {
		t.Errorf("status %d: %s", status, errs)
	}
	if after, err := os.ReadFile(name); err != nil || string(after) != string(before) {
		t.Error("it was replaced")
	}
	if all, _ := os.ReadDir(dir); len(all) != 1 {
		t.Errorf("left behind: %v", all)
	}
}
