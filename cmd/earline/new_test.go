// SPDX-License-Identifier: MIT

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestNewWritesARoomThatTheAuditFindsNothingIn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "room.earline")
	status, out, errs := earline("new", "--size", "5.2x3.9x2.5", "--seats", "6", "--system", "7.1.4", "-o", path)
	if status != statusFine || strings.TrimSpace(out) != path {
		t.Fatal(out, errs, status)
	}
	if status, out, errs = earline("audit", path); status != statusFine || !strings.Contains(out, " 0 must, 0 should, ") {
		t.Error(out, errs, status)
	}
	if status, _, errs = earline("new", "-o", path); status != statusUnusable || !strings.Contains(errs, "is there already") {
		t.Error(errs, status)
	}
}

func TestNewSaysInOneLineWhatFits(t *testing.T) {
	path := filepath.Join(t.TempDir(), "room.earline")
	for _, args := range [][]string{{"--size", "4x3x2.4", "--seats", "40"}, {"--size", "4x3"}, {"--size", "4xax2"}, {"--size", "1x1x1"}} {
		status, _, errs := earline(append([]string{"new", "-o", path}, args...)...)
		if status != statusUnusable || strings.Count(errs, "\n") != 1 {
			t.Error(args, errs, status)
		}
	}
}

// What cannot be read is refused with the name of its flag, before anything is planned.
func TestNewRefusesAFlagByItsName(t *testing.T) {
	path := filepath.Join(t.TempDir(), "room.earline")
	for _, tt := range []struct{ flag, text string }{
		{"--size", "4x3"}, {"--size", "4xax2"}, {"--seats", "many"}, {"--seats", "0"}, {"--seats", "-1"}, {"--rows", "0"}, {"--system", "6.1"}, {"--output", ""},
	} {
		status, _, errs := earline("new", "-o", path, tt.flag, tt.text)
		if status != statusUnusable || !strings.HasPrefix(errs, "earline: "+tt.flag+": ") || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s %q: status %d, %q", tt.flag, tt.text, status, errs)
		}
	}
}
