// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/project"
	"earline/project/file"
)

// Sound and bass told 1,817 W and 52 W of the same subwoofers. They tell the same now,
// to the letter, in words and as data.
func TestBothVerbsTellTheSameOfSubwoofers(t *testing.T) {
	told := func(verb string) (lines []string, output any) {
		_, text, errs := earline(verb, "../../testdata/rooms/room-a.earline")
		if errs != "" {
			t.Fatal(errs)
		}
		for line := range strings.Lines(text) {
			if strings.Contains(line, " needs ") && strings.Contains(line, "weakest") || strings.HasPrefix(line, "Main position: ") || strings.HasPrefix(line, "Weakest: ") {
				lines = append(lines, line)
			}
		}
		_, data, _ := earline(verb, "../../testdata/rooms/room-a.earline", "--json")
		var all map[string]any
		if err := json.Unmarshal([]byte(data), &all); err != nil {
			t.Fatal(err)
		}
		return lines, all[map[string]string{"sound": "subwoofer_output", "bass": "output"}[verb]]
	}
	a, x := told("sound")
	b, y := told("bass")
	if diff := cmp.Diff(a, b); diff != "" || len(a) != 4 {
		t.Errorf("%d lines; -sound +bass:\n%s", len(a), diff)
	}
	if diff := cmp.Diff(x, y); diff != "" || x == nil {
		t.Errorf("-sound +bass:\n%s", diff)
	}
}

// Where drivers run out of excursion the table says so, and no watts mend it.
func TestBassSaysWhereExcursionLimits(t *testing.T) {
	d, _ := file.Demo("small")
	for i := range d.Models {
		if m := &d.Models[i]; m.Subwoofer() {
			m.Excursion, m.Power = 1, 5000
		}
	}
	name := filepath.Join(t.TempDir(), "small.earline")
	if err := file.Write(name, d); err != nil {
		t.Fatal(err)
	}
	if _, text, errs := earline("bass", name); errs != "" || !strings.Contains(text, "short, by the excursion of a driver") || !strings.Contains(text, "e limited by excursion") {
		t.Errorf("%s\n%s", errs, text)
	}
	d.Models[0].Excursion, d.Models[0].Space = 1000, project.Space("corner")
	if err := file.Write(name, d); err == nil || !strings.Contains(err.Error(), "excursion_mm") || !strings.Contains(err.Error(), "free field") {
		t.Errorf("said %v", err)
	}
}
