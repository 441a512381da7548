// SPDX-License-Identifier: MIT

package file

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/project"
)

const body = `vertical,1000,-90,-7
vertical,1000,0,0
vertical,1000,90,-8

horizontal,2000,90,-12
horizontal,2000,-90,-11.5
horizontal,2000,0,0
horizontal,1000,-90,-5
horizontal,1000,0,0
horizontal,1000,90,-6
`

const small = PolarHeader + "\n" + body

func TestDecodePolar(t *testing.T) {
	want := project.Polar{Angles: []float64{-90, 0, 90},
		Horizontal: []project.PolarCurve{{Frequency: 1000, Level: []float64{-5, 0, -6}}, {Frequency: 2000, Level: []float64{-11.5, 0, -12}}},
		Vertical:   []project.PolarCurve{{Frequency: 1000, Level: []float64{-7, 0, -8}}}}
	for name, text := range map[string]string{
		"plain":                      small,
		"Windows":                    strings.ReplaceAll(small, "\n", "\r\n"),
		"with a mark":                "\ufeff" + small,
		"semicolons, decimal commas": strings.NewReplacer(",", ";", ".", ",").Replace(small),
		"quotes":                     "\"plane\";\"frequency_hz\";\"angle_deg\";\"level_db\"\n" + strings.NewReplacer(",", ";", "vertical", "\"vertical\"").Replace(body),
		"spaced":                     PolarHeader + "\n" + strings.ReplaceAll(body, ",", " , "),
		"without a newline":          strings.TrimRight(small, "\n"),
	} {
		got, err := DecodePolar([]byte(text), "p.csv")
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

// Each thing wrong is one line: file, place, what was found, what is allowed.
func TestDecodePolarFaults(t *testing.T) {
	with := func(lines ...string) string { return small + strings.Join(lines, "\n") }
	for text, want := range map[string]string{
		"":                        "p.csv: line 1: an empty file, allowed: " + PolarHeader,
		"angle;level\n":           `p.csv: line 1: "angle;level", allowed: ` + PolarHeader,
		with("vertical;2000;0;1"): "p.csv: line 12: 1 columns, allowed: 4, as in " + PolarHeader,
		with("across,1,2,3"):      `p.csv: line 12 plane: "across", allowed: horizontal or vertical`,
		with("vertical,1k,0,0"):   `p.csv: line 12 frequency_hz: "1k", allowed: a number, 10 Hz to 100000 Hz`,
		with("vertical,5,0,0"):    "p.csv: line 12 frequency_hz: 5 Hz, allowed: 10 Hz to 100000 Hz",
		with("vertical,50,190,0"): "p.csv: line 12 angle_deg: 190°, allowed: -180° to 180°",
		with("vertical,50,0,NaN"): `p.csv: line 12 level_db: "NaN", allowed: a number, -120 dB to 40 dB`,
		with("vertical,50,0,99"):  "p.csv: line 12 level_db: 99 dB, allowed: -120 dB to 40 dB",
		with("vertical,1000,0,1"): "p.csv: line 12: the place of line 3 again, allowed: each plane, frequency and angle once",
		with("vertical,4000,0,1"): "p.csv: vertical, 4000 Hz: no level at -90°, allowed: a level at every angle that the file names",
		PolarHeader + "\nvertical,1000,0,0\nvertical,1000,10,0\n": "p.csv: horizontal: 0 frequencies, allowed: 1 to 400",
		PolarHeader: "p.csv: horizontal: 0 frequencies, allowed: 1 to 400\np.csv: vertical: 0 frequencies, allowed: 1 to 400",
		PolarHeader + "\nvertical,1000,0,0\nhorizontal,1000,0,0\n": "p.csv: angle_deg: 1 angles, allowed: 2 to 400",
		small + "\xff": "p.csv: line 12 column 1: byte 0xff, allowed: text in UTF-8",
	} {
		p, err := DecodePolar([]byte(text), "p.csv")
		if err == nil || err.Error() != want {
			t.Errorf("%q:\n got %v\nwant %s", text, err, want)
		}
		if p.Given() {
			t.Errorf("%q: an error and data", text)
		}
	}
	many := PolarHeader + strings.Repeat("\nx,1,1,1", 300)
	if _, err := DecodePolar([]byte(many), "p.csv"); len(project.Faults(err)) != 101 || !strings.HasSuffix(err.Error(), "200 faults more") {
		t.Errorf("%d faults listed", len(project.Faults(err)))
	}
}

// The sample is that of an invented model; it reads, and a design takes it.
func TestPolarSample(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "polar_sample.csv"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := DecodePolar(data, "polar_sample.csv")
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Horizontal) != 8 || len(p.Vertical) != 8 || len(p.Angles) != 37 {
		t.Errorf("%d and %d frequencies, %d angles", len(p.Horizontal), len(p.Vertical), len(p.Angles))
	}
	for _, c := range append(p.Horizontal, p.Vertical...) {
		if c.Level[18] != 0 || math.Abs(p.Angles[18]) > 0 {
			t.Errorf("%g Hz is not 0 dB straight ahead", c.Frequency)
		}
	}
	d, ok := Demo("two-row")
	if !ok {
		t.Fatal("no demo")
	}
	d.Models[0].Polar = p
	if err := d.Validate(); err != nil {
		t.Error(err)
	}
}

// FuzzDecodePolar holds that no bytes panic, every error is made of faults of one
// line and of the file, and what reads is what a design may hold and goes round.
func FuzzDecodePolar(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(PolarHeader + "\nvertical,1000,0,0\nhorizontal,1000,-0,-0\nvertical,1e3,1,0\nhorizontal,1000,1,0x1p-2\n"))
	f.Add([]byte(PolarHeader + "\r\nhorizontal,inf,0,0"))
	base, ok := Demo("small")
	if !ok {
		f.Fatal("no demo")
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := DecodePolar(data, "f")
		if err != nil {
			faults := project.Faults(err)
			if len(faults) == 0 || p.Given() {
				t.Fatalf("error without faults, or with data: %v", err)
			}
			for _, x := range faults {
				if s := x.Error(); strings.ContainsAny(s, "\n\r") || x.File != "f" {
					t.Fatalf("not a fault of one line and of the file: %q", s)
				}
			}
			return
		}
		d := base.Clone()
		d.Models[0].Polar = p
		if err := d.Validate(); err != nil {
			t.Fatalf("reads, but no design may hold it: %v", err)
		}
		again, err := DecodePolar([]byte(polarText(p)), "f")
		if err != nil {
			t.Fatalf("written again: %v", err)
		}
		if diff := cmp.Diff(p, again); diff != "" {
			t.Fatalf("went round changed:\n%s", diff)
		}
	})
}

// polarText writes p as DecodePolar reads it.
func polarText(p project.Polar) string {
	var b strings.Builder
	b.WriteString(PolarHeader + "\n")
	for name, plane := range map[string][]project.PolarCurve{"horizontal": p.Horizontal, "vertical": p.Vertical} {
		for _, c := range plane {
			for i, a := range p.Angles {
				fmt.Fprintf(&b, "%s,%v,%v,%v\n", name, c.Frequency, a, c.Level[i])
			}
		}
	}
	return b.String()
}
