// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/decay"
)

// table writes a table of times into a file.
func timesFile(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "times.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestDecaySaysHowLongThirdsAndModesRing(t *testing.T) {
	status, out, errs := earline("decay", "demo:small")
	for _, want := range []string{"by thirds of an octave", "bass by sum over modes", "wanted", "axial       (1,0,0)", "longer than wanted", "How far this holds", "there are two answers"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if status != statusShort || errs != "" {
		t.Errorf("%d, %s", status, errs)
	}
	_, out, _ = earline("decay", "demo:small", "--json")
	var r decay.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil || r.Format != "earline-decay" || len(r.Thirds) != 29 || len(r.Modes) == 0 || r.Modes[0].Time <= 0 {
		t.Errorf("%v in\n%.600s", err, out)
	}
}

func TestMeasuredTimesGoIntoTheDesignAndBassRingsByThem(t *testing.T) {
	to := filepath.Join(t.TempDir(), "r.earline")
	status, out, errs := earline("decay", "demo:small", timesFile(t, "hz;t60_s\n50;0,4\n63;0,35\n80;0,33\n"), "-o", to)
	if status != statusShort || !strings.Contains(out, "as was measured at 50, 63, 80 Hz") {
		t.Fatalf("%d %s\n%s", status, errs, out)
	}
	_, out, _ = earline("decay", to, "--json")
	var r decay.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	for _, third := range r.Thirds {
		if third.Hz == 63 && (third.Measured != 0.35 || third.Modal < 0.345 || third.Modal > 0.355) {
			t.Errorf("%+v", third)
		}
	}
	if _, out, _ := earline("bass", to); strings.Contains(out, "a measured decay time serves better") {
		t.Errorf("bass asks for what it has:\n%s", out)
	}
}

func TestTimesOfAnotherRoomAreAskedAboutAndAccepted(t *testing.T) {
	name := timesFile(t, "hz,t60_s\n63,0.4\n80,9\n")
	status, _, errs := earline("decay", "demo:small", name)
	if status != statusUnusable || strings.Count(errs, "\n") != 2 || !strings.Contains(errs, "80 Hz: 9 s is") || !strings.Contains(errs, "1 question open: --accept") {
		t.Errorf("%d %s", status, errs)
	}
	if status, _, errs := earline("decay", "demo:small", name, "--accept"); status != statusShort {
		t.Errorf("%d %s", status, errs)
	}
}

func TestTheChartOfDecayIsKept(t *testing.T) {
	status, out, errs := earline("decay", "demo:small", "--chart", "-")
	if status != statusShort || !strings.Contains(out, "bass, by thirds") || !strings.Contains(out, "axial modes") {
		t.Errorf("%d %s\n%.400s", status, errs, out)
	}
}

func TestDecayRefusesInOneLine(t *testing.T) {
	for _, args := range [][]string{
		{"demo:small", timesFile(t, "hz,ms\n63,400\n")},
		{"demo:small", timesFile(t, "hz,t60_s\n63,-1\n")},
		{"demo:small", "-o", "x.earline"},
		{"demo:small", "--accept"},
		{"demo:small", "none.csv"},
	} {
		status, out, errs := earline(append([]string{"decay"}, args...)...)
		if status != statusUnusable || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%q: %d %q %q", args, status, out, errs)
		}
	}
}
