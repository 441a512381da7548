// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project"
	"earline/project/bass"
	"earline/project/file"
)

func TestEqualiseIsToldAndWritten(t *testing.T) {
	dir := t.TempDir()
	to, list, sections := filepath.Join(dir, "equalised.earline"), filepath.Join(dir, "filters.csv"), filepath.Join(dir, "biquads.json")
	status, out, errs := earline("equalise", "demo:small", "--boost", "3 dB", "-o", to, "--filters", list, "--biquads", sections, "--rate", "96000")
	if status != statusFine || errs != "" {
		t.Fatalf("status %d, said %q", status, errs)
	}
	for _, want := range []string{"target flat, 20 to 80 Hz", "Filters of all subwoofers", "31.5", "headroom after", "nearer the target", "What was not filled", "exactly as it was", "Loud bass harms hearing"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s", want, out)
		}
	}
	rows, err := os.ReadFile(list)
	if err != nil || !strings.Contains(string(rows), "output,filter,kind,hz,gain_db,q") || !strings.Contains(string(rows), "all subwoofers,1,peak,") {
		t.Errorf("%v: %s", err, rows)
	}
	data, err := os.ReadFile(sections)
	if err != nil {
		t.Fatal(err)
	}
	var b bass.Biquads
	if err := json.Unmarshal(data, &b); err != nil || b.Rate != 96000 || len(b.Sections) == 0 || b.Convention != bass.Convention {
		t.Errorf("%v: %s", err, data)
	}
	var keys map[string]any
	if err := json.Unmarshal(data, &keys); err != nil {
		t.Fatal(err)
	}
	documented(t, keys)
	// What was written is in the levels: nothing more is found to cut.
	_, out, _ = earline("bass", to)
	if !strings.Contains(out, "of the equalisation") {
		t.Errorf("bass does not say that filters are in it:\n%s", out)
	}
}

// The answer as data, whose variance is the same before and after.
func TestEqualiseAsJSON(t *testing.T) {
	_, out, errs := earline("equalise", "demo:small", "--json")
	var r bass.ReportEqualised
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err, errs)
	}
	if r.Format != "earline-equalise" || len(r.Filters) == 0 || len(r.Mean) != len(r.Frequencies) || r.Deviation >= r.DeviationBefore || math.Abs(r.Variance-r.VarianceBefore) > 1e-9 {
		t.Errorf("%+v", r)
	}
	var keys map[string]any
	if err := json.Unmarshal([]byte(out), &keys); err != nil {
		t.Fatal(err)
	}
	documented(t, keys)
}

// A target in a table is taken, kept in the design, and used the next time.
func TestATargetFromATable(t *testing.T) {
	dir := t.TempDir()
	target, to := filepath.Join(dir, "rising.csv"), filepath.Join(dir, "room.earline")
	if err := os.WriteFile(target, []byte("Hz;dB\n20;5\n80;0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, out, errs := earline("equalise", "demo:small", "--target", target, "-o", to); errs != "" || !strings.Contains(out, "target rising") {
		t.Fatalf("said %q:\n%s", errs, out)
	}
	if _, out, errs := earline("equalise", to); errs != "" || !strings.Contains(out, "target rising") {
		t.Errorf("said %q:\n%s", errs, out)
	}
	if _, out, errs := earline("equalise", to, "--target", "flat"); errs != "" || !strings.Contains(out, "target flat") {
		t.Errorf("said %q:\n%s", errs, out)
	}
}

func TestBadEqualisersAreRefusedInOneLine(t *testing.T) {
	steep := filepath.Join(t.TempDir(), "steep.csv")
	if err := os.WriteFile(steep, []byte("hz,db\n20,50\n80,0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	refusals(t, map[string]string{
		"equalise demo:small --boost 9":               `--boost: found "9", allowed: 0 to 3 dB`,
		"equalise demo:small --most 0":                `--most: found "0", allowed: 1 to 20`,
		"equalise demo:small --to 8000":               `--to: found "8000", allowed: 16 to 160 Hz`,
		"equalise demo:small --from 100 --to 40":      "demo:small: band: 100 to 40 Hz, allowed: an end above its beginning; an end that is left out is the crossover",
		"equalise demo:small --from 100":              "demo:small: band: 100 to 80 Hz, allowed: an end above its beginning; an end that is left out is the crossover",
		"responses demo:small --read 1.2=":            `--read: found "1.2=", allowed: [SEAT=]TABLE.csv`,
		"equalise demo:small --target loud":           `--target: found "loud", allowed: flat, or a table that ends in .csv`,
		"equalise demo:small --target no.csv":         "no.csv: no such file or directory",
		"equalise demo:small --target " + steep:       steep + ": equalisation.target.points[0].db: 50 dB, allowed: -20 dB to 20 dB",
		"equalise demo:small --filters x.txt":         `--filters: found "x.txt", allowed: a name that ends in .csv, or -`,
		"equalise demo:small --biquads x.txt":         `--biquads: found "x.txt", allowed: a name that ends in .csv or .json, or -`,
		"equalise demo:small --rate 48000":            "--rate: found no --biquads, allowed: together with --biquads",
		"equalise demo:small --filters - --biquads -": "standard output: found --filters - and --biquads -, allowed: one of them",
	})
}

// Filters that stay stood in a list of their own without a word on whose they are: one of
// the centre looked like one of the subwoofers.
func TestFiltersThatStaySayWhoseTheyAre(t *testing.T) {
	d, _ := file.Demo("small")
	d = d.Clone()
	d.Equalisation.Filters = []project.Filter{
		{Of: d.Speakers[len(d.Speakers)-1].ID, Kind: project.Peak, Frequency: 41, Gain: -13, Q: 6.6},
		{Of: d.Speakers[2].ID, Kind: project.Peak, Frequency: 1000, Gain: -3, Q: 1},
		{Of: project.AllSubwoofers, Kind: project.HighPass, Frequency: 15, Q: 0.7},
	}
	name := filepath.Join(t.TempDir(), "kept.earline")
	if err := file.Write(name, d); err != nil {
		t.Fatal(err)
	}
	_, out, errs := earline("equalise", name)
	for _, want := range []string{"6.6  of LFE1", "1  of M+000", "0.7  of all subwoofers"} {
		if !strings.Contains(out, want+"\n") {
			t.Errorf("no %q, said %q:\n%s", want, errs, out)
		}
	}
}
