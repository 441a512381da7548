// SPDX-License-Identifier: MIT

package file

import (
	"math"
	"strings"
	"testing"

	"earline/assets"
	"earline/project"
)

// FuzzDecodeRecovery holds that no bytes of a recovery copy panic, that every error
// is one of faults, and that what reads can be opened as a design too.
func FuzzDecodeRecovery(f *testing.F) {
	start := string(assets.Start())
	f.Add([]byte(start))
	f.Add([]byte(strings.Replace(start, "{", `{"unsaved_work_of": "/rooms/a.earline", "began_from_sha256": "00",`, 1)))
	f.Add([]byte(strings.Replace(start, "{", `{"unsaved_work_of": 7, "unsaved_work_of": "b", "began_from_sha256": null,`, 1)))
	f.Add([]byte(`{"unsaved_work_of": "a"}`))
	f.Add([]byte(strings.Replace(start, `"criteria"`, `"lesson": {"seed": -1, "level": 9, "faults": [{"cause": "", "severity": "note", "harm": -1}], "seats": 1.5}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(start, `"criteria"`, `"as_built": {"measured_on": "2026-13-01", "items": [{"of": "screen", "x_m": null}, {"of": "r1", "z_m": "5 mm", "turn_deg": -3}]}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"as_built": {"items": [{"of": "screen", "z_m": 0.65, "note": "x"}]}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"power_w"`, `"sensitivity_in": "half space", "excursion_mm": 1e99, "power_w"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria": {`,
		`"backdrops": [{"name": "a", "at": {"x_m": 1, "y_m": 0, "z_m": 0}, "unit": "mm", "obstacle": true, "points": "AAAAAAAAAAAAAAAAAAAAACC/AgAAAAAAAAAAAAAAAACQXwEA", "triangles": "AAABAAIA"}], "criteria": {`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"projector": {"model": "p", "at": {"x_m": 5, "y_m": 2, "z_m": "2200 mm"}, "mount": "ceiling", "fill": "zoom"}, "picture": {"held": "height", "masking": "sides", "masking_box_m": "200 mm", "aspects": [{"aspect": 2.39, "viewing_share": 0.6}], "gain_curve": [{"angle_deg": 10, "gain": 0.9}]}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"measured": {"measured_on": "2026-11-29", "decay": [{"hz": 31.5, "t60_s": 0.9}, {"hz": 40, "t60_s": 1e99}]}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"light_groups": [{"kind": "strip", "path": [{"x_m": 0, "y_m": 0, "z_m": "2200 mm"}, {"x_m": 3, "y_m": 0, "z_m": 2.2}], "flux_lm": 900, "tilt_deg": 180, "scenes": {"house": 1, "show": 1e-3}}, {"kind": "star", "area": [{"x_m": 1, "y_m": 1}], "flux_lm": 0, "scenes": {}}], "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"panels": [{"wall": 1, "low_m": 0, "high_m": "2100 mm", "module_m": 0.6, "gap_m": 0.03, "light_gap_m": 0.05, "light_every": 2, "depth_m": 0.06, "pattern": ["absorb", "bare"], "material_absorb": "x"}, {"wall": 0, "low_m": 1, "module_m": 90, "gap_m": 0, "depth_m": 0, "pattern": []}], "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"playback": {"crossover_slope": "third-order Butterworth", "crossover_hz": 1e9}, "loudspeakers": [{"label": "LFE1", "tuning": {"crossover_hz": -3}}], "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"equalisation": {"target": {"name": "Ours", "points": [{"hz": 20, "db": 6}, {"hz": 80, "db": 0}]}, "filters": [{"of": "subwoofers", "kind": "peak", "hz": 41, "gain_db": -12.5, "q": 6.3}, {"of": "s9", "kind": "high-pass", "hz": 1e9, "q": 0}]}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"scatters"`, `"bass_absorption": [{"hz": 40, "absorption": 0.6}, {"hz": 41, "absorption": -1}], "scatters"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"measured": {"responses": [{"seat": "r1.1", "of": "subwoofers", "frequencies_hz": [20, 40], "level_db": [80, -3]}, {"seat": "r9.1", "of": "s1", "frequencies_hz": [], "level_db": [1]}], "noise_db": [1, 2]}, "playback": {"background_nr": 20}, "criteria"`, 1)))
	f.Add([]byte(strings.Replace(strings.Replace(start, `"version": 1`, `"version": 2`, 1), `"criteria"`, `"viewpoints": [{"name": "door", "kind": "standing", "at": {"x_m": 1, "y_m": "900 mm", "z_m": 0}, "heading_deg": 10, "scene": "house", "stay_s": 3}, {"name": "door", "kind": "seat", "seat": "r9.1", "heading_deg": 1e9, "scene": "dusk"}], "entrance": {"each_s": -1}, "criteria"`, 1)))
	f.Add([]byte("[]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := decodeRecovery(data, "copy", Version, migrations)
		if err != nil {
			if r.Design != nil || len(project.Faults(err)) == 0 {
				t.Fatalf("a design with %v", err)
			}
			return
		}
		d, err := Decode(data, "copy")
		if err != nil || d == nil {
			t.Fatalf("a copy that is no design: %v", err)
		}
		if err := r.Design.Validate(); err != nil {
			t.Fatal(err)
		}
	})
}

// FuzzMaterials holds that a table of materials is read into what a design may hold,
// or refused by its line.
func FuzzMaterials(f *testing.F) {
	f.Add(string(assets.Materials()))
	f.Add("head\nid\tname\t\t\t\t\t\t\t\tsource")
	f.Add("head\nid\tname\t0.1\tNaN\t0\t0\t0\t0\t0\tsource\n")
	f.Add("")
	f.Fuzz(func(t *testing.T, table string) {
		all, err := readMaterials(table)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") {
				t.Fatal(err)
			}
			return
		}
		for _, m := range all {
			if len(m.Absorption) != project.OctaveCount {
				t.Fatalf("%d octaves", len(m.Absorption))
			}
			for _, a := range m.Absorption {
				if math.IsNaN(a) || math.IsInf(a, 0) {
					t.Fatalf("absorbs %g", a)
				}
			}
		}
	})
}
