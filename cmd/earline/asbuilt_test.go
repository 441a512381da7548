// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A site list goes out, comes back with M+090 five millimetres low, and row 1 seat 2 is
// named; the file of the plan is as it was.
func TestASiteListGoesOutAndComesBack(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if status, _, errs := earline("solve", "../../testdata/rooms/small-with-column.earline", "lift", "--allowance", "0", "-q", "-o", at("plan.earline")); status != 0 {
		t.Fatal(status, errs)
	}
	plan, err := os.ReadFile(at("plan.earline"))
	if err != nil {
		t.Fatal(err)
	}
	if status, _, errs := earline("asbuilt", at("plan.earline"), "--list", at("site.csv")); status != 0 {
		t.Fatal(status, errs)
	}
	list, err := os.ReadFile(at("site.csv"))
	if err != nil || !strings.HasPrefix(string(list), "\ufeffid,item,quantity,unit,planned,measured\r\n") {
		t.Fatalf("%.80q, %v", list, err)
	}
	fill := func(name, figure string) string {
		const line = "M+090 left side,from laser line,mm,464.0,"
		if !strings.Contains(string(list), line) {
			t.Fatalf("no %q in\n%s", line, list)
		}
		if err := os.WriteFile(at(name), []byte(strings.Replace(string(list), line, line+figure, 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		return at(name)
	}
	status, out, errs := earline("asbuilt", at("plan.earline"), fill("low.csv", "459"), "-o", at("built.earline"))
	if status != 0 || !strings.Contains(out, "M+090 left side: 5 mm too low") || !strings.Contains(out, "Row 1 seat 2") {
		t.Errorf("%d %s\n%s", status, errs, out)
	}
	if after, _ := os.ReadFile(at("plan.earline")); !bytes.Equal(plan, after) {
		t.Error("the plan was changed")
	}
	var report struct {
		Format  string
		Totals  struct{ Clear, Tight, Blocked int }
		AsBuilt struct {
			Plan struct{ Ears [3]int }
			Move []struct{ Item string }
		} `json:"as_built"`
	}
	_, out, _ = earline("asbuilt", at("built.earline"), "--json")
	if err := json.Unmarshal([]byte(out), &report); err != nil || report.Format != "earline-audit" || report.Totals.Clear != 17 || report.Totals.Tight != 1 ||
		report.AsBuilt.Plan.Ears != [3]int{18, 0, 0} || len(report.AsBuilt.Move) != 1 {
		t.Errorf("%+v, %v", report, err)
	}
	// Centimetres: asked about, and nothing is used until somebody says yes.
	status, out, errs = earline("asbuilt", at("plan.earline"), fill("cm.csv", "46.4"))
	if status != 2 || out != "" || !strings.Contains(errs, "Centimetres? Then it is 464 mm.") || !strings.Contains(errs, "--accept") {
		t.Errorf("%d %q\n%s", status, out, errs)
	}
	status, out, errs = earline("asbuilt", at("plan.earline"), at("cm.csv"), "--accept")
	if status != 0 || !strings.Contains(out, "as planned") {
		t.Errorf("%d %s\n%s", status, out, errs)
	}
	// A metre and more off is no figure of this thing, whatever anybody says.
	if status, _, errs = earline("asbuilt", at("plan.earline"), fill("far.csv", "1700"), "--accept"); status != 2 || !strings.Contains(errs, "1236 mm off the plan") {
		t.Errorf("%d %s", status, errs)
	}
}
