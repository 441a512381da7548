// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is handed out must have the terms of everything in it: no module without.
func TestEveryModuleOfTheProgramHasItsTerms(t *testing.T) {
	var out bytes.Buffer
	if err := run([]string{"-tags", "migrated_fynedo,no_emoji", "../..", "./cmd/earline", "linux", "windows"}, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"The Earline authors",
		"The Go Authors",
		"SIL OPEN FONT LICENSE", // fonts of the toolkit, in a folder without Go
		"Marcus Geelnard",       // GLFW's C in a folder of its Go binding
		"The FreeType Project LICENSE",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("nothing of %q", want)
		}
	}
	if strings.Contains(out.String(), "OpenAL") {
		t.Error("terms of a package that is not in the program")
	}
}

func TestModuleWithoutTermsIsNamed(t *testing.T) {
	bare, fair := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(fair, "COPYING"), []byte("as you like"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := partsOf(map[module][]string{{"example.org/bare", "v1.0.0", bare}: {bare}, {"example.org/fair", "v1.0.0", fair}: {fair}})
	if err == nil || err.Error() != "example.org/bare v1.0.0 has no file with its terms" {
		t.Errorf("found %v", err)
	}
}

// Terms count for the packages that are linked, and for folders of theirs without Go.
func TestTermsOfWhatIsLinked(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"LICENSE", "used/a.go", "used/font/OFL-LICENSE.txt", "unused/b.go", "unused/COPYING", "testdata/LICENSE", "licenses/ftl.txt", "license.go"} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	found, err := terms(dir, []string{filepath.Join(dir, "used")})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range found {
		rel, _ := filepath.Rel(dir, f)
		names = append(names, filepath.ToSlash(rel))
	}
	if got, want := strings.Join(names, " "), "LICENSE licenses/ftl.txt used/font/OFL-LICENSE.txt"; got != want {
		t.Errorf("found %s, want %s", got, want)
	}
}
