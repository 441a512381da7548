// SPDX-License-Identifier: MIT

package main

import (
	"encoding/csv"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var updateSetout = flag.Bool("update-setout", false, "write the set-out printed now over the one that is kept")

// The set-out of a demo room as an installer reads it; it changes only in a commit that
// says why.
func TestTheSetOutReadsAsItDid(t *testing.T) {
	status, out, errs := earline("setout", "demo:small")
	if status != statusFine || errs != "" {
		t.Fatalf("status %d, said %q", status, errs)
	}
	const golden = "testdata/setout-small.txt"
	if *updateSetout {
		if err := os.WriteFile(golden, []byte(out), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(out, "\n")); diff != "" {
		t.Errorf("changed (-was +now); if it should: go test ./cmd/earline -run SetOutReads -update-setout\n%s", diff)
	}
	for i, line := range strings.Split(out, "\n") {
		if n := len([]rune(line)); n > 104 {
			t.Errorf("line %d is %d wide", i+1, n)
		}
	}
}

// A list is written for a spreadsheet by the name of its file, and what it cannot be
// written as is refused before any work.
func TestASetOutIsWrittenByTheNameOfItsFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "List.CSV")
	if status, out, errs := earline("setout", "demo:small", "-o", name, "-q", "--units", "imperial"); status != statusFine || out+errs != "" {
		t.Fatal(status, out, errs)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff"))).ReadAll()
	if err != nil || len(all) < 15 || all[0][5] != "above line (in)" {
		t.Errorf("%d rows, %v: %q", len(all), err, all[0])
	}
	if status, out, _ := earline("setout", "demo:small", "-o", "-"); status != statusFine || !strings.HasPrefix(out, "\ufeffid,part,") {
		t.Errorf("wrote %.20q to standard output", out)
	}
	for _, c := range []struct{ args, want string }{
		{"setout demo:small -o list.xls", `--output: found "list.xls", allowed: a name that ends in .csv`},
		{"setout demo:small --units furlongs", `--units: found "furlongs", allowed: metric or imperial`},
		{"setout demo:small --json -o -", "standard output: found --json and --output -"},
		{"setout", "setout needs a FILE"},
	} {
		status, out, errs := earline(strings.Fields(c.args)...)
		if status != statusUnusable || out != "" || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: status %d, said %q, want %q", c.args, status, errs, c.want)
		}
	}
}

// The list as data has every item of the words, and a bad datum is refused by its field.
func TestTheSetOutAsData(t *testing.T) {
	_, out, errs := earline("setout", "demo:large", "--json")
	var got struct {
		Format string
		Items  []struct{ ID, Name string }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err, errs)
	}
	_, words, _ := earline("setout", "demo:large")
	if got.Format != "earline-setout" || len(got.Items) < 40 {
		t.Errorf("%s, %d items", got.Format, len(got.Items))
	}
	for _, it := range got.Items {
		if !strings.Contains(words, "  "+it.Name+": ") {
			t.Errorf("the words leave out %s", it.Name)
		}
	}
	_, demo, _ := earline("demo", "small", "-o", "-")
	bad := strings.Replace(demo, `"units":`, `"datum": {"height_m": 1, "across_from": "north wall"}, "units":`, 1)
	bad = strings.Replace(bad, `"version": 1`, `"version": 2`, 1)
	if status, _, errs := earlineReads(bad, "setout", "-"); status != statusUnusable || !strings.Contains(errs, `datum.across_from: "north wall", allowed: centre line, `) {
		t.Errorf("status %d, said %q", status, errs)
	}
}
