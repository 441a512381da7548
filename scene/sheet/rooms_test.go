// SPDX-License-Identifier: MIT

package sheet

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
)

// rooms returns the demos and the rooms that are kept for tests, by name.
func rooms(t testing.TB) map[string]*project.Design {
	t.Helper()
	out := map[string]*project.Design{}
	for _, folder := range []string{"../../assets/demos", "../../testdata/rooms"} {
		files, err := filepath.Glob(folder + "/*.earline")
		if err != nil || len(files) == 0 {
			t.Fatalf("no rooms in %s: %v", folder, err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			d, err := file.Decode(data, f)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(f)] = d
		}
	}
	return out
}

// compose returns the sheets of a design, and how they were made.
func compose(t testing.TB, d *project.Design, paper string) (*set, []drawing.Sheet) {
	t.Helper()
	r := sight.Audit(d)
	list, err := setout.Of(context.Background(), r, practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	p, ok := drawing.PaperNamed(paper)
	if !ok {
		t.Fatalf("no paper %s", paper)
	}
	s := newSet(&r.Room, list, Options{Paper: p, File: "room.earline", Fingerprint: "0123456789ab"})
	return s, s.sheets()
}

// TestKeptToLookAt keeps the sheets of every room as PDF in the folder that is named, on
// the paper that is named, for who wants to see them.
func TestKeptToLookAt(t *testing.T) {
	dir, paper := os.Getenv("EARLINE_SHEETS"), os.Getenv("EARLINE_PAPER")
	if dir == "" {
		return
	}
	if paper == "" {
		paper = "A3"
	}
	for name, d := range rooms(t) {
		s, sheets := compose(t, d, paper)
		out, err := os.Create(filepath.Join(dir, name+".pdf"))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pdf.Write(out, sheets, pdf.Info{Title: d.Name}, s.face); err != nil {
			t.Error(err)
		}
		if err := out.Close(); err != nil {
			t.Error(err)
		}
	}
}

// The budget is 150 ms for the set-out of the large demo as PDF.
func BenchmarkLargeDemoAsPDF(b *testing.B) {
	d := rooms(b)["large.earline"]
	r := sight.Audit(d)
	list, err := setout.Of(context.Background(), r, practice.Standard{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		face := drawing.NewTypeface(nil)
		sheets := Of(&r.Room, list, Options{Typeface: face})
		if _, err := pdf.Write(discard{}, sheets, pdf.Info{}, face); err != nil {
			b.Fatal(err)
		}
	}
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }
