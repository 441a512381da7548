// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/bass"
	"earline/project/measured"
)

// responses writes a table of what is computed of a demo at its seats, over dB more.
func responses(t *testing.T, name string, over float64) string {
	t.Helper()
	_, out, errs := earline("bass", "demo:"+name, "--json")
	var r bass.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err, errs)
	}
	var b strings.Builder
	b.WriteString("seat;hz;db\n")
	for _, s := range r.Seats {
		for i, f := range r.Frequencies {
			fmt.Fprintf(&b, "%d.%d;%s;%s\n", s.Row, s.Seat, strings.ReplaceAll(fmt.Sprintf("%.3f", f), ".", ","), strings.ReplaceAll(fmt.Sprintf("%.2f", s.Level[i]+over), ".", ","))
		}
	}
	path := filepath.Join(t.TempDir(), name+".csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestMeasuredResponsesAreReadKeptAndCompared(t *testing.T) {
	table := responses(t, "small", -93)
	kept := filepath.Join(t.TempDir(), "room.earline")
	status, out, errs := earline("responses", "demo:small", "--read", table, "-o", kept)
	if status != statusFine {
		t.Fatal(errs)
	}
	for _, want := range []string{"3 responses; thinned to 1/48 octave", "+93.0 dB", "Seat 1.1: 0.", "Seat to seat", "How far this holds"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	_, out, errs = earline("responses", kept, "--json")
	var r measured.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err, errs)
	}
	for _, s := range r.Groups[0].Seats {
		if s.RMS > 0.1 || math.Abs(s.Offset+93) > 0.3 { // it was thinned
			t.Errorf("%+v", s)
		}
	}
	if _, out, _ = earline("responses", kept, "--read", table); !strings.Contains(strings.Join(strings.Fields(out), " "), "3 in the place of what was there") {
		t.Error(out)
	}
}

func TestATableThatIsNotOfTheRoomIsRefused(t *testing.T) {
	table := responses(t, "two-row", 0)
	refusals(t, map[string]string{
		"responses":                                   "responses needs a FILE: a design, demo:NAME, or - for standard input",
		"responses demo:small":                        "demo:small: measured.responses: found none, allowed: one at least, or --read TABLE.csv",
		"responses demo:small -o x":                   "--output: found nothing read, allowed: together with --read or --noise",
		"responses demo:small --noise 30":             `--noise: found "30", allowed: 9 levels in dB with blanks between, by octave from 31.5 Hz to 8 kHz`,
		"responses demo:small --read none.csv":        "--read: none.csv: no such file or directory",
		"responses demo:small --read " + table:        "--read: " + table + `: seat: "2.1", "2.2", "2.3", allowed: the seats of this room, 1.1 to 1.3`,
		"responses demo:small --read 1.1=" + table:    "--read: " + table + ": line 1: a column of seats, allowed: a table of one seat, where the seat is named beside it",
		"responses demo:small --json --read - -o -":   "standard output: found --json and --output -, allowed: one of them",
		"responses demo:small --read " + table + " x": `responses: found 2 words ("demo:small", "x"), allowed: one FILE`,
	})
}

func TestMeasuredNoiseIsRatedAndKept(t *testing.T) {
	kept := filepath.Join(t.TempDir(), "room.earline")
	// NR 18 by its curve of ISO/R 1996, but for 63 Hz, which decides at NR 20.
	status, out, errs := earline("responses", "demo:small", "--noise", "60 51,3 37 28 22 18 14,5 12 10", "-o", kept)
	if status != statusFine || !strings.Contains(strings.Join(strings.Fields(out), " "), "Background noise: NR 20, measured, decided at 63 Hz, NC 20") {
		t.Errorf("%s%s", out, errs)
	}
	for _, verb := range []string{"responses", "sound"} {
		if _, out, errs = earline(verb, kept); !strings.Contains(strings.Join(strings.Fields(out), " "), "NR 20, measured, decided at 63 Hz") {
			t.Errorf("%s: %s%s", verb, out, errs)
		}
	}
}
