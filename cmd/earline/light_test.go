// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"strings"
	"testing"

	"earline/project/light"
)

func TestLightIsToldAndWritten(t *testing.T) {
	status, out, errs := earline("light", "demo:large")
	for _, want := range []string{"At full level, lx", "of it straight", "edge of row 2 at the left", "Show: ", "stray light of", "Scope 2.39:1 (white of", "Step lights: ", "The room throws back", "BS 5266-1"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s%s", want, out, errs)
		}
	}
	if status != statusFine {
		t.Error(status, errs)
	}
	_, out, errs = earline("light", "demo:large", "--json", "--scene", "show")
	var r light.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil || len(r.Groups) < 3 || len(r.Scenes) != 1 || r.Scenes[0].Scene != "show" || !(r.Scenes[0].Stray > 0) {
		t.Errorf("%v: %s%s", err, out, errs)
	}
}

func TestLightOfARoomWithoutLamps(t *testing.T) {
	if status, out, errs := earline("light", projectorRoom(t, "2000")); status != statusFine || !strings.Contains(out, "no light groups") || !strings.Contains(out, "reflectance not given") {
		t.Errorf("status %d:\n%s%s", status, out, errs)
	}
}

func TestPictureSaysWhatStrayLightLeaves(t *testing.T) {
	if _, out, errs := earline("picture", "demo:large"); !strings.Contains(out, "Stray light of the room") || !strings.Contains(out, "Show: ") {
		t.Errorf("%s%s", out, errs)
	}
}

func TestLightRefusesASceneThatIsNone(t *testing.T) {
	refusals(t, map[string]string{
		"light demo:large --scene dark": `--scene: found "dark", allowed: house, preshow, show or cleaning`,
		"light":                         "light needs a FILE: a design, demo:NAME, or - for standard input",
	})
}
