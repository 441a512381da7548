// SPDX-License-Identifier: MIT

package pdf_test

import (
	"bytes"
	"image/color"
	"testing"
	"time"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
	"earline/scene/drawing/pdf"
)

var ink = color.NRGBA{A: 255}

var info = pdf.Info{Title: "Set-out Łódź", Creator: "Earline", Made: time.Date(2026, 11, 29, 8, 0, 0, 0, time.UTC)}

func written(t testing.TB, info pdf.Info, s []drawing.Sheet) ([]byte, []rune) {
	t.Helper()
	var b bytes.Buffer
	lacking, err := pdf.Write(&b, s, info, drawing.NewTypeface(nil))
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), lacking
}

// The same sheets of the same date are the same bytes.
func TestReproducible(t *testing.T) {
	a, lacking := written(t, info, drawingtest.Sheets())
	b, _ := written(t, info, drawingtest.Sheets())
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	if len(lacking) > 0 {
		t.Errorf("no font has %q", lacking)
	}
	undated, _ := written(t, pdf.Info{}, drawingtest.Sheets())
	if bytes.Contains(undated, []byte("Date")) {
		t.Error("says a date where none was given")
	}
}

// Whatever people write, the document stays one: nothing ends a string, a name or a
// page of it.
func FuzzText(f *testing.F) {
	f.Add("plan", "walls", "(\\) Tj ET Q endstream")
	f.Add("\xff\xfe", "a/b c#<>", "\r\n)\\")
	f.Add("日", "😀", "\ud7ff\u202e\x00")
	plain, _ := written(f, pdf.Info{}, []drawing.Sheet{one("a", "b", "c")})
	count := func(doc []byte, what string) int { return bytes.Count(doc, []byte(what)) }
	f.Fuzz(func(t *testing.T, title, layer, text string) {
		if len(title)+len(layer)+len(text) > 200 {
			return
		}
		doc, _ := written(t, pdf.Info{Title: title}, []drawing.Sheet{one(title, layer, text)})
		// The same objects, but for layers and fonts, of which there may be none.
		if got, want := count(doc, "/Type /Page\n")+count(doc, "trailer"), count(plain, "/Type /Page\n")+count(plain, "trailer"); got != want {
			t.Errorf("%d pages and trailers, want %d", got, want)
		}
		if depth := strung(doc); depth != 0 {
			t.Errorf("strings are open %d deep at the end", depth)
		}
	})
}

// one is a sheet with that on it.
func one(title, layer, text string) drawing.Sheet {
	s := drawing.Sheet{Number: "1", Title: title, Paper: drawing.Papers()[0]}
	s.Marks.Add(drawing.Text{Layer: layer, Ink: ink, At: drawing.Pt(10, 10), Text: text, Size: 3})
	return s
}

// strung returns how many brackets of strings are open at the end of a document,
// streams left out; below 0 where one was closed that was not open.
func strung(doc []byte) int {
	depth := 0
	for i := 0; i < len(doc); i++ {
		switch {
		case depth == 0 && bytes.HasPrefix(doc[i:], []byte("stream\n")):
			end := bytes.Index(doc[i:], []byte("endstream"))
			if end < 0 {
				return -1
			}
			i += end + len("endstream")
		case doc[i] == '\\':
			i++
		case doc[i] == '(':
			depth++
		case doc[i] == ')':
			if depth--; depth < 0 {
				return depth
			}
		}
	}
	return depth
}

// Twelve sheets of two thousand marks each.
func BenchmarkTwelveSheets(b *testing.B) {
	var sheets []drawing.Sheet
	for n := range 12 {
		v := drawing.View{Name: "Plan", Scale: 0.04, Origin: drawing.Pt(20, 20)}
		for i := range 2000 {
			p := drawing.Pt(float64(i%50)*150, float64(i/50)*120)
			switch i % 4 {
			case 0:
				v.Marks.Add(drawing.Text{Layer: "words", Ink: ink, At: p, Text: "4000 ± 5", Size: 2.5})
			case 1:
				v.Marks.Add(drawing.Curve{Layer: "arcs", Pen: drawing.Pen{Ink: ink, Width: 0.25}, Arc: drawing.Circle(p, 50)})
			default:
				v.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: ink, Width: 0.35}, Lines: [][]drawing.Point{{p, drawing.Pt(p.X+100, p.Y+50)}}})
			}
		}
		a3, _ := drawing.PaperNamed("A3")
		sheets = append(sheets, drawing.Sheet{Number: string(rune('A' + n)), Paper: a3.Landscape(), Views: []drawing.View{v}})
	}
	for b.Loop() {
		written(b, info, sheets)
	}
}

// For tools/export-check.sh, which names a folder.
func TestKeptForAProgram(t *testing.T) {
	doc, _ := written(t, info, drawingtest.Sheets())
	drawingtest.Keep(t, "sheets.pdf", doc)
}
