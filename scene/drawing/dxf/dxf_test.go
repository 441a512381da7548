// SPDX-License-Identifier: MIT

package dxf_test

import (
	"bytes"
	"encoding/json"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
	"earline/scene/drawing/dxf"
)

func written(t testing.TB, sheets []drawing.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := dxf.Write(&b, sheets, drawing.NewTypeface(nil)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// report is what another program reads out of a file.
type report struct {
	Errors     []string       `json:"errors"`
	Fixes      []string       `json:"fixes"`
	Version    string         `json:"version"`
	Units      int            `json:"units"`
	Layers     []string       `json:"layers"`
	LineTypes  []string       `json:"linetypes"`
	Blocks     []string       `json:"blocks"`
	Kinds      map[string]int `json:"kinds"`
	Dimensions []struct {
		Measure float64 `json:"measure"`
		Text    string  `json:"text"`
		Block   bool    `json:"block"`
	} `json:"dimensions"`
	Texts   []string     `json:"texts"`
	Inserts [][3]float64 `json:"inserts"`
	Circles [][3]float64 `json:"circles"`
	Heights []float64    `json:"heights"`
	Colours [][3]int     `json:"colours"`
}

// read has the library ezdxf read a file; the system's Python has it.
const reader = `
import json, sys
from ezdxf import colors
from ezdxf import recover
doc, audit = recover.readfile(sys.argv[1])
m = doc.modelspace()
kinds = {}
for e in m:
    kinds[e.dxftype()] = kinds.get(e.dxftype(), 0) + 1
print(json.dumps({
    "errors": [e.message for e in audit.errors], "fixes": [e.message for e in audit.fixes],
    "version": doc.dxfversion, "units": doc.header.get("$INSUNITS"),
    "layers": sorted(l.dxf.name for l in doc.layers), "linetypes": sorted(l.dxf.name for l in doc.linetypes),
    "blocks": sorted(b.name for b in doc.blocks if not b.name.startswith(("*", "_"))), "kinds": kinds,
    "dimensions": [{"measure": d.get_measurement(), "text": d.dxf.text, "block": len(list(d.virtual_entities())) > 0} for d in m.query("DIMENSION")],
    "texts": [t.plain_text() for t in m.query("TEXT")], "heights": [t.dxf.height for t in m.query("TEXT")],
    "inserts": [[i.dxf.insert.x, i.dxf.insert.y, i.dxf.rotation] for i in m.query("INSERT")],
    "colours": [list(colors.int2rgb(colors.DXF_DEFAULT_COLORS[l.dxf.color if l.dxf.color < 256 else doc.layers.get(l.dxf.layer).color])) for l in m.query("LINE")],
    "circles": [[c.dxf.center.x, c.dxf.center.y, c.dxf.radius] for c in m.query("CIRCLE")],
}))
`

func read(t testing.TB, doc []byte) report {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.dxf")
	if err := os.WriteFile(name, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	drawingtest.Has(t, "/usr/bin/python3", "-c", "import ezdxf")
	var r report
	if err := json.Unmarshal([]byte(drawingtest.Run(t, "/usr/bin/python3", "-c", reader, name)), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// Another program reads full size in millimetres, layers, line types, dimensions that
// measure, symbols that are inserted, and text in any language.
func TestReadByAnother(t *testing.T) {
	sheets := drawingtest.Sheets()[:2] // at 1:50 and 1:25
	sheets[1].Links = nil
	r := read(t, written(t, sheets))
	// The one thing that ezdxf 0.18.1 mends is what its own reader makes of the end of a
	// polyline in a block: release 12 has no owners that could be wrong.
	if len(r.Errors) > 0 || len(r.Fixes) > 1 || len(r.Fixes) == 1 && !strings.Contains(r.Fixes[0], "Deleted SEQEND") {
		t.Errorf("errors %q, mended %q", r.Errors, r.Fixes)
	}
	if r.Version != "AC1009" || r.Units != 4 {
		t.Errorf("version %s, units %d (4 are millimetres)", r.Version, r.Units)
	}
	for _, want := range []string{"BAR", "WALLS", "WORDS", "SEATS", "DIMENSIONS", "VIEW-NAMES"} {
		if !slices.Contains(r.Layers, want) {
			t.Errorf("no layer %s in %q", want, r.Layers)
		}
	}
	for _, want := range []string{"CENTER", "CENTER_2", "DASHED", "DASHED_2"} { // one for each scale
		if !slices.Contains(r.LineTypes, want) {
			t.Errorf("no line type %s in %q", want, r.LineTypes)
		}
	}
	if diff := cmp.Diff([]string{"CHAIR"}, r.Blocks); diff != "" {
		t.Errorf("blocks: -want +got\n%s", diff)
	}
	if len(r.Dimensions) != 4 {
		t.Fatalf("%d dimensions, want 4", len(r.Dimensions))
	}
	for i, want := range []struct {
		measure float64
		text    string
	}{{4000, "4000"}, {3000, "3000 ± 5"}, {4000, "4000"}, {3000, "3000 ± 5"}} {
		d := r.Dimensions[i]
		if math.Abs(d.Measure-want.measure) > 1e-3 || d.Text != want.text || !d.Block {
			t.Errorf("dimension %d is %+v, want %v with a picture", i, d, want)
		}
	}
	if want := []string{"P-01 Plan 1:50", "P-02 Plan 1:25"}; !cmp.Equal(r.Texts, want) {
		t.Errorf("texts %q, want %q", r.Texts, want)
	}
	if c := r.Circles[0]; c != [3]float64{2000, -2000, 800} {
		t.Errorf("circle at %v", c)
	}
	if r.Circles[1][0] < 2000+4000+300 || r.Circles[1][1] != -2000 {
		t.Errorf("the second view lies over the first: %v", r.Circles)
	}
	if h := r.Heights[0]; math.Abs(h-5*50*0.722) > 1 { // the H of the Go font is 0.722 of its size high
		t.Errorf("words are %v mm high", h)
	}
	if i := r.Inserts[0]; i != [3]float64{900, -2700, 345} {
		t.Errorf("the first chair is at %v", i)
	}
}

// What is broken since it is overhead was drawn solid by a program that breaks single
// lines only. A curve stays one line, on which the pattern runs on.
func TestBrokenLinesAreBrokenEverywhere(t *testing.T) {
	v := drawing.View{Name: "Plan", Scale: 0.02}
	b := drawing.OnPaper(&v.Marks)
	b.Layer = "overhead"
	b.Lines(color.NRGBA{A: 255}, 0.25, drawing.Dashed, []drawing.Point{{}, drawing.Pt(900, 0), drawing.Pt(900, 900), {}})
	b.Lines(color.NRGBA{A: 255}, 0.25, drawing.Dashed, drawing.Circle(drawing.Pt(0, 0), 500).Points(1))
	b.Lines(color.NRGBA{A: 255}, 0.25, drawing.Solid, []drawing.Point{{}, drawing.Pt(900, 0), drawing.Pt(900, 900), {}})
	r := read(t, written(t, []drawing.Sheet{{Paper: drawing.Papers()[0], Views: []drawing.View{v}}}))
	if diff := cmp.Diff(map[string]int{"LINE": 3, "POLYLINE": 2, "TEXT": 1}, r.Kinds); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// Colours come out as they were drawn, or as the nearest of a fixed palette; black is
// what stands out from the paper.
func TestColours(t *testing.T) {
	v := drawing.View{Name: "Plan", Scale: 0.02}
	var want [][3]int
	for _, c := range [][2]color.NRGBA{
		{{R: 255, A: 255}, {R: 255}},
		{{R: 250, G: 130, B: 5, A: 255}, {R: 255, G: 127}},
		{{G: 120, A: 255}, {G: 127}},
		{{R: 130, A: 128}, {R: 127}},
		{{B: 120, A: 255}, {B: 127}},
		{{R: 120, G: 125, B: 130, A: 255}, {R: 128, G: 128, B: 128}},
		{{R: 20, G: 20, B: 20, A: 255}, {R: 255, G: 255, B: 255}},
	} {
		v.Marks.Add(drawing.Lines{Layer: "walls", Pen: drawing.Pen{Ink: c[0]}, Lines: [][]drawing.Point{{{}, drawing.Pt(1, 1)}}})
		want = append(want, [3]int{int(c[1].R), int(c[1].G), int(c[1].B)})
	}
	r := read(t, written(t, []drawing.Sheet{{Paper: drawing.Papers()[0], Views: []drawing.View{v}}}))
	if diff := cmp.Diff(want, r.Colours); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// What people write stays one text on one layer, whatever they write.
func TestTextsAndLayersAsWritten(t *testing.T) {
	texts := []string{drawingtest.Signs, "a\r\n  0\r\nLINE", "100 %", `\U+0041 \P {\b`, "%%d%%u", "caret ^J", "日本語 العربية", ""}
	v := drawing.View{Name: "Ansicht ä", Scale: 0.02}
	for i, s := range texts {
		v.Marks.Add(drawing.Text{Layer: "walls\n  0\n" + s, Text: s, Size: 3, At: drawing.Pt(0, float64(100*i)), Anchor: drawing.Middle})
	}
	r := read(t, written(t, []drawing.Sheet{{Number: "Ø1", Paper: drawing.Papers()[0], Views: []drawing.View{v}}}))
	if len(r.Errors)+len(r.Fixes) > 0 {
		t.Errorf("errors %q, mended %q", r.Errors, r.Fixes)
	}
	want := []string{drawingtest.Signs, "a    0  LINE", "100 %", `\U+0041 \P {\b`, "% %d% %u", "caret ^J", "日本語 العربية", "", "Ø1 Ansicht ä 1:50"}
	if diff := cmp.Diff(want, r.Texts); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if n := r.Kinds["TEXT"]; n != len(want) || len(r.Kinds) != 1 {
		t.Errorf("found %v", r.Kinds)
	}
	if len(r.Layers) < len(texts)+2 {
		t.Errorf("layers fell together: %q", r.Layers)
	}
}

// Whatever people write, a file stays pairs of a code and a value, with the entities
// that were drawn and no more.
func FuzzText(f *testing.F) {
	f.Add("Plan", "walls", "4000 ± 5", "CHAIR")
	f.Add("a\r\n  0\r\nEOF", "\n  0\nENDSEC\n", "\r  0\rLINE\u2028x\u0085y", "*D1")
	f.Fuzz(func(t *testing.T, view, layer, text, block string) {
		s := drawing.Sheet{Number: text, Paper: drawing.Papers()[0]}
		v := drawing.View{Name: view, Scale: 0.02}
		d := drawing.Aligned(drawing.Pt(0, 0), drawing.Pt(500, 0), 100)
		d.Layer, d.Text = layer, text
		v.Marks.Add(
			drawing.Text{Layer: layer, Text: text, Size: 3}, d,
			drawing.Insert{Layer: layer, Block: &drawing.Block{Name: block, Marks: drawing.Marks{drawing.Text{Text: text, Size: 2}}}},
		)
		s.Views = []drawing.View{v}
		kinds := map[string]int{}
		lines := strings.Split(strings.TrimSuffix(string(written(t, []drawing.Sheet{s})), "\r\n"), "\r\n")
		if len(lines)%2 != 0 {
			t.Fatalf("%d lines", len(lines))
		}
		for i := 0; i < len(lines); i += 2 {
			if _, err := strconv.Atoi(strings.TrimSpace(lines[i])); err != nil || strings.ContainsAny(lines[i+1], "\r\n\u2028\u0085") {
				t.Fatalf("line %d: %q, %q", i, lines[i], lines[i+1])
			}
			if strings.TrimSpace(lines[i]) == "0" {
				kinds[lines[i+1]]++
			}
		}
		// Words: the label, in the block, of the view, in the dimension's picture.
		want := map[string]int{"TEXT": 4, "DIMENSION": 1, "INSERT": 1, "BLOCK": 2, "ENDBLK": 2, "SECTION": 4, "ENDSEC": 4, "EOF": 1}
		for kind, n := range want {
			if kinds[kind] != n {
				t.Errorf("%d of %s, want %d", kinds[kind], kind, n)
			}
		}
	})
}

// Rings in rings are cut into pieces that make up their area.
func TestSolidsMakeUpTheArea(t *testing.T) {
	v := drawing.View{Name: "Plan", Scale: 0.02}
	ring := func(r float64) (out []drawing.Point) {
		return drawing.Circle(drawing.Pt(0, 0), r).Points(1)
	}
	v.Marks.Add(drawing.Area{Rings: [][]drawing.Point{ring(1000), ring(500)}, Ink: color.NRGBA{R: 128, G: 128, B: 128, A: 255}},
		drawing.Area{Rings: [][]drawing.Point{ring(900)}, Ink: color.NRGBA{R: 255, G: 255, B: 255, A: 255}}) // hides only
	doc := written(t, []drawing.Sheet{{Paper: drawing.Papers()[0], Views: []drawing.View{v}}})
	lines := strings.Split(string(doc), "\r\n")
	sum := 0.0
	for i := 0; i+1 < len(lines); i += 2 {
		if lines[i] != "  0" || lines[i+1] != "SOLID" {
			continue
		}
		var x, y [4]float64
		for k := i + 2; lines[k] != "  0"; k += 2 {
			code, _ := strconv.Atoi(strings.TrimSpace(lines[k]))
			n, err := strconv.ParseFloat(lines[k+1], 64)
			switch {
			case code >= 10 && code < 14 && err == nil:
				x[code-10] = n
			case code >= 20 && code < 24 && err == nil:
				y[code-20] = n
			}
		}
		for _, side := range [][2]int{{0, 1}, {1, 3}, {3, 2}, {2, 0}} {
			a, b := side[0], side[1]
			sum += (x[a]*y[b] - x[b]*y[a]) / 2
		}
	}
	if want := math.Pi * (1000*1000 - 500*500); math.Abs(math.Abs(sum)-want) > 0.01*want {
		t.Errorf("solids cover %v mm², want %v", sum, want)
	}
}

// For tools/export-check.sh, which names a folder.
func TestKeptForAProgram(t *testing.T) {
	drawingtest.Keep(t, "views.dxf", written(t, drawingtest.Sheets()))
}
