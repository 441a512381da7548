// SPDX-License-Identifier: MIT

// Package drawingtest holds sheets that tests of back ends write, and runs the programs
// that read them again.
package drawingtest

import (
	"fmt"
	"image/color"
	"os"
	"os/exec"
	"testing"

	"earline/scene/drawing"
)

// Signs are what drawings and names of other languages are written with.
const Signs = "± ° × Ø ½ ≥ ′ ″ 10½″ Łódź Кино"

// Sheets are four pages, of every paper, with a bar of 1 m at a scale and one of each
// kind of mark.
func Sheets() []drawing.Sheet {
	var out []drawing.Sheet
	ink, pt := color.NRGBA{A: 255}, drawing.Pt
	chair := &drawing.Block{Name: "CHAIR"}
	cb := drawing.OnPaper(&chair.Marks)
	cb.Lines(ink, 0.25, drawing.Solid, []drawing.Point{pt(-300, -300), pt(300, -300), pt(300, 300), pt(-300, 300), pt(-300, -300)})
	cb.Arc(ink, 0.25, drawing.Solid, drawing.Arc{Radius: 250, From: 0, Sweep: 180})
	for i, p := range drawing.Papers() {
		p = p.Landscape()
		per := float64([]int{50, 25, 50, 25}[i])
		v := drawing.View{Name: "Plan", Scale: 1 / per, Origin: pt(30, 40), Window: drawing.Rect(15, 15, p.Width-15, p.Height-50)}
		b := drawing.OnPaper(&v.Marks)
		b.Layer = "bar"
		b.Fill(ink, []drawing.Point{pt(0, 0), pt(1000, 0), pt(1000, 100), pt(0, 100)})
		b.Layer = "walls"
		outer := []drawing.Point{pt(0, 500), pt(4000, 500), pt(4000, 3500), pt(0, 3500), pt(0, 500)}
		inner := []drawing.Point{pt(200, 700), pt(3800, 700), pt(3800, 3300), pt(200, 3300), pt(200, 700)}
		b.Fill(color.NRGBA{R: 220, G: 220, B: 230, A: 255}, outer, inner)
		b.Lines(color.NRGBA{A: 255}, 0.13, drawing.Solid, drawing.Hatch(3*per, 45, outer, inner)...)
		b.Lines(ink, 0.5, drawing.Solid, outer, inner)
		b.Lines(color.NRGBA{B: 200, A: 255}, 0.25, drawing.DashDotted, []drawing.Point{pt(-300, 2000), pt(4300, 2000)})
		b.Layer = "words"
		b.Arc(color.NRGBA{R: 200, A: 128}, 0.35, drawing.Dashed, drawing.Circle(pt(2000, 2000), 800))
		for k := range 3 {
			v.Marks.Add(drawing.Insert{Layer: "seats", Block: chair, At: pt(900+900*float64(k), 2700), Turn: 15 * float64(k-1)})
		}
		d := drawing.Aligned(pt(0, 3500), pt(4000, 3500), -400)
		d.Layer, d.Ink = "dimensions", ink
		e := drawing.Aligned(pt(4000, 3500), pt(4000, 500), -400)
		e.Layer, e.Ink, e.Text = "dimensions", ink, "3000 ± 5"
		v.Marks.Add(d, e)
		s := drawing.Sheet{Number: "P-0" + string(rune('1'+i)), Title: "Plan " + p.Name + " (Кино)", Paper: p, Views: []drawing.View{v}}
		b = drawing.OnPaper(&s.Marks)
		b.Lines(ink, 0.7, drawing.Solid, []drawing.Point{pt(10, 10), pt(p.Width-10, 10), pt(p.Width-10, p.Height-10), pt(10, p.Height-10), pt(10, 10)})
		s.Marks.Add(
			drawing.Text{Layer: "words", Ink: ink, At: pt(p.Width-20, p.Height-20), Text: Signs, Size: 3.5, Anchor: drawing.End},
			drawing.Text{Layer: "words", Ink: ink, At: pt(p.Width/2, p.Height-30), Text: s.Title, Size: 5, Anchor: drawing.Middle, Bold: true},
			drawing.Text{Layer: "words", Ink: ink, At: pt(20, p.Height-20), Text: "upright (\\) 90°", Size: 3.5, Turn: 90},
		)
		s.Links = []drawing.Link{{Box: drawing.Rect(20, p.Height-30, 60, p.Height-20), To: "P-0" + string(rune('1'+(i+1)%4))}}
		out = append(out, s)
	}
	return out
}

// Run runs a program that `make test-deps` installs and returns what it printed. Where
// it is not installed the test is skipped, but fails if EARLINE_NO_SKIP is set.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		missing(t, err)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// Has is like Run for a library of a program: the command succeeds where it is
// installed.
func Has(t testing.TB, name string, args ...string) {
	t.Helper()
	if err := exec.Command(name, args...).Run(); err != nil {
		missing(t, fmt.Errorf("%s %q: %w", name, args, err))
	}
}

func missing(t testing.TB, err error) {
	t.Helper()
	if os.Getenv("EARLINE_NO_SKIP") != "" {
		t.Fatalf("%v: make test-deps installs it", err)
	}
	t.Skip(err)
}
