// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/file"
)

// The study of the large demo says how to set up, how long the room rings, what
// comes back too early, where to treat, and what all that does to ears.
func TestSoundAnswers(t *testing.T) {
	status, out, errs := earline("sound", "demo:large", "--seat", "2.3", "--second", "--all")
	if status != statusShort || errs != "" {
		t.Fatalf("status %d, said %q\n%s", status, errs, out)
	}
	for _, want := range []string{"14 seats, 21 loudspeakers", "M+090 b", "Reverberation of 144.7 m³ with a person in every chair", "to change, m²",
		"Row 2 seat 3, against the main", "Treat for every seat", "left wall: ", "absorption", ", then ",
		"upper bound", "Long loud listening harms hearing", "full dose", "Schroeder"} {
		if !strings.Contains(out, want) {
			t.Errorf("does not say %q:\n%s", want, out)
		}
	}
	for i, line := range strings.Split(out, "\n") {
		if len([]rune(line)) > 110 {
			t.Errorf("line %d is %d wide: %s", i+1, len([]rune(line)), line)
		}
	}
	// In feet and inches too.
	name := filepath.Join(t.TempDir(), "imperial.earline")
	d, _ := file.Demo("small")
	d.Units = "imperial"
	if err := file.Write(name, d); err != nil {
		t.Fatal(err)
	}
	if _, out, errs := earline("sound", name); errs != "" || !strings.Contains(out, `' `) || strings.Contains(out, " m high") {
		t.Errorf("said %q\n%s", errs, out)
	}
}

// A room whose loudspeakers are strong enough, of surfaces that spread what they
// throw back and absorb as much as the target asks for, falls short of nothing.
func TestSoundFallsShortOfNothing(t *testing.T) {
	d, _ := file.Demo("small")
	for i := range d.Models {
		d.Models[i].Power = 20_000
	}
	for i := range d.Room.Materials {
		m := &d.Room.Materials[i]
		m.Scatters = true
		for o := range m.Absorption {
			m.Absorption[o] = 0.36
		}
	}
	name := filepath.Join(t.TempDir(), "fine.earline")
	if err := file.Write(name, d); err != nil {
		t.Fatal(err)
	}
	status, out, errs := earline("sound", name)
	if status != statusFine || errs != "" || !strings.Contains(out, "BS.1116): 0 at the main position") {
		t.Errorf("status %d, said %q\n%s", status, errs, out)
	}
	// One of them alone brings the status back.
	d.Models[0].Power = 1
	if err := file.Write(name, d); err != nil {
		t.Fatal(err)
	}
	if status, out, _ := earline("sound", name); status != statusShort {
		t.Errorf("with 1 W: status %d\n%s", status, out)
	}
}

// The JSON keys are what the manual documents.
func TestSoundJSONKeys(t *testing.T) {
	status, out, _ := earline("sound", "demo:small", "--json", "--second", "--target", "private", "--empty")
	if status != statusShort {
		t.Errorf("status %d", status)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	documented(t, got)
	if got["format"] != "earline-sound" || got["version"] != 1.0 || len(got["loudspeakers"].([]any)) != 8 {
		t.Errorf("format %v version %v", got["format"], got["version"])
	}
}

// Measured directivity is tried on a model, changes what is heard, and can be kept
// in a file.
func TestSoundPolar(t *testing.T) {
	const table = "../../testdata/polar_sample.csv"
	name := filepath.Join(t.TempDir(), "measured.earline")
	_, nominal, _ := earline("sound", "demo:two-row", "--json")
	_, measured, errs := earline("sound", "demo:two-row", "--json", "--polar", "front="+table, "-o", name)
	if errs != "" || nominal == measured {
		t.Fatalf("said %q; same answer: %v", errs, nominal == measured)
	}
	if _, kept, errs := earline("sound", name, "--json"); errs != "" || kept != measured {
		t.Errorf("kept in a file it answers otherwise; said %q", errs)
	}
}

// Delays and trims go into the file in whole steps.
func TestSoundTune(t *testing.T) {
	name := filepath.Join(t.TempDir(), "tuned.earline")
	if _, _, errs := earline("sound", "demo:two-row", "--tune", "-o", name); errs != "" {
		t.Fatal(errs)
	}
	d, err := file.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, l := range d.Speakers {
		last = max(last, l.Tuning.Delay)
		if l.Tuning.Gain > 0 && l.Model != "sub-15" || l.Tuning.Gain*2 != float64(int(l.Tuning.Gain*2)) {
			t.Errorf("%s: %+v", l.Name(), l.Tuning)
		}
	}
	if last < 1 || last > 10 {
		t.Errorf("the longest delay is %g ms", last)
	}
}

// The map is a table of the points in the room.
func TestSoundMap(t *testing.T) {
	name := filepath.Join(t.TempDir(), "map.csv")
	for _, args := range [][]string{{"--loudspeaker", "M+030", "--octave", "4000"}, {"--octave", "500", "--step", "50 cm"}, {"--loudspeaker", "M+090 b"}} {
		if _, _, errs := earline(append([]string{"sound", "demo:large", "--map", name}, args...)...); errs != "" {
			t.Fatalf("%v: said %q", args, errs)
		}
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSpace(string(b)), "\n")
		if lines[0] != "x_m,y_m,z_m,level_db" || len(lines) < 150 || strings.Contains(string(b), "NaN") || strings.Count(lines[1], ",") != 3 {
			t.Errorf("%v: %d lines, %q, %q", args, len(lines), lines[0], lines[1])
		}
	}
}

// What cannot be used is refused in one line with status 2.
func TestSoundRefuses(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("a,b\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"no-such.earline"},
		{"demo:small", "--target", "loud"},
		{"demo:small", "--seat", "9.9"},
		{"demo:small", "--tune"},
		{"demo:small", "--polar", "front"},
		{"demo:small", "--polar", "none=" + bad},
		{"demo:two-row", "--polar", "front=" + bad},
		{"demo:two-row", "--polar", "front=" + bad + ".none"},
		{"demo:small", "--map", bad, "--octave", "440"},
		{"demo:small", "--map", bad, "--loudspeaker", "M+999"},
		{"demo:small", "--map", bad, "--step", "far"},
		{"demo:small", "--map", bad, "--step", "1 mm"},
	} {
		status, out, errs := earline(append([]string{"sound"}, args...)...)
		if status != statusUnusable || out != "" || strings.Count(strings.TrimSpace(errs), "\n") != 0 || errs == "" {
			t.Errorf("%v: status %d, %q, said %q", args, status, out, errs)
		}
	}
}
