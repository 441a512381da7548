// SPDX-License-Identifier: MIT

package main

import (
	"os"
	"path/filepath"
	"testing"

	"earline/app/words"
	"earline/assets"
)

// The window may speak German; the command line, what it prints as JSON and the files that
// it writes are the same byte for byte wherever it runs.
func TestTheCommandLineSpeaksEnglishEverywhere(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "out")
	runs := [][]string{
		{"audit", "demo:large"},
		{"audit", "demo:large", "--json"},
		{"sound", "demo:small"},
		{"picture", "demo:large"},
		{"light", "demo:large"},
		{"lists", "demo:large", "cables"},
		{"setout", "demo:small"},
		{"setout", "demo:small", "-o", file + ".csv"},
		{"setout", "demo:small", "-o", file + ".svg"},
		{"demo", "large", "-o", file + ".earline"},
		{"audit", "demo:nowhere"},
		{"solve", "lift", "demo:large"},
		{"--help"},
	}
	answer := func() (all []string) {
		for _, args := range runs {
			status, out, errs := earline(args...)
			all = append(all, string(rune('0'+status))+out+errs)
		}
		written, err := filepath.Glob(file + "*")
		if err != nil || len(written) == 0 {
			t.Fatal("nothing is written", err)
		}
		for _, name := range written {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, string(data))
			if err := os.Remove(name); err != nil {
				t.Fatal(err)
			}
		}
		return all
	}
	for _, key := range []string{"LANGUAGE", "LC_ALL", "LC_MESSAGES", "LC_NUMERIC", "LANG"} {
		t.Setenv(key, "C")
	}
	want := answer()
	c, err := words.Read(assets.Words("de"))
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(c) // as in a German window
	t.Cleanup(func() { words.Speak(nil) })
	for _, key := range []string{"LANGUAGE", "LC_ALL", "LC_MESSAGES", "LC_NUMERIC", "LANG"} {
		t.Setenv(key, "de_DE.UTF-8")
	}
	got := answer()
	if len(got) != len(want) {
		t.Fatalf("%d answers and files, want %d", len(got), len(want))
	}
	for i := range want {
		if got[i] != want[i] {
			name := "a file"
			if i < len(runs) {
				name = runs[i][0]
			}
			t.Errorf("%s: another answer in German:\n%.400s\nwant\n%.400s", name, got[i], want[i])
		}
	}
}
