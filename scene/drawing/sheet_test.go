// SPDX-License-Identifier: MIT

package drawing_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
)

func face() *drawing.Typeface { return drawing.NewTypeface(nil) }

var closely = cmpopts.EquateApprox(0, 1e-9)

// What is drawn on marks and then from them is the same drawing.
func TestMarksAreACanvas(t *testing.T) {
	var marks drawing.Marks
	var want, got recorder
	for _, c := range []drawing.Canvas{&marks, &want} {
		c.Fill("walls", ink, []drawing.Point{drawing.Pt(0, 0), drawing.Pt(9, 0), drawing.Pt(9, 9)}, []drawing.Point{drawing.Pt(4, 1), drawing.Pt(5, 1), drawing.Pt(5, 2)})
		c.Stroke("walls", drawing.Pen{Ink: ink, Width: 0.5, Dash: []float64{2, 1}}, [][]drawing.Point{{drawing.Pt(0, 0), drawing.Pt(7, 7)}})
		c.Arc("arcs", drawing.Pen{Ink: ink, Width: 0.5, Dash: []float64{}}, drawing.Arc{Centre: drawing.Pt(1, 2), Radius: 3, From: 45, Sweep: -90})
		l := drawing.Label{X: 10, Y: 20, Text: "Mitte", Size: 3, Anchor: drawing.Middle, Turn: 30, Bold: true}
		l.Width = face().Bold().Width(l.Text, l.Size)
		c.Text("words", ink, l)
	}
	marks.Draw(&got, drawing.Pt(0, 0), 1, face())
	if diff := cmp.Diff(want.parts, got.parts, closely, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// At any scale places and radii are scaled, pens and type are not; an inserted block
// lies as it is turned, on the layer of the insert.
func TestViewsScalePlacesOnly(t *testing.T) {
	block := &drawing.Block{Name: "CHAIR", Marks: drawing.Marks{
		drawing.Lines{Pen: drawing.Pen{Ink: ink, Width: 0.25}, Lines: [][]drawing.Point{{drawing.Pt(0, 0), drawing.Pt(500, 0)}}},
		drawing.Text{Layer: "words", Ink: ink, At: drawing.Pt(0, -100), Text: "A1", Size: 2.5},
	}}
	v := drawing.View{Scale: 0.02, Origin: drawing.Pt(100, 50)}
	v.Marks.Add(
		drawing.Insert{Layer: "seats", Block: block, At: drawing.Pt(1000, 2000), Turn: 90},
		drawing.Curve{Pen: drawing.Pen{Ink: ink, Width: 0.35}, Arc: drawing.Circle(drawing.Pt(0, 0), 500)},
	)
	s := drawing.Sheet{Views: []drawing.View{v}}
	var got recorder
	s.Draw(&got, face())
	want := []part{
		{Layer: "seats", Pen: drawing.Pen{Ink: ink, Width: 0.25}, Lines: [][]drawing.Point{{drawing.Pt(120, 90), drawing.Pt(120, 80)}}},
		{Layer: "words", Ink: ink, Label: drawing.Label{X: 118, Y: 90, Text: "A1", Size: 2.5, Width: face().Width("A1", 2.5), Turn: 90}},
		{Pen: drawing.Pen{Ink: ink, Width: 0.35}, Arc: drawing.Circle(drawing.Pt(100, 50), 10)},
	}
	if diff := cmp.Diff(want, got.parts, closely, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if p := v.OnPaper(drawing.Pt(1000, 2000)); p != drawing.Pt(120, 90) {
		t.Errorf("on the paper at %v", p)
	}
}

// A dimension measures along its line, however its points lie, and its text is never
// upside down nor narrower than its place.
func TestDimensions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) drawing.Point {
			return drawing.Pt(rapid.Float64Range(-5000, 5000).Draw(t, name), rapid.Float64Range(-5000, 5000).Draw(t, name))
		}
		a, b, off := at("a"), at("b"), rapid.Float64Range(-800, 800).Draw(t, "off")
		d := drawing.Aligned(a, b, off)
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		if math.Abs(d.Measure()-long) > 1e-6 {
			t.Fatalf("measures %v, want %v", d.Measure(), long)
		}
		p, q := d.Ends()
		if math.Abs(math.Hypot(p.X-a.X, p.Y-a.Y)-math.Abs(off)) > 1e-6 {
			t.Fatalf("the line is %v off", math.Hypot(p.X-a.X, p.Y-a.Y))
		}
		level := drawing.Dimension{A: a, B: b, Line: drawing.Pt(0, 9000)}
		if math.Abs(level.Measure()-math.Abs(b.X-a.X)) > 1e-6 {
			t.Fatalf("level measure %v, want %v", level.Measure(), math.Abs(b.X-a.X))
		}
		marks := d.Picture(0.02, face())
		x := marks[1].(drawing.Text)
		if x.Turn > 90+1e-6 || x.Turn <= -90 || x.Text != d.Words() {
			t.Fatalf("text %q turned by %v", x.Text, x.Turn)
		}
		line := marks[0].(drawing.Lines).Lines[0]
		if line[0] != p || math.Hypot(line[1].X-p.X, line[1].Y-p.Y) < math.Hypot(q.X-p.X, q.Y-p.Y)-1e-6 {
			t.Fatalf("the line runs from %v to %v, not from %v to %v", line[0], line[1], p, q)
		}
	})
	// To the left of the way, as one sees it: above a line from left to right.
	if d := drawing.Aligned(drawing.Pt(0, 0), drawing.Pt(100, 0), 30); math.Abs(d.Line.Y+30) > 1e-9 || d.Words() != "100" {
		t.Errorf("at %v, %q", d.Line, d.Words())
	}
}

// The points of an arc lie on it, closer together than asked for.
func TestArcsAsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawing.Arc{Centre: drawing.Pt(7, -3), Radius: rapid.Float64Range(0.5, 5000).Draw(t, "r"),
			From: rapid.Float64Range(-400, 400).Draw(t, "from"), Sweep: rapid.Float64Range(-400, 400).Draw(t, "sweep")}
		const within = 0.5
		l := a.Points(within)
		for i, p := range l {
			if r := math.Hypot(p.X-7, p.Y+3); math.Abs(r-a.Radius) > 1e-6 {
				t.Fatalf("%v from the centre, want %v", r, a.Radius)
			}
			if i > 0 {
				m := math.Hypot((p.X+l[i-1].X)/2-7, (p.Y+l[i-1].Y)/2+3)
				if a.Radius-m > within+1e-9 {
					t.Fatalf("a chord is %v off", a.Radius-m)
				}
			}
		}
	})
	// Anticlockwise as one sees it: from the right upwards.
	l := drawing.Arc{Radius: 10, Sweep: 90}.Points(0.1)
	if end := l[len(l)-1]; math.Abs(end.X) > 1e-9 || math.Abs(end.Y+10) > 1e-9 {
		t.Errorf("a quarter ends at %v", end)
	}
}

// Hatching covers a room with a column in it, at any turn: its length is the area over
// the pitch, and none is in the column.
func TestHatchOfRings(t *testing.T) {
	room := []drawing.Point{drawing.Pt(0, 0), drawing.Pt(400, 0), drawing.Pt(400, 300), drawing.Pt(0, 300)}
	column := []drawing.Point{drawing.Pt(100, 100), drawing.Pt(200, 100), drawing.Pt(200, 200), drawing.Pt(100, 200)}
	rapid.Check(t, func(t *rapid.T) {
		const pitch = 2
		long := 0.0
		for _, l := range drawing.Hatch(pitch, rapid.Float64Range(-360, 360).Draw(t, "turn"), room, column) {
			long += math.Hypot(l[1].X-l[0].X, l[1].Y-l[0].Y)
			if m := drawing.Pt((l[0].X+l[1].X)/2, (l[0].Y+l[1].Y)/2); m.X > 101 && m.X < 199 && m.Y > 101 && m.Y < 199 {
				t.Fatalf("%v is in the column", m)
			}
		}
		if want := 400.0*300 - 100*100; math.Abs(long*pitch-want) > 0.02*want {
			t.Fatalf("covers %v, want %v", long*pitch, want)
		}
	})
	for _, pitch := range []float64{0, -1, math.NaN(), 1e-9} {
		if l := drawing.Hatch(pitch, 45, room); l != nil {
			t.Errorf("pitch %v gives %d lines", pitch, len(l))
		}
	}
}

// What is clipped stays in the window: arcs that reach beyond as lines, words that lie
// outside not at all.
func TestWindow(t *testing.T) {
	var r recorder
	c := drawing.Clipped(&r, drawing.Rect(0, 0, 100, 100))
	pen := drawing.Pen{Ink: ink, Width: 0.5}
	c.Arc("", pen, drawing.Circle(drawing.Pt(50, 50), 20))
	c.Arc("", pen, drawing.Circle(drawing.Pt(100, 50), 20))
	c.Arc("", pen, drawing.Circle(drawing.Pt(500, 50), 20))
	c.Text("", ink, drawing.Label{X: -5, Y: 50, Text: "half in", Size: 3, Width: 10})
	c.Text("", ink, drawing.Label{X: -15, Y: 50, Text: "out", Size: 3, Width: 10})
	c.Text("", ink, drawing.Label{X: 50, Y: 105, Text: "in, upwards", Size: 3, Width: 10, Turn: 90})
	c.Fill("", ink, []drawing.Point{drawing.Pt(200, 200), drawing.Pt(300, 200), drawing.Pt(300, 300)})
	if len(r.parts) != 4 {
		t.Fatalf("%d parts are left: %+v", len(r.parts), r.parts)
	}
	if r.parts[0].Arc.Radius != 20 || len(r.parts[1].Lines) == 0 || r.parts[2].Label.Text != "half in" || r.parts[3].Label.Text != "in, upwards" {
		t.Errorf("left: %+v", r.parts)
	}
	for _, l := range r.parts[1].Lines {
		for _, p := range l {
			if p.X > 100+1e-9 {
				t.Errorf("%v is outside", p)
			}
		}
	}
}

func TestBounds(t *testing.T) {
	var m drawing.Marks
	if _, ok := m.Bounds(1, face()); ok {
		t.Error("nothing has bounds")
	}
	m.Add(drawing.Curve{Arc: drawing.Circle(drawing.Pt(1000, 0), 500)}, drawing.Text{Text: "x", Size: 5, At: drawing.Pt(0, 0), Anchor: drawing.End})
	b, ok := m.Bounds(0.02, face())
	w := face().Width("x", 5) / 0.02
	if want := drawing.Rect(-w, -500, 1500, 500); !ok || math.Abs(b.X0-want.X0) > 1e-6 || math.Abs(b.X1-want.X1) > 1 || math.Abs(b.Y0-want.Y0) > 1 {
		t.Errorf("bounds %v, want %v", b, want)
	}
}

// Sheets that no file could hold are refused in one line that says what and where.
func TestCheck(t *testing.T) {
	if err := drawing.Check(drawingtest.Sheets()); err != nil {
		t.Fatal(err)
	}
	loop := &drawing.Block{Name: "LOOP"}
	loop.Marks.Add(drawing.Insert{Block: loop})
	for want, spoil := range map[string]func(s *drawing.Sheet){
		"two sheets numbered":          func(s *drawing.Sheet) { s.Number = "P-02" },
		"found paper of 0 by":          func(s *drawing.Sheet) { s.Paper = drawing.Paper{} },
		"found scale 0":                func(s *drawing.Sheet) { s.Views[0].Scale = 0 },
		"found scale NaN":              func(s *drawing.Sheet) { s.Views[0].Scale = math.NaN() },
		"which there is not":           func(s *drawing.Sheet) { s.Links[0].To = "X" },
		"no length":                    func(s *drawing.Sheet) { s.Views[0].Origin.X = math.Inf(1) },
		"LOOP":                         func(s *drawing.Sheet) { s.Marks.Add(drawing.Insert{Block: loop}) },
		"drawing.Text without a place": func(s *drawing.Sheet) { s.Marks.Add(drawing.Text{At: drawing.Pt(math.NaN(), 0)}) },
		"of no size":                   func(s *drawing.Sheet) { s.Marks.Add(drawing.Insert{}) },
		"drawing.Lines without":        func(s *drawing.Sheet) { s.Marks.Add(drawing.Lines{Pen: drawing.Pen{Dash: []float64{0, 0}}}) },
	} {
		s := drawingtest.Sheets()
		spoil(&s[0])
		if err := drawing.Check(s); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") || len(err.Error()) > 300 {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// The sizes that a reader of drawings knows.
func TestPapers(t *testing.T) {
	a3, ok := drawing.PaperNamed("A3")
	if l := a3.Landscape(); !ok || l.Width != 420 || l.Height != 297 || l.Portrait() != a3 {
		t.Errorf("A3 is %v", a3)
	}
	if _, ok := drawing.PaperNamed("A99"); ok {
		t.Error("there is no A99")
	}
	if _, same := drawing.Instead('日'); same {
		t.Error("? says as much as 日")
	}
}
