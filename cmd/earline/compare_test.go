// SPDX-License-Identifier: MIT

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// An old room against the plan, from two files, then from the one that holds both.
func TestCompareTellsWhatMovesAndWhichHolesAreLeft(t *testing.T) {
	dir := t.TempDir()
	lifted, both := filepath.Join(dir, "lifted.earline"), filepath.Join(dir, "both.earline")
	found := "../../testdata/rooms/room-b.earline"
	if status, _, errs := earline("solve", found, "lift", "-o", lifted); status == statusUnusable {
		t.Fatal(errs)
	}
	_, out, errs := earline("compare", lifted, "--found", found, "-o", both)
	for _, want := range []string{"M+090 moves 0.950 m up", "patch 0.235 m × 0.375 m, 0.088 m²", "licensed trades"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s%s", want, out, errs)
		}
	}
	if _, again, errs := earline("compare", both); again != out {
		t.Errorf("from one file:\n%s%s\nfrom two:\n%s", again, errs, out)
	}
	if _, _, errs = earline("compare", lifted); !strings.Contains(errs, "no design beside the plan") {
		t.Errorf("of a file with one design: %s", errs)
	}
	if _, _, errs = earline("compare", both, "--with", "Other"); !strings.Contains(errs, `"As found"`) {
		t.Errorf("unknown name: %s", errs)
	}
}
