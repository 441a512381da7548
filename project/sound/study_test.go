// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// Every demo is answered, as text of one line each and as JSON without holes.
func TestStudyTheDemos(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		r, err := Study(t.Context(), d, nil, Options{Second: true})
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(r.Report())
		if err != nil {
			t.Errorf("%s: %v", name, err) // a NaN or an infinity
		}
		if strings.Contains(string(data), "null") {
			t.Errorf("%s: the report holds a null", name)
		}
		if len(r.Reflections.All) == 0 || len(r.TreatMain) == 0 || len(r.TreatSeats) < len(r.TreatMain)/2 || !r.Short() {
			t.Errorf("%s: %d reflections, %d and %d patches", name, len(r.Reflections.All), len(r.TreatMain), len(r.TreatSeats))
		}
		for i := range r.Reflections.All {
			if s := r.Sentence(&r.Reflections.All[i], d.Units); strings.ContainsAny(s, "\n%") || len(s) < 40 {
				t.Fatalf("%s: %q", name, s)
			}
		}
		for i := range r.TreatSeats {
			if s := r.PatchSentence(&r.TreatSeats[i], project.Imperial); strings.ContainsAny(s, "\n%") || !strings.Contains(s, "\"") {
				t.Errorf("%s: %q", name, s)
			}
		}
		for _, s := range r.Remarks {
			if strings.Contains(s, "%!") || strings.Contains(s, "\n") {
				t.Errorf("%s: remark %q", name, s)
			}
		}
		// A room of 40 to 140 m3 with carpet and some panels rings some tenths of a
		// second.
		if v := r.Reverb; v.Volume < 30 || v.Volume > 150 || v.Mid < 0.15 || v.Mid > 0.8 {
			t.Errorf("%s: %.1f m3, %.2f s", name, v.Volume, v.Mid)
		}
	}
}

// The study changes nothing and is the same each time.
func TestStudyIsPure(t *testing.T) {
	d := demo(t, "large")
	c := d.Clone()
	audit := sight.Audit(d)
	var last string
	for range 2 {
		r, err := Study(t.Context(), d, audit, Options{})
		if err != nil {
			t.Fatal(err)
		}
		data, _ := json.Marshal(r.Report())
		if last != "" && last != string(data) {
			t.Error("two studies of one design differ")
		}
		last = string(data)
	}
	a, _ := json.Marshal(d)
	if b, _ := json.Marshal(c); string(a) != string(b) {
		t.Error("the design was changed")
	}
}

// What is not known about a model, or hard to believe, is said.
func TestRemarksOnModels(t *testing.T) {
	d := hall(1, 2, 2)
	d.Models[0].Impedance, d.Models[0].Cutoff = 0, 0
	d.Models[0].Drivers = []project.Driver{{Band: project.Full, Diameter: 0.1}}
	r, err := Study(t.Context(), d, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(r.Remarks, "\n")
	// AC-128: half pressure at ka sin = 2.21509: 100 mm at 4 kHz (3981 Hz).
	for _, want := range []string{"8 ohm", "low end", "37° at 4 kHz", "air: not given", "Schroeder"} {
		if !strings.Contains(all, want) {
			t.Errorf("remarks do not say %q:\n%s", want, all)
		}
	}
}

// The smallest and oddest rooms that a file may hold are answered.
func TestStudyOddRooms(t *testing.T) {
	for name, change := range map[string]func(d *project.Design){
		"no loudspeakers": func(d *project.Design) { d.Speakers = nil },
		"triangle":        func(d *project.Design) { d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 0, Y: 6}} },
		"other way round": func(d *project.Design) { f := d.Room.Footprint; f[1], f[3] = f[3], f[1] },
		"low ceiling":     func(d *project.Design) { d.Room.Ceiling.Height = 0.5 },
		"at the wall":     func(d *project.Design) { d.Speakers[0].At = project.Point{} },
		"outside":         func(d *project.Design) { d.Speakers[0].At = project.Point{X: -50, Y: 90, Z: 90} },
		"huge column": func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Column, Length: 90, Width: 90, Height: 90}}
		},
		"opaque screen":    func(d *project.Design) { d.Screen.Transparent = false },
		"all absorbs":      func(d *project.Design) { d.Room.Materials[0].Absorption = []float64{1, 1, 1, 1, 1, 1, 1, 1} },
		"nothing absorbs":  func(d *project.Design) { d.Room.Materials[0].Absorption = make([]float64, 8) },
		"platform outside": func(d *project.Design) { d.Seating.Rows[1].Distance = 60 },
		"platform everywhere": func(d *project.Design) {
			d.Seating.Rows[1].Front, d.Seating.Rows[1].Back, d.Seating.Rows[1].Riser = 50, 50, unit.Length(2)
		},
	} {
		d := hall(2, 2, 3)
		change(d)
		if err := d.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		r, err := Study(t.Context(), d, nil, Options{Second: true, Empty: true})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(r.Report()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if g, err := Map(t.Context(), d, MapOptions{Speaker: AllSpeakers, Octave: 5, Step: 0.5}); err != nil || math.IsNaN(g.Lo+g.Hi) {
			t.Errorf("%s: map %v to %v, %v", name, g.Lo, g.Hi, err)
		}
	}
}

func BenchmarkStudy(b *testing.B) {
	d := demo(b, "large")
	audit := sight.Audit(d)
	b.Run("large", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Study(context.Background(), d, audit, Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
