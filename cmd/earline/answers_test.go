// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update-answers", false, "write what is answered now over testdata/answers")

// What was answered for these rooms stays answered: the texts under
// testdata/answers began as the answers of the release before the kernel knew
// the room's walls, and change only in a commit that says why.
func TestAnswersStay(t *testing.T) {
	rooms, err := filepath.Glob("../../testdata/rooms/*.earline")
	if err != nil || len(rooms) == 0 {
		t.Fatal("no rooms", err)
	}
	for _, demo := range []string{"small", "two-row", "large"} {
		rooms = append(rooms, "demo:"+demo)
	}
	for _, room := range rooms {
		name := strings.TrimSuffix(filepath.Base(strings.Replace(room, ":", "-", 1)), ".earline")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got := answers(t, room)
			golden := filepath.Join("../../testdata/answers", name+".txt")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("answers changed (-was +now); if they should: go test ./cmd/earline -run AnswersStay -update-answers\n%s", diff)
			}
		})
	}
}

// answers returns what audit, sound and bass say of a room, a line a fact,
// rounded to what anyone reads.
func answers(t *testing.T, room string) string {
	t.Helper()
	var out strings.Builder
	ask := func(verb string) map[string]any {
		status, text, errs := earline(verb, room, "--json")
		if status > 1 {
			fmt.Fprintf(&out, "%s: %s", verb, strings.ReplaceAll(errs, room+": ", ""))
			return nil
		}
		var v map[string]any
		if err := json.Unmarshal([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	say := func(prefix string, v any, keys ...string) {
		m := v.(map[string]any)
		fmt.Fprintf(&out, "%s", prefix)
		for _, k := range keys {
			if w, ok := m[k]; ok {
				fmt.Fprintf(&out, " | %s %s", k, rounded(w))
			}
		}
		out.WriteByte('\n')
	}
	list := func(v any, key string) []any { l, _ := v.(map[string]any)[key].([]any); return l }

	a := ask("audit")
	say("audit", a, "main_position", "totals", "picture_totals")
	for _, s := range list(a, "seats") {
		say("seat", s, "row", "seat", "ear_left", "eye")
		say("  picture", s.(map[string]any)["picture"], "verdict", "visible_share", "clearance_m", "blocker")
	}
	for _, s := range list(a, "loudspeakers") {
		say("loudspeaker", s, "name", "at", "azimuth_deg", "elevation_deg")
	}
	for _, p := range list(a, "pairs") {
		say("pair", p, "row", "seat", "loudspeaker", "verdict")
		for _, q := range list(p, "paths") {
			say("  path", q, "ear", "driver", "verdict", "clearance_m", "visible_share", "blocker")
		}
	}
	for _, f := range list(a, "findings") {
		say("finding", f, "where", "text")
	}
	practice := a["practice"].(map[string]any)
	say("practice", practice, "bs2051_system", "system", "standard", "dwelling_code", "c_values", "checked")
	for _, r := range list(practice, "remarks") {
		say("remark", r, "rule", "ok", "severity", "grade", "measured", "min", "max", "text")
	}
	say("range", a["range"], "words", "pairs", "pictures")
	for _, l := range list(a, "tolerances") {
		for _, w := range list(l, "ways") {
			say("tolerance", w, "text")
		}
	}

	s := ask("sound")
	for _, l := range list(s, "loudspeakers") {
		say("sound", l, "name", "delay_ms", "trim_db", "rated_level_db", "needed_w", "spread_db")
		for _, seat := range list(l, "seats") {
			say("  seat", seat, "row", "seat", "relative_db")
		}
	}
	strongest := map[string]float64{} // by surface
	for _, r := range list(s, "reflections") {
		r := r.(map[string]any)
		surface, level := r["surface"].(string), r["strongest_db"].(float64)
		if old, ok := strongest[surface]; !ok || level > old {
			strongest[surface] = level
		}
	}
	for _, surface := range slices.Sorted(maps.Keys(strongest)) {
		fmt.Fprintf(&out, "strongest reflection | %s %s\n", surface, rounded(strongest[surface]))
	}
	for _, p := range list(s, "treat_for_all") {
		say("treat", p, "surface", "from_m", "to_m", "low_m", "high_m")
	}
	say("reverberation", s["reverberation"], "volume_m3", "surface_m2", "absorption_m2", "sabine_s", "eyring_s", "target_s")
	for _, p := range list(s["reverberation"], "absorbers") {
		say("absorber", p, "name", "material", "area_m2", "absorption")
	}

	b := ask("bass")
	if b == nil {
		return out.String()
	}
	say("bass", b, "way", "figures")
	for _, seat := range list(b, "seats") {
		fmt.Fprintf(&out, "bass seat %s.%s:", rounded(seat.(map[string]any)["row"]), rounded(seat.(map[string]any)["seat"]))
		for i, level := range list(seat, "level_db") {
			if i%16 == 0 {
				fmt.Fprintf(&out, " %.1f", level)
			}
		}
		out.WriteByte('\n')
	}
	return out.String()
}

// rounded prints v with numbers to a tenth of a millimetre or decibel-percent.
func rounded(v any) string {
	switch v := v.(type) {
	case float64:
		r := math.Round(v*1e4) / 1e4
		if r == 0 {
			r = 0 // not -0
		}
		return fmt.Sprint(r)
	case []any:
		words := make([]string, len(v))
		for i := range v {
			words[i] = rounded(v[i])
		}
		return "[" + strings.Join(words, " ") + "]"
	case map[string]any:
		text, err := json.Marshal(v)
		if err != nil {
			return err.Error()
		}
		return string(text)
	}
	return fmt.Sprint(v)
}
