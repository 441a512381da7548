// SPDX-License-Identifier: MIT

package sheet

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"earline/project/file"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
)

func TestDraw(t *testing.T) {
	dir := os.Getenv("EARLINE_SHEETS")
	if dir == "" {
		t.Skip()
	}
	files, _ := filepath.Glob("../../assets/demos/*.earline")
	more, _ := filepath.Glob("../../testdata/rooms/*.earline")
	for _, f := range append(files, more...) {
		data, _ := os.ReadFile(f)
		d, err := file.Decode(data, f)
		if err != nil {
			t.Fatal(err)
		}
		d.Identify()
		p, _ := drawing.PaperNamed("A3")
		if os.Getenv("PAPER") != "" {
			p, _ = drawing.PaperNamed(os.Getenv("PAPER"))
		}
		r := sight.Audit(d)
		list, err := setout.Of(context.Background(), r, practice.Standard{})
		if err != nil {
			t.Fatal(err)
		}
		s := newSet(&r.Room, list, Options{Paper: p, File: filepath.Base(f), Fingerprint: "0123456789ab"})
		sheets := s.sheets()
		fmt.Println(filepath.Base(f), len(sheets), "lost", s.lost)
		for i := range sheets {
			fmt.Println("  ", sheets[i].Number, sheets[i].Title, s.pages[i].scale.Name)
		}
		if err := drawing.Check(sheets); err != nil {
			t.Error(err)
		}
		out, _ := os.Create(filepath.Join(dir, filepath.Base(f)+".pdf"))
		if _, err := pdf.Write(out, sheets, pdf.Info{Title: d.Name}, s.face); err != nil {
			t.Error(err)
		}
		out.Close()
	}
}
