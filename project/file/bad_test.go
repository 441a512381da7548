// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/assets"
	"earline/project"
)

// What a person sees who opens a file that cannot be used: one line a fault.
func TestBadFiles(t *testing.T) {
	start := string(assets.Start())
	swap := func(old, new string) string {
		t.Helper()
		if !strings.Contains(start, old) {
			t.Fatalf("the starter file has no %s", old)
		}
		return strings.Replace(start, old, new, 1)
	}
	const rowFields = "id, chair, distance_m, riser_m, platform_front_m, platform_back_m, platform_from_left_m, platform_to_right_m, steps, seats, pitch_m, centre_m, stagger_m, curve_radius_m, recline_deg"
	tests := []struct {
		name, data string
		want       []string
	}{
		{"empty file", "", []string{
			"bad.earline: line 1 column 1: end of file, allowed: the rest of the design; the file is cut short"}},
		{"truncated file", start[:strings.Index(start, `"units"`)], []string{
			"bad.earline: line 5 column 3: end of file, allowed: the rest of the design; the file is cut short"}},
		{"trailing garbage", start + "}", []string{
			`bad.earline: line 473 column 1: "}", allowed: nothing after the design`}},
		{"NaN", swap(`"gain": 1`, `"gain": NaN`), []string{
			`bad.earline: line 105 column 13: "NaN", allowed: a JSON value`}},
		{"missing comma", swap(`"earline",`, `"earline"`), []string{
			`bad.earline: line 3 column 3: "\"", allowed: a comma or }`}},
		{"not JSON", "%PDF-1.7", []string{
			`bad.earline: line 1 column 1: "%", allowed: a JSON value`}},
		{"not UTF-8", swap("New room", "New \xff room"), []string{
			"bad.earline: line 4 column 16: byte 0xff, allowed: text in UTF-8"}},
		{"other JSON", `[1, 2]`, []string{
			`bad.earline: a list, allowed: an object with "format": "earline"`}},
		{"other format", swap(`"format": "earline"`, `"format": "drawing"`), []string{
			`bad.earline: format: "drawing", allowed: "earline"`}},
		{"no format", swap(`"format": "earline",`, ""), []string{
			`bad.earline: format: missing, allowed: "earline"`}},
		{"no version", swap(`"version": 1,`, ""), []string{
			`bad.earline: version: missing, allowed: 1 to 2`}},
		{"version too new", swap(`"version": 1`, `"version": 3`), []string{
			"bad.earline: version: 3, written by a newer Earline, allowed: 1 to 2"}},
		{"version below the first", swap(`"version": 1`, `"version": 0`), []string{
			"bad.earline: version: 0, below the first, allowed: 1 to 2"}},
		{"version of text", swap(`"version": 1`, `"version": "1"`), []string{
			`bad.earline: version: "1", allowed: 1 to 2`}},
		{"unknown field", swap(`"riser_m": 0`, `"risr_m": 0`), []string{
			"bad.earline: seating.rows[0].risr_m: unknown field, allowed: " + rowFields,
			"bad.earline: seating.rows[0].riser_m: missing, allowed: a length"}},
		{"unknown field with a line end in its name", swap(`"riser_m": 0`, `"riser_m": 0, "a\nb": 1`), []string{
			`bad.earline: seating.rows[0]."a\nb": unknown field, allowed: ` + rowFields}},
		{"doubled field", swap(`"riser_m": 0`, `"riser_m": 0, "riser_m": 0.3`), []string{
			"bad.earline: seating.rows[0].riser_m: field given twice, allowed: once"}},
		{"doubled version", swap(`"version": 1`, `"version": 1, "version": 1`), []string{
			"bad.earline: version: field given twice, allowed: once"}},
		{"wrong types", strings.NewReplacer(`"seats": 3`, `"seats": 2.5`, `"gain": 1`, `"gain": "high"`,
			`"sound_transparent": false`, `"sound_transparent": 0`, `"name": "New room"`, `"name": null`).Replace(start), []string{
			"bad.earline: name: null, allowed: a text",
			"bad.earline: screen.sound_transparent: 0, allowed: true or false",
			`bad.earline: screen.gain: "high", allowed: a number`,
			"bad.earline: seating.rows[0].seats: 2.5, allowed: a whole number"}},
		{"list for object", swap(`"criteria": {`, `"criteria": [], "x": {`), []string{
			"bad.earline: criteria: a list, allowed: an object",
			"bad.earline: x: unknown field, allowed: format, version, name, notes, units, room, screen, chair_models, seating, loudspeaker_models, loudspeakers, sub_zones, playback, system, criteria, services, variant, variants, datum, job, as_built, measured, backdrops, panels, projector_models, projector, picture, equalisation, light_groups, viewpoints, entrance, lesson"}},
		{"length without unit", swap(`"height_m": 2.5`, `"height_m": "2500"`), []string{
			`bad.earline: room.ceiling.height_m: "2500", allowed: a length with its unit, such as 2.4 m, 2400 mm or 7' 10"`}},
		{"number too large", swap(`"gain": 1`, `"gain": 1e999`), []string{
			"bad.earline: screen.gain: 1e999, allowed: a number"}},
		{"negative size", swap(`"height_m": 2.5`, `"height_m": -2.5`), []string{
			"bad.earline: room.ceiling.height_m: -2.5 m, allowed: 0.5 m to 30 m"}},
		{"zero size", swap(`"width_m": 2.6`, `"width_m": 0`), []string{
			"bad.earline: screen.width_m: 0 m, allowed: 0.2 m to 50 m"}},
		{"no seats", swap(`"seats": 3`, `"seats": 0`), []string{
			"bad.earline: seating.rows[0].seats: 0, allowed: 1 to 400"}},
		{"500 seats", swap(`"seats": 3`, `"seats": 500`), []string{
			"bad.earline: seating.rows[0].seats: 500, allowed: 1 to 400"}},
		{"too large", string(bytes.Repeat([]byte(" "), 49<<20)), []string{
			"bad.earline: a file of over 48 MiB, allowed: at most 48 MiB"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Decode([]byte(tt.data), "bad.earline")
			if err == nil || d != nil {
				t.Fatalf("got %v, %v, want a refusal", d, err)
			}
			if diff := cmp.Diff(tt.want, strings.Split(err.Error(), "\n")); diff != "" {
				t.Errorf("faults (-want +got):\n%s", diff)
			}
			if n := len(project.Faults(err)); n != len(tt.want) {
				t.Errorf("%d faults, want %d", n, len(tt.want))
			}
		})
	}
}

// A file of nothing but faults is not answered with a megabyte of them.
func TestManyFaults(t *testing.T) {
	data := strings.Replace(string(assets.Start()), `"footprint": [`, `"footprint": [`+strings.Repeat(`1,`, 5000), 1)
	_, err := Decode([]byte(data), "bad.earline")
	faults := project.Faults(err)
	if len(faults) != maxFaults+1 {
		t.Fatalf("%d faults listed, want %d and a count of the rest", len(faults), maxFaults)
	}
	if got, want := faults[maxFaults].Error(), "bad.earline: 4900 faults more"; got != want {
		t.Errorf("last line %q, want %q", got, want)
	}
}

// Read stops at the limit: it does not take in what it will refuse.
func TestReadTooLarge(t *testing.T) {
	path := filepath.Join(t.TempDir(), "big.earline")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(1 << 32); err != nil { // sparse
		t.Skipf("no sparse file of 4 GiB here: %v", err)
	}
	f.Close()
	if _, err := Read(path); err == nil || err.Error() != "big.earline: a file of over 48 MiB, allowed: at most 48 MiB" {
		t.Errorf("Read: %v", err)
	}
}

// Deep nesting is refused, not followed to the end of the stack.
func TestDeepNesting(t *testing.T) {
	_, err := Decode([]byte(strings.Repeat("[", 1_000_000)), "deep")
	if len(project.Faults(err)) != 1 {
		t.Errorf("got %v", err)
	}
}
