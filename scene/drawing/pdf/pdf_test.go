// SPDX-License-Identifier: MIT

package pdf_test

import (
	"bytes"
	"image/color"
	"testing"
	"time"

	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
)

var ink = color.NRGBA{A: 255}

// signs are what drawings and names of other languages are written with.
const signs = "± ° × Ø ½ ≥ ′ ″ 10½″ Łódź Кино"

// sheets are four pages, of every paper, with a bar of 1 m at a scale and one of each
// kind of mark.
func sheets() []drawing.Sheet {
	var out []drawing.Sheet
	chair := &drawing.Block{Name: "CHAIR"}
	cb := drawing.OnPaper(&chair.Marks)
	cb.Lines(ink, 0.25, drawing.Solid, []drawing.Point{{-300, -300}, {300, -300}, {300, 300}, {-300, 300}, {-300, -300}})
	cb.Arc(ink, 0.25, drawing.Solid, drawing.Arc{Radius: 250, From: 0, Sweep: 180})
	for i, p := range drawing.Papers() {
		p = p.Landscape()
		per := float64([]int{50, 25, 50, 25}[i])
		v := drawing.View{Name: "Plan", Scale: 1 / per, Origin: drawing.Pt(30, 40), Window: drawing.Rect(15, 15, p.Width-15, p.Height-50)}
		b := drawing.OnPaper(&v.Marks)
		b.Layer = "bar"
		b.Fill(ink, []drawing.Point{{0, 0}, {1000, 0}, {1000, 100}, {0, 100}})
		b.Layer = "walls"
		outer := []drawing.Point{{0, 500}, {4000, 500}, {4000, 3500}, {0, 3500}, {0, 500}}
		inner := []drawing.Point{{200, 700}, {3800, 700}, {3800, 3300}, {200, 3300}, {200, 700}}
		b.Fill(color.NRGBA{220, 220, 230, 255}, outer, inner)
		b.Lines(color.NRGBA{A: 255}, 0.13, drawing.Solid, drawing.Hatch(3*per, 45, outer, inner)...)
		b.Lines(ink, 0.5, drawing.Solid, outer, inner)
		b.Lines(color.NRGBA{B: 200, A: 255}, 0.25, drawing.DashDotted, []drawing.Point{{-300, 2000}, {4300, 2000}})
		b.Layer = "words"
		b.Arc(color.NRGBA{R: 200, A: 128}, 0.35, drawing.Dashed, drawing.Circle(drawing.Pt(2000, 2000), 800))
		for k := range 3 {
			v.Marks.Add(drawing.Insert{Layer: "seats", Block: chair, At: drawing.Pt(900+900*float64(k), 2700), Turn: 15 * float64(k-1)})
		}
		d := drawing.Aligned(drawing.Pt(0, 3500), drawing.Pt(4000, 3500), -400)
		d.Layer, d.Ink = "dimensions", ink
		e := drawing.Aligned(drawing.Pt(4000, 3500), drawing.Pt(4000, 500), -400)
		e.Layer, e.Ink, e.Text = "dimensions", ink, "3000 ± 5"
		v.Marks.Add(d, e)
		s := drawing.Sheet{Number: "P-0" + string(rune('1'+i)), Title: "Plan " + p.Name + " (Кино)", Paper: p, Views: []drawing.View{v}}
		b = drawing.OnPaper(&s.Marks)
		b.Lines(ink, 0.7, drawing.Solid, []drawing.Point{{10, 10}, {p.Width - 10, 10}, {p.Width - 10, p.Height - 10}, {10, p.Height - 10}, {10, 10}})
		s.Marks.Add(
			drawing.Text{Layer: "words", Ink: ink, At: drawing.Pt(p.Width-20, p.Height-20), Text: signs, Size: 3.5, Anchor: drawing.End},
			drawing.Text{Layer: "words", Ink: ink, At: drawing.Pt(p.Width/2, p.Height-30), Text: s.Title, Size: 5, Anchor: drawing.Middle, Bold: true},
			drawing.Text{Layer: "words", Ink: ink, At: drawing.Pt(20, p.Height-20), Text: "upright (\\) 90°", Size: 3.5, Turn: 90},
		)
		s.Links = []drawing.Link{{Box: drawing.Rect(20, p.Height-30, 60, p.Height-20), To: "P-0" + string(rune('1'+(i+1)%4))}}
		out = append(out, s)
	}
	return out
}

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
	a, lacking := written(t, info, sheets())
	b, _ := written(t, info, sheets())
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	if len(lacking) > 0 {
		t.Errorf("no font has %q", lacking)
	}
	undated, _ := written(t, pdf.Info{}, sheets())
	if bytes.Contains(undated, []byte("Date")) {
		t.Error("says a date where none was given")
	}
}
