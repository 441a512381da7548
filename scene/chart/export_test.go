// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/scene/drawing/drawingtest"
)

type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }

// wellFormed returns what is wrong with the SVG of d as XML.
func wellFormed(d *Layout) error {
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		return err
	}
	if s := b.String(); strings.Contains(s, "NaN") && !strings.Contains(d.chart.Title+d.chart.Note, "NaN") || strings.Contains(s, "+Inf") {
		return errors.New("the SVG has a number that is none")
	}
	dec := xml.NewDecoder(&b)
	for {
		_, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func TestSVGHoldsWhatIsWritten(t *testing.T) {
	c := bassChart()
	c.Title = `Bass <at> "seats" & ears`
	d := c.Layout(Paper{W: 950, H: 420, Style: Light()})
	if err := wellFormed(d); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Width  string   `xml:"width,attr"`
		Title  string   `xml:"title"`
		Texts  []string `xml:"text"`
		Family string   `xml:"font-family,attr"`
	}
	if err := xml.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Width != "950" || doc.Title != c.Title || !strings.HasSuffix(doc.Family, "sans-serif") {
		t.Errorf("got %q, %q, %q", doc.Width, doc.Title, doc.Family)
	}
	all := strings.Join(doc.Texts, "|")
	for _, want := range []string{c.Title, "mean of 14 seats", "14 seats", "crossover 80 Hz", "outside the model's validity", "31.5", "Level, dB"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in the SVG: %s", want, all)
		}
	}
}

func TestPNGIsThePicture(t *testing.T) {
	d := arrivalsChart().Layout(Paper{W: 480, H: 180, Style: Dark()})
	var b bytes.Buffer
	if err := d.PNG(&b); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	want := d.Image()
	if got.Bounds() != want.Rect {
		t.Fatalf("size %v, want %v", got.Bounds(), want.Rect)
	}
	for y := range want.Rect.Dy() {
		for x := range want.Rect.Dx() {
			r, g, bl, a := got.At(x, y).RGBA()
			if c := want.RGBAAt(x, y); uint8(r>>8) != c.R || uint8(g>>8) != c.G || uint8(bl>>8) != c.B || uint8(a>>8) != 255 {
				t.Fatalf("pixel %d %d: got %v, want %v", x, y, got.At(x, y), c)
			}
		}
	}
}

func TestCSVMergesOnX(t *testing.T) {
	c := &Chart{
		X: Axis{Label: "Time after direct", Kind: Time},
		Y: Axis{Label: "Level", Unit: "dB"},
		Series: []Series{
			{Name: "first, second", X: []float64{0.002, 0.001, 0.002}, Y: []float64{-6, -3.25, -9}},
			{Name: "seats", Kind: Area, X: []float64{0.001, 0.003}, Y: []float64{1, math.NaN()}, Low: []float64{-1, -2}},
			{X: []float64{0.001, math.NaN()}, Y: []float64{0, 7}},
		},
	}
	var b bytes.Buffer
	if err := c.CSV(&b); err != nil {
		t.Fatal(err)
	}
	want := `Time after direct (s),"first, second (dB)",seats low (dB),seats high (dB),series 3 (dB)
0.001,-3.25,-1,1,0
0.002,-6,,,
0.002,-9,,,
0.003,,-2,,
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestCSVNamesCategories(t *testing.T) {
	var b bytes.Buffer
	if err := reverbChart().CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := rows[0], []string{"Octave band (Hz)", "with the seats empty (s)", "with 14 people (s)"}; !cmp.Equal(got, want) {
		t.Errorf("headings %q, want %q", got, want)
	}
	if got, want := rows[5], []string{"1k", "0.29", "0.24"}; !cmp.Equal(got, want) {
		t.Errorf("row 5 is %q, want %q", got, want)
	}
}

// A chart comes into a PDF as vectors: page, type and words, and no picture.
func TestPDFIsOfVectors(t *testing.T) {
	var b bytes.Buffer
	c := bassChart()
	c.Title = "Bass at the seats (Łódź) −10 dB"
	if err := c.Write(&b, PDF, nil); err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) || bytes.Contains(b.Bytes(), []byte("/Subtype /Image")) {
		t.Error("no PDF, or one with a picture")
	}
	name := filepath.Join(t.TempDir(), "chart.pdf")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	drawingtest.Run(t, "qpdf", "--check", name)
	if got := drawingtest.Run(t, "pdfinfo", name); !strings.Contains(got, "900 x 500 pts") {
		t.Errorf("the page is %s", got)
	}
	words := drawingtest.Run(t, "pdftotext", name, "-")
	for _, want := range []string{c.Title, "mean of 14 seats", "31.5"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in the PDF: %s", want, words)
		}
	}
}
