// SPDX-License-Identifier: MIT

package svg_test

import (
	"encoding/xml"
	"strings"
	"testing"

	"earline/scene/drawing"
	"earline/scene/drawing/svg"
)

// A view at 1:25 comes out in millimetres of the paper, cut at its window; pens and
// type are as large at every scale.
func TestSheetToScale(t *testing.T) {
	a3, _ := drawing.PaperNamed("A3")
	v := drawing.View{Scale: 1.0 / 25, Origin: drawing.Pt(50, 100), Window: drawing.Rect(40, 40, 300, 200)}
	b := drawing.OnPaper(&v.Marks)
	b.Layer = "walls"
	b.Lines(ink, 0.5, drawing.Solid, []drawing.Point{drawing.Pt(0, 0), drawing.Pt(10000, 0)})
	b.Arc(ink, 0.25, drawing.Solid, drawing.Circle(drawing.Pt(1000, 0), 500))
	b.Arc(ink, 0.25, drawing.Solid, drawing.Arc{Centre: drawing.Pt(1000, 0), Radius: 500, From: 0, Sweep: 90})
	v.Marks.Add(drawing.Text{Layer: "words", Ink: ink, At: drawing.Pt(0, 500), Text: "a <b>", Size: 2.5, Anchor: drawing.End, Bold: true, Turn: 90})
	s := drawing.Sheet{Number: "P-01", Title: "Plan", Paper: a3.Landscape(), Views: []drawing.View{v}}
	if err := drawing.Check([]drawing.Sheet{s}); err != nil {
		t.Fatal(err)
	}
	got := string(svg.Sheet(&s, drawing.NewTypeface(nil)))
	for _, want := range []string{
		`width="420mm" height="297mm"`, "<title>P-01 Plan</title>", `d="M50 100L300 100"`,
		`<circle cx="90" cy="100" r="20" fill="none"`, `d="M110 100A20 20 0 0 0 90 80"`,
		`<text x="50" text-anchor="end" y="120" font-size="2.5" font-weight="bold" transform="rotate(-90 50 120 )"`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
	if err := xml.Unmarshal([]byte(got), new(struct{})); err != nil {
		t.Error(err)
	}
}

// A room drawn round has four corners alike: where the line came back to its beginning
// the corner had a notch.
func TestClosedLinesHaveNoNotch(t *testing.T) {
	c := svg.New(svg.Page{Width: 10, Height: 10, Typeface: drawing.NewTypeface(nil)})
	c.Stroke("", drawing.Pen{Ink: ink, Width: 1}, [][]drawing.Point{{drawing.Pt(1, 1), drawing.Pt(9, 1), drawing.Pt(9, 9), drawing.Pt(1, 1)}})
	if got := string(c.Close()); !strings.Contains(got, `d="M1 1L9 1L9 9Z"`) {
		t.Error(got)
	}
}
