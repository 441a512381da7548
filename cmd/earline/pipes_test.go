// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/file"
	"earline/scene/gl"
)

// "earline audit -" looked for a file of that name.
func TestDesignsGoThroughPipes(t *testing.T) {
	_, room, errs := earline("demo", "two-row", "-o", "-")
	if errs != "" {
		t.Fatal(errs)
	}
	_, named, _ := earline("audit", "demo:two-row")
	if status, piped, errs := earlineReads(room, "audit", "-"); status != statusShort || errs != "" || piped != named {
		t.Errorf("audit -: status %d, said %q", status, errs)
	}
	for _, args := range [][]string{{"solve", "-", "lift", "-o", "-"}, {"sound", "-", "--tune", "-o", "-"}, {"bass", "-", "--align", "-o", "-"}} {
		status, changed, errs := earlineReads(room, args...)
		if _, err := file.Decode([]byte(changed), "-"); err != nil || errs != "" || status > statusShort {
			t.Errorf("%v: status %d, said %q, %v", args, status, errs, err)
		}
	}
	status, _, errs := earlineReads("hello", "audit", "-")
	if status != statusUnusable || !strings.HasPrefix(errs, "earline: standard input: ") {
		t.Errorf("status %d, said %q", status, errs)
	}
	if _, _, errs := earlineReads(room, "audit", "-", "-"); errs != "earline: standard input: found a second time, allowed: once\n" {
		t.Errorf("twice: said %q", errs)
	}
}

// Tables are read and written through pipes as designs are.
func TestTablesGoThroughPipes(t *testing.T) {
	table, err := os.ReadFile("../../testdata/polar_sample.csv")
	if err != nil {
		t.Fatal(err)
	}
	if status, _, errs := earlineReads(string(table), "sound", "demo:two-row", "--polar", "front=-", "-q"); status > statusShort || errs != "" {
		t.Errorf("--polar front=-: status %d, said %q", status, errs)
	}
	if _, out, errs := earline("sound", "demo:small", "--map", "-", "--step", "50cm"); errs != "" || !strings.HasPrefix(out, "x_m,y_m,z_m,level_db\n") {
		t.Errorf("--map -: said %q, %.80q", errs, out)
	}
	if _, out, errs := earline("bass", "demo:small", "--chart", "-"); errs != "" || !strings.Contains(strings.SplitN(out, "\n", 2)[0], ",") {
		t.Errorf("--chart -: said %q, %.80q", errs, out)
	}
	const standard = `{"format": "earline-rules", "version": 1, "name": "ours", "rules": {}}`
	if status, _, errs := earlineReads(standard, "audit", "demo:small", "--rules", "-"); status != statusFine || errs != "" {
		t.Errorf("--rules -: status %d, said %q", status, errs)
	}
}

// "render -o -" found an ending "".
func TestAPictureGoesThroughAPipe(t *testing.T) {
	if _, err := gl.NewContext(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	status, out, errs := earline("render", "demo:small", "-o", "-", "--size", "160x100")
	img, err := png.Decode(strings.NewReader(out))
	if status != statusFine || err != nil || img.Bounds().Dx() != 160 {
		t.Errorf("status %d, said %q, %v", status, errs, err)
	}
}

// A firm with forty rooms needed a loop around the audit.
func TestSeveralFilesInOneAudit(t *testing.T) {
	status, out, errs := earline("audit", "demo:small", "demo:large", "demo:two-row")
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if status != statusShort || errs != "" || len(lines) != 3 || !strings.HasPrefix(lines[0], "demo:small: fine; ") ||
		!strings.HasPrefix(lines[1], "demo:large: falls short; ears to drivers: 8 blocked") {
		t.Errorf("status %d, said %q:\n%s", status, errs, out)
	}
	// One that cannot be used is told, and the others are answered.
	status, out, errs = earline("audit", "demo:small", "none.earline", "demo:two-row")
	if status != statusUnusable || strings.Count(out, "\n") != 2 || errs != "earline: none.earline: no such file or directory\n" {
		t.Errorf("status %d, said %q:\n%s", status, errs, out)
	}
	// In full, each under its name.
	_, out, _ = earline("audit", "demo:small", "demo:two-row", "--all")
	if !strings.HasPrefix(out, "demo:small: ") || !strings.Contains(out, "\n\n\ndemo:two-row: ") {
		t.Errorf("%.200s", out)
	}
}

// As JSON each file is a document on a line, the same as alone but for its name.
func TestSeveralFilesAsJSON(t *testing.T) {
	_, out, errs := earline("audit", "--json", "demo:small", "demo:large")
	if errs != "" {
		t.Fatal(errs)
	}
	lines := strings.Split(strings.TrimSpace(out), "\n")
	for i, name := range []string{"demo:small", "demo:large"} {
		var got map[string]any
		if err := json.Unmarshal([]byte(lines[i]), &got); err != nil || got["file"] != name {
			t.Fatalf("line %d: %v, file %v", i+1, err, got["file"])
		}
		delete(got, "file")
		_, alone, _ := earline("audit", "--json", name)
		var want map[string]any
		if err := json.Unmarshal([]byte(alone), &want); err != nil {
			t.Fatal(err)
		}
		a, _ := json.Marshal(got)
		b, _ := json.Marshal(want)
		if !bytes.Equal(a, b) {
			t.Errorf("%s is answered otherwise alone", name)
		}
	}
}

// Quiet, the exit status alone answers; files are written all the same.
func TestQuietAnswersByItsStatus(t *testing.T) {
	name := filepath.Join(t.TempDir(), "lifted.earline")
	for line, want := range map[string]int{"audit demo:small -q": statusFine, "audit demo:large --quiet": statusShort, "sound demo:large -q": statusShort,
		"bass demo:small -q": statusShort, "bass demo:large -q": statusFine, "decay demo:small -q": statusShort, "solve demo:large lift -q -o " + name: statusShort, "audit -q demo:small demo:large": statusShort} {
		if status, out, errs := earline(strings.Fields(line)...); status != want || out+errs != "" {
			t.Errorf("%s: status %d, printed %q, said %q", line, status, out, errs)
		}
	}
	if _, err := file.Read(name); err != nil {
		t.Error(err)
	}
	if _, _, errs := earline("audit", "-q", "none.earline"); errs == "" {
		t.Error("quiet about what is wrong")
	}
}
