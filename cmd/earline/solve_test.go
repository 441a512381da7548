// SPDX-License-Identifier: MIT

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// Lift, written to a file, leaves a room in which the audit finds nothing
// blocked.
func TestSolveLiftThenAudit(t *testing.T) {
	name := filepath.Join(t.TempDir(), "lifted.earline")
	status, out, errs := earline("solve", "demo:large", "lift", "-o", name)
	// The outer seats of row 2 stay tight, at what is accepted: said so.
	if status != statusShort || errs != "" {
		t.Fatalf("status %d, said %q\n%s", status, errs, out)
	}
	for _, want := range []string{"M+090 height: 1.400 m to 2.", "8 blocked", " 0 blocked", "\nGained: no pair of seat and loudspeaker blocked in place of 8. Not all is possible here.", "head in row 2"} {
		if !strings.Contains(out, want) {
			t.Errorf("does not say %q:\n%s", want, out)
		}
	}
	if status, out, errs := earline("audit", name); status != statusFine || !strings.Contains(out, " 0 blocked, 56 not judged") {
		t.Errorf("status %d %s\n%s", status, errs, out)
	}
	if status, out, _ := earline("solve", "demo:two-row", "lift"); status != statusFine || !strings.Contains(out, "Solved.") {
		t.Errorf("two-row: status %d\n%s", status, out)
	}
}

// For everyone the small room is as it should be; the two-row room cannot be
// had, and the people who break it are named with the height it would take.
func TestSolveForEveryone(t *testing.T) {
	status, out, errs := earline("solve", "demo:small", "lift", "--everyone")
	if status != statusFine || errs != "" || !strings.Contains(out, "Nobody from P5 to P95 at every recline finds a lifted loudspeaker blocked.") {
		t.Errorf("small: status %d, said %q\n%s", status, errs, out)
	}
	status, out, _ = earline("solve", "demo:two-row", "lift", "--everyone")
	for _, want := range []string{"M+090 and M-090 cannot be clear for everyone from P5 to P95 at every recline at any height", "the elevation limit of 20° allows",
		"row 2 seat 3 to M+090: P95 reclined 60° blocked by head in row 2 seat 2 of P5 reclined 8°"} {
		if status != statusShort || !strings.Contains(out, want) {
			t.Errorf("two-row: status %d, does not say %q:\n%s", status, want, out)
		}
	}
	status, out, _ = earline("solve", "demo:two-row", "rows", "--everyone")
	if status != statusShort || !strings.Contains(out, "Row 2 needs a riser of about ") || !strings.Contains(out, "for everyone from P5 to P95") {
		t.Errorf("rows: status %d\n%s", status, out)
	}
}

// Every solver answers on every demo with status 0 or 1 and says which.
func TestSolveAnswersOnTheDemos(t *testing.T) {
	for _, demo := range []string{"demo:small", "demo:two-row", "demo:large"} {
		for _, what := range [][]string{{"lift", "--settle", "--shift", "20cm"}, {"lift", "--plane"}, {"lift", "--everyone"}, {"rows", "--everyone"}, {"rows", "--curve", "3"}, {"rows", "--bottom"},
			{"screen", "--angle", "40"}, {"heights", "--grid", "60cmx60cm"}, {"heights", "--gap", "20cm"}, {"panels", "--light-gap", "3cm"}, {"panels", "--walls", "left,ceiling,2"}, {"layout", "--seats", "2", "--system", "C"}} {
			status, out, errs := earline(append([]string{"solve", demo}, what...)...)
			solved := strings.Contains(out, "\nSolved.\n")
			if errs != "" || solved != (status == statusFine) || !solved && status != statusShort || !strings.Contains(out, "\nafter ") {
				t.Errorf("%s %v: status %d, said %q\n%s", demo, what, status, errs, out)
			}
		}
	}
}

// What cannot be used is refused in one line with status 2.
func TestSolveRefuses(t *testing.T) {
	for _, args := range [][]string{
		{"solve", "demo:large", "everything"},
		{"solve", "demo:large"},
		{"solve", "no-such.earline", "lift"},
		{"solve", "demo:large", "lift", "--shift", "far"},
		{"solve", "demo:large", "lift", "--elevation", "120"},
		{"solve", "demo:large", "heights", "--grid", "60"},
		{"solve", "demo:large", "heights", "--gap", "wide"},
		{"solve", "demo:large", "heights", "--gap", "3m"},
		{"solve", "demo:large", "layout", "--system", "99"},
		{"solve", "demo:large", "layout", "--seats", "0"},
		{"solve", "demo:large", "screen", "--angle", "-4"},
		{"solve", "demo:small", "panels", "--diffuse", "panel-fabric"}, // which absorbs: 5 of them were "diffusing"
	} {
		status, out, errs := earline(args...)
		if status != statusUnusable || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: status %d, printed %q, said %q", args, status, out, errs)
		}
	}
}

// Panels, written to a file, are what sound asks for, and the lists have them one by one.
func TestSolvePanelsThenSound(t *testing.T) {
	name := filepath.Join(t.TempDir(), "panelled.earline")
	status, out, errs := earline("solve", "../../testdata/rooms/room-a.earline", "panels", "-o", name)
	if status != statusFine || errs != "" || !strings.Contains(out, "14 of 14 patches") || !strings.Contains(out, "left wall: ") {
		t.Fatalf("status %d, said %q\n%s", status, errs, out)
	}
	_, out, _ = earline("sound", name)
	for _, not := range []string{"X0.", "left wall: absorption", "back wall: absorption", "ceiling: absorption"} {
		if at := strings.Index(out, "Reverberation of"); at < 0 || strings.Contains(out[at:], not) {
			t.Errorf("sound still says %q:\n%s", not, out)
		}
	}
	if status, out, _ := earline("lists", name, "--list", "panels"); status != statusFine || !strings.Contains(out, "1 of ") || !strings.Contains(out, "fire class") || !strings.Contains(out, "M+090") {
		t.Errorf("status %d\n%s", status, out)
	}
}
