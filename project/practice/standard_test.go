// SPDX-License-Identifier: MIT

package practice_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"earline/project"
	"earline/project/practice"
)

func number(v float64) *float64 { return &v }

// A house standard switches rules off and sets limits, and says that it does.
func TestHouseStandard(t *testing.T) {
	d := demo(t, "two-row")
	d.Seating.Rows[1].Riser = 0.45
	std := practice.Standard{Name: "our rooms", Changes: map[string]practice.Change{
		"headroom":      {Off: true, Reason: "nobody walks behind the last row"},
		"aisle-stepped": {Min: number(0.75), Reason: "one sitter passes at a time"},
		"sight-margin":  {Min: number(0.1), Reason: "tall family"},
		"elevation":     {Max: number(25), Reason: "raised to clear heads"},
	}}
	if err := std.Validate(); err != nil {
		t.Fatal(err)
	}
	r := practice.Check(d, nil, std)
	if slices.Contains(r.Checked, "headroom") || failing(r, "headroom") != nil {
		t.Error("headroom is still checked")
	}
	if got := failing(r, "aisle-stepped", "elevation"); got != nil {
		t.Errorf("%q", got)
	}
	got := failing(r, "sight-margin")
	if len(got) != 4 || !strings.HasSuffix(got[0], "the path to M+090 clears head in row 1 seat 2 by 0.061 m, the house standard asks for 0.100 m or more") {
		t.Errorf("%q", got)
	}
	for _, l := range r.Lines(true) {
		if strings.Contains(l, "M+090 elevation") && !strings.HasSuffix(l, "Rec. ITU-R BS.775-3 asks for 0° to 15°, 25° beyond is accepted") {
			t.Error(l)
		}
	}
}

func TestStandardRoundTrip(t *testing.T) {
	rules := practice.Rules()
	rapid.Check(t, func(t *rapid.T) {
		s := practice.Standard{Name: rapid.StringOfN(rapid.RuneFrom([]rune("aZ0 <&>\"\\/é席\u2028😀")), 0, 12, -1).Draw(t, "name")}
		for range rapid.IntRange(0, 6).Draw(t, "changes") {
			c := practice.Change{Reason: "because " + rapid.StringOfN(rapid.RuneFrom([]rune("ab <é")), 0, 9, -1).Draw(t, "reason")}
			lo := rapid.Float64Range(-1e6, 1e6).Draw(t, "min")
			switch rapid.IntRange(0, 1).Draw(t, "kind") {
			case 0:
				c.Off = true
			case 1:
				c.Min, c.Max = &lo, number(max(lo, rapid.Float64Range(-1e6, 1e6).Draw(t, "max")))
			}
			if s.Changes == nil {
				s.Changes = map[string]practice.Change{}
			}
			id := rapid.SampledFrom(rules).Draw(t, "rule").ID
			if id == "elevation" && !c.Off && rapid.Bool().Draw(t, "by layer") {
				c.Layers = map[practice.Layer]practice.Limits{rapid.SampledFrom(practice.Layers()).Draw(t, "layer"): {Min: number(-20), Max: number(80)}}
			}
			s.Changes[id] = c
		}
		data, err := s.Encode()
		if err != nil {
			t.Fatal(err)
		}
		got, err := practice.DecodeStandard(data, "x")
		if err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		if diff := cmp.Diff(s, got); diff != "" {
			t.Fatal(diff)
		}
		again, _ := got.Encode()
		if !bytes.Equal(data, again) {
			t.Fatalf("not stable:\n%s\n%s", data, again)
		}
	})
}

// What a person sees who opens a house standard that cannot be used.
func TestBadStandards(t *testing.T) {
	const good = `{"format": "earline-rules", "version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3, "reason": "r"}}}`
	if _, err := practice.DecodeStandard([]byte(good), "x"); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, want string }{
		{"other format", `"earline-rules"`, `"drawing"`, `h: format: "drawing", allowed: "earline-rules"`},
		{"newer", `"version": 1`, `"version": 3`, `h: version: 3, allowed: 1 or 2`},
		{"no version", `"version": 1, `, ``, `h: version: missing, allowed: 1 or 2`},
		{"no name", `"name": "n", `, ``, `h: name: missing, allowed: a text`},
		{"name of null", `"name": "n"`, `"name": null`, `h: name: null, allowed: a text`},
		{"unknown field", `"name"`, `"extra": 1, "name"`, `h: extra: unknown field, allowed: format, version, name, rules`},
		{"doubled field", `"name"`, `"name": "m", "name"`, `h: name: field given twice, allowed: once`},
		{"unknown rule", `"azimuth"`, `"azimut"`, `h: rules.azimut: unknown rule, allowed: label, azimuth, `},
		{"doubled rule", `"azimuth"`, `"azimuth": {"off": true, "reason": "r"}, "azimuth"`, `h: rules.azimuth: field given twice, allowed: once`},
		{"wrong unit", `"max_deg"`, `"max_m"`, `h: rules.azimuth.max_m: unknown field, allowed: off, min_deg, max_deg, reason`},
		{"no reason", `, "reason": "r"`, ``, `h: rules.azimuth.reason: missing, allowed: a text`},
		{"empty reason", `"reason": "r"`, `"reason": " "`, `h: rules.azimuth.reason: empty, allowed: why the house does otherwise`},
		{"text for number", `"max_deg": 3`, `"max_deg": "3"`, `h: rules.azimuth.max_deg: "3", allowed: a number`},
		{"huge number", `"max_deg": 3`, `"max_deg": 1e400`, `h: rules.azimuth.max_deg: 1e400, allowed: a number`},
		{"far number", `"max_deg": 3`, `"max_deg": 1e40`, `h: rules.azimuth.max_deg: 1e+40, allowed: -1000000 to 1000000`},
		{"nothing", `"max_deg": 3, `, ``, `h: rules.azimuth: nothing to change, allowed: "off": true, or a limit`},
		{"off and a limit", `"max_deg": 3`, `"max_deg": 3, "off": true`, `h: rules.azimuth: off and with a limit, allowed: "off": true, or a limit`},
		{"wrong way round", `"max_deg": 3`, `"min_deg": 4, "max_deg": 3`, `h: rules.azimuth: a least of 4 above a most of 3, allowed: least no greater than most`},
		{"list", `{"max_deg": 3, "reason": "r"}`, `[]`, `h: rules.azimuth: a list, allowed: an object`},
		{"limits by layer of another rule", `"version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3,`, `"version": 2, "name": "n", "rules": {"azimuth": {"layers": {},`, `h: rules.azimuth.layers: unknown field, allowed: off, min_deg, max_deg, reason`},
		{"limits by layer in an old file", `"azimuth": {"max_deg": 3,`, `"elevation": {"layers": {"side": {"max_deg": 22}},`, `h: rules.elevation.layers: unknown field, allowed: off, min_deg, max_deg, reason`},
		{"unknown layer", `"version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3,`, `"version": 2, "name": "n", "rules": {"elevation": {"layers": {"sides": {"max_deg": 22}},`, `h: rules.elevation.layers.sides: unknown layer, allowed: front, centre, wide, side, rear, height, flush`},
		{"a layer with nothing", `"version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3,`, `"version": 2, "name": "n", "rules": {"elevation": {"layers": {"side": {}},`, `h: rules.elevation.layers.side: nothing to change, allowed: a limit`},
		{"a layer wrong way round", `"version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3,`, `"version": 2, "name": "n", "rules": {"elevation": {"layers": {"side": {"min_deg": 40}},`, `h: rules.elevation.layers.side: a least of 40 above a most of 20, allowed: least no greater than most`},
		{"a rule that is no more", `"version": 1, "name": "n", "rules": {"azimuth": {"max_deg": 3,`, `"version": 2, "name": "n", "rules": {"height-angle": {"max_deg": 3,`, `h: rules.height-angle: a rule that is no more, allowed: elevation, layers "height"`},
		{"cut short", `"r"}}}`, `"r"}`, `h: line 1 column `},
		{"not UTF-8", `"n"`, "\"\xff\"", `h: bytes that are no text, allowed: text in UTF-8`},
	} {
		data := strings.Replace(good, c.old, c.new, 1)
		if data == good {
			t.Fatalf("%s: nothing replaced", c.name)
		}
		s, err := practice.DecodeStandard([]byte(data), "h")
		if err == nil || len(project.Faults(err)) != 1 || !strings.HasPrefix(err.Error(), c.want) || s.Name != "" {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
	if _, err := practice.DecodeStandard(bytes.Repeat([]byte(" "), 1<<21), "h"); err == nil || err.Error() != "h: a file of over 1 MiB, allowed: at most 1 MiB" {
		t.Error(err)
	}
	if _, err := (practice.Standard{Changes: map[string]practice.Change{"azimuth": {Off: true}}}).Encode(); err == nil {
		t.Error("encoded without a reason")
	}
}

// A house standard of the first version says of heights from straight overhead what is
// now an elevation, and of surrounds what it always said.
func TestAHouseStandardOfTheFirstVersionIsLifted(t *testing.T) {
	s, err := practice.DecodeStandard([]byte(`{"format": "earline-rules", "version": 1, "name": "old", "rules": {
		"height-angle": {"min_deg": 35, "max_deg": 50, "reason": "our ceilings"},
		"c-value": {"min_m": 0.09, "reason": "we stagger"},
		"elevation": {"max_deg": 15, "reason": "raised to clear heads"}}}`), "old")
	if err != nil {
		t.Fatal(err)
	}
	if b := s.Elevation(practice.Height); b.Good.Least() != 40 || b.Good.Most() != 55 || b.Good.Source.Document != "the house standard" {
		t.Errorf("%+v", b)
	}
	data, err := s.Encode()
	if err != nil || !bytes.Contains(data, []byte(`"version": 2`)) || bytes.Contains(data, []byte("c-value")) {
		t.Errorf("%v\n%s", err, data)
	}
	d := demo(t, "two-row")
	if got := failing(practice.Check(d, nil, s), "elevation"); got != nil {
		t.Errorf("%q", got)
	}
}

// A house that accepts more of the sides only does not let fronts go up.
func TestAHouseAcceptsMoreOfOneLayer(t *testing.T) {
	s, err := practice.DecodeStandard([]byte(`{"format": "earline-rules", "version": 2, "name": "ours", "rules": {
		"elevation": {"layers": {"side": {"max_deg": 24}}, "reason": "wide rows"}}}`), "ours")
	if err != nil {
		t.Fatal(err)
	}
	d := demo(t, "two-row")
	if got := failing(practice.Check(d, nil, s), "elevation"); got != nil {
		t.Errorf("%q", got)
	}
	hang(d, 2.3, "M+030", "M-030")
	if got := failing(practice.Check(d, nil, s), "elevation"); len(got) != 1 || !strings.HasPrefix(got[0], "M+030 and M-030 elevation") {
		t.Errorf("%q", got)
	}
}

func TestStandardOnDisk(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "house"+practice.Extension)
	s := practice.Standard{Name: "house", Changes: map[string]practice.Change{"guard": {Max: number(0.6), Reason: "children"}}}
	if err := practice.WriteStandard(path, s); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	s.Name = "house, second"
	if err := practice.WriteStandard(path, s); err != nil {
		t.Fatal(err)
	}
	got, err := practice.ReadStandard(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, got); diff != "" {
		t.Error(diff)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v", info.Mode())
	}
	if err := practice.WriteStandard(dir, s); err == nil {
		t.Error("replaced a folder")
	}
	s.Changes["guard"] = practice.Change{}
	if err := practice.WriteStandard(path, s); err == nil {
		t.Error("wrote what cannot be read")
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("%d files left", len(entries))
	}
	if err := os.WriteFile(path, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := practice.ReadStandard(path); err == nil || !strings.HasPrefix(err.Error(), "house.earline-rules: line 1 column 2: ") {
		t.Error(err)
	}
}

// FuzzDecodeStandard holds that no bytes panic, every error is made of faults of
// one line, and what decodes goes round unchanged.
func FuzzDecodeStandard(f *testing.F) {
	f.Add([]byte(`{"format":"earline-rules","version":1,"name":"n","rules":{"azimuth":{"max_deg":3,"reason":"r"},"guard":{"off":true,"reason":"x"}}}`))
	f.Add([]byte(`{"format":"earline-rules","version":1,"name":"","rules":{"a\nb":[],"steps":{"min_count":-0,"reason":"\ud800"}}}`))
	f.Add([]byte(`{"format":"earline-rules","version":2,"name":"","rules":{"elevation":{"layers":{"side":{"max_deg":22},"x":{}},"reason":"r"},"raise-spare":{"max_deg":1,"reason":"r"}}}`))
	f.Add([]byte(`{"format":"earline-rules","version":1,"name":"","rules":{"height-angle":{"off":true,"reason":"r"},"c-value":{"min_m":1,"reason":"r"},"elevation":{"off":true,"reason":"r"}}}`))
	f.Add([]byte("{"))
	f.Add([]byte("\xef\xbb\xbf[]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := practice.DecodeStandard(data, "x")
		if err != nil {
			faults := project.Faults(err)
			if len(faults) == 0 {
				t.Fatalf("no fault in %v", err)
			}
			for _, f := range faults {
				if strings.ContainsAny(f.Error(), "\n\r") {
					t.Fatalf("fault over lines: %q", f.Error())
				}
			}
			return
		}
		out, err := s.Encode()
		if err != nil {
			t.Fatal(err)
		}
		again, err := practice.DecodeStandard(out, "x")
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(s, again); diff != "" {
			t.Fatal(diff)
		}
	})
}
