// SPDX-License-Identifier: MIT

package file

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"earline/geometry"
	"earline/project"
)

// largest returns a design with as much in it as Validate accepts: every text as
// long, every number in as many digits, as much polar data as there may be.
func largest() *project.Design {
	d := New()
	text := strings.Repeat("\u2028", 200) // six bytes each in JSON
	d.Name, d.Notes = text, strings.Repeat("\u2028", 20_000)
	for len(d.Room.Materials) < project.MaxMaterials {
		m := d.Room.Materials[0]
		m.ID, m.Name, m.Source = fmt.Sprintf("m%d %s", len(d.Room.Materials), text[:3*150]), text, text
		d.Room.Materials = append(d.Room.Materials, m)
	}
	material := d.Room.Materials[project.MaxMaterials-1].ID
	for len(d.Room.Treatments) < project.MaxTreatments {
		d.Room.Treatments = append(d.Room.Treatments, project.Treatment{
			Name: text, Material: material, Wall: 1,
			From: 1.0 / 3, To: 4.0 / 3, Low: 1.0 / 3, High: 4.0 / 3,
		})
	}
	for len(d.Room.Features) < project.MaxFeatures {
		d.Room.Features = append(d.Room.Features, project.Feature{
			Kind: project.Column, Name: text, Material: material,
			At: project.Point{X: 1.0 / 3, Y: 1.0 / 3}, Length: 1.0 / 3, Width: 1.0 / 3, Height: 1.0 / 3, Turn: 1.0 / 3,
		})
	}
	for len(d.Models) < project.MaxModels {
		m := d.Models[0]
		m.ID, m.Name = fmt.Sprintf("l%d %s", len(d.Models), text[:3*150]), text
		d.Models = append(d.Models, m)
	}
	var shape project.Mesh
	shape.Points = make([]geometry.Vec, project.MaxBackdropPoints)
	shape.Triangles, shape.Lines = make([][3]int, project.MaxBackdropTriangles), make([][2]int, project.MaxBackdropLines)
	d.Backdrops = []project.Backdrop{{Name: text, File: text}}
	d.Backdrops[0].SetMesh(shape)
	level := math.Nextafter(-1.2345678901234567e-6, 0) // in the longest form that JSON writes
	angles := project.MaxLevels / (project.MaxModels * 2 * project.MaxPolar)
	for k := range d.Models {
		p := &d.Models[k].Polar
		*p = project.Polar{Source: text}
		for i := range angles {
			p.Angles = append(p.Angles, math.Nextafter(float64(i-angles), 0))
		}
		curves := func() (all []project.PolarCurve) {
			for i := range project.MaxPolar {
				c := project.PolarCurve{Frequency: math.Nextafter(float64(10_000+i), 0)}
				for range angles {
					c.Level = append(c.Level, level)
				}
				all = append(all, c)
			}
			return all
		}
		p.Horizontal, p.Vertical = curves(), curves()
	}
	d.Identify()
	for n := range project.MaxResponses {
		r := project.Response{Seat: d.Seating.Rows[0].SeatID(n%d.Seating.Rows[0].Seats + 1), Of: project.AllSubwoofers, Smoothing: text, Source: text}
		if k := n / d.Seating.Rows[0].Seats; k > 0 {
			for len(d.Speakers) < k {
				l := d.Speakers[0]
				l.ID, l.Copy = "", fmt.Sprint(len(d.Speakers))
				d.Speakers = append(d.Speakers, l)
				d.Identify()
			}
			r.Of = d.Speakers[k-1].ID
		}
		for i := range project.MaxPoints {
			r.Frequencies, r.Level = append(r.Frequencies, math.Nextafter(float64(10_000+i), 0)), append(r.Level, level)
		}
		d.Measured.Responses = append(d.Measured.Responses, r)
	}
	return d
}

// A design with four models of measured directivity was saved and could not be
// opened again.
func TestWhatCouldBeSavedWasRefusedWhenOpened(t *testing.T) {
	d := largest()
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	data, err := Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%.1f MiB of %d", float64(len(data))/(1<<20), MaxSize>>20)
	got, err := Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	again, err := Encode(got)
	if err != nil || string(again) != string(data) {
		t.Errorf("it went round changed (%v)", err)
	}
}

// Four models of the finest table were taken, as nobody counted them together.
func TestMorePolarDataThanAFileHoldsIsRefusedBeforeItIsSaved(t *testing.T) {
	d := largest()
	for k := range d.Models {
		p := &d.Models[k].Polar
		p.Angles = append(p.Angles, 90)
		for _, plane := range [2][]project.PolarCurve{p.Horizontal, p.Vertical} {
			for i := range plane {
				plane[i].Level = append(plane[i].Level, 0)
			}
		}
	}
	const want = "loudspeaker_models: 1040000 levels of polar data in all, allowed: at most 1000000: fewer angles or frequencies, or fewer models with polar data"
	if _, err := Encode(d); err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
}

// Files of nothing but small values took gigabytes.
func TestAFileOfMillionsOfValuesIsRefused(t *testing.T) {
	for _, data := range []string{
		"[" + strings.Repeat("0,", maxValues) + "0]",
		"{" + strings.Repeat(`"a":0,`, maxValues/2) + `"a":0}`,
	} {
		_, err := Decode([]byte(data), "x")
		if want := "x: over 2000000 values, allowed: a design"; err == nil || err.Error() != want {
			t.Errorf("%v", err)
		}
	}
}

// Tables of nothing but line ends took gigabytes.
func TestATableOfMillionsOfLinesIsRefused(t *testing.T) {
	for _, line := range []string{"\n", "x\n"} {
		_, err := DecodePolar([]byte(PolarHeader+"\n"+strings.Repeat(line, 1_000_000)), "t.csv")
		if line == "\n" {
			if want := "t.csv: over 1000000 lines, allowed: the table of one model"; err == nil || err.Error() != want {
				t.Errorf("%v", err)
			}
		} else if faults := project.Faults(err); len(faults) != maxFaults+1 {
			t.Errorf("%d faults", len(faults))
		}
	}
}

// A list of millions of empty things took ten seconds to find fault with.
func TestAListOfTenThousandsIsRefusedUnread(t *testing.T) {
	_, err := Decode([]byte(`{"format": "earline", "version": 1, "loudspeaker_models": [`+strings.Repeat("{},", 10_000)+`{}]}`), "x")
	if want := "loudspeaker_models: 10001 entries, allowed: at most 10000"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v", err)
	}
}
