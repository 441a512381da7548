// SPDX-License-Identifier: MIT

package dxf_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
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
	Texts    []string     `json:"texts"`
	Inserts  [][3]float64 `json:"inserts"`
	Circles  [][3]float64 `json:"circles"`
	TextSize []float64    `json:"heights"`
}

// read has the library ezdxf read a file; the system's Python has it.
const reader = `
import json, sys
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
	if i := r.Inserts[0]; i != [3]float64{900, -2700, 345} {
		t.Errorf("the first chair is at %v", i)
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
