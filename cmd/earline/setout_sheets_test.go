// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func draws(t *testing.T, args ...string) {
	t.Helper()
	if status, out, errs := earline(args...); status != statusFine || out+errs != "" {
		t.Fatalf("%v: status %d, says %q", args, status, out+errs)
	}
}

func TestSetoutDraws(t *testing.T) {
	dir := t.TempDir()
	to := filepath.Join(dir, "room.pdf")
	draws(t, "setout", "demo:small", "-q", "-o", to)
	data, err := os.ReadFile(to)
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("no PDF: %v", err)
	}
	draws(t, "setout", "demo:small", "-q", "-o", filepath.Join(dir, "room.svg"), "--paper", "a4")
	plan, err := os.ReadFile(filepath.Join(dir, "room-S1.svg"))
	if err != nil || !bytes.Contains(plan, []byte(`width="297mm" height="210mm"`)) {
		t.Errorf("no plan on A4: %v", err)
	}
	one := filepath.Join(dir, "one.svg")
	draws(t, "setout", "demo:small", "-q", "-o", one, "--sheet", "s2")
	ceiling, err := os.ReadFile(one)
	if err != nil || !bytes.Contains(ceiling, []byte("Ceiling")) {
		t.Errorf("no ceiling: %v", err)
	}
	draws(t, "setout", "demo:small", "-q", "-o", filepath.Join(dir, "room.dxf"))
	if dxf, err := os.ReadFile(filepath.Join(dir, "room.dxf")); err != nil || !bytes.Contains(dxf, []byte("LOUDSPEAKERS")) && !bytes.Contains(dxf, []byte("loudspeakers")) || bytes.Contains(bytes.ToLower(dxf), []byte("\nmask\r")) {
		t.Errorf("no DXF with its layers, or one that white areas cover: %v", err)
	}
}

// The same design gives the same bytes.
func TestSetoutDrawsTheSameAgain(t *testing.T) {
	dir := t.TempDir()
	var first []byte
	for _, name := range []string{"a.pdf", "b.pdf"} {
		draws(t, "setout", "demo:small", "-q", "-o", filepath.Join(dir, name))
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, data) {
			t.Error("two drawings of one design differ")
		}
		first = data
	}
}

// What cannot be drawn leaves the file that is there.
func TestSetoutThatIsRefusedLeavesTheOldFile(t *testing.T) {
	to := filepath.Join(t.TempDir(), "room.pdf")
	if err := os.WriteFile(to, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"setout", "demo:small", "-o", to, "--sheet", "S9"}, `--sheet: found "S9", allowed: S1, S2`},
		{[]string{"setout", "demo:small", "-o", to, "--paper", "A5"}, `--paper: found "A5", allowed: A4, A3, Letter or Tabloid`},
		{[]string{"setout", "demo:small", "--paper", "A4"}, "--paper: found no drawing to write"},
		{[]string{"setout", "demo:small", "-o", "room.doc"}, "allowed: a name that ends in .csv, .dxf, .pdf, .svg"},
	} {
		if status, _, errs := earline(c.args...); status != statusUnusable || !strings.Contains(errs, c.says) {
			t.Errorf("%v ends with %d and says %q, want %q", c.args, status, errs, c.says)
		}
	}
	if data, _ := os.ReadFile(to); string(data) != "old" {
		t.Errorf("the file now holds %d bytes", len(data))
	}
}
