// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"earline/geometry"
	"earline/project/file"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
)

func stand(r *place.Room) *setout.List {
	l := &setout.List{Datum: setout.Datum{Height: 1, Assumed: true}}
	for i := range r.Speakers {
		sp := &r.Speakers[i]
		l.Items = append(l.Items, setout.Item{ID: sp.ID, Kind: setout.Speaker, Name: sp.Name(), Place: "x", Height: float64(sp.At.Z) - 1,
			Offsets: []setout.Offset{{From: "left wall", Distance: float64(sp.At.Y)}}, Tolerance: &setout.Tolerance{}})
	}
	_ = geometry.Vec{}
	return l
}

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
		r := place.Of(d)
		s := newSet(r, stand(r), Options{Paper: p})
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
