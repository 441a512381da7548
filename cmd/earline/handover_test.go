// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/handover"
)

func TestTheCalibrationRecordIsToldAndWritten(t *testing.T) {
	_, out, errs := earline("handover", "demo:two-row")
	for _, want := range []string{"Channels", "Subwoofers", "Reference levels", "Reverberation", "Noise and picture", "____", "Order of work", "NIOSH"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s%s", want, out, errs)
		}
	}
	_, out, errs = earline("handover", "demo:two-row", "--json")
	var r handover.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil || len(r.Speakers) == 0 || len(r.Decay) != 8 {
		t.Errorf("%v %s", err, errs)
	}
	dir := t.TempDir()
	for name, begins := range map[string]string{"r.pdf": "%PDF-", "r.csv": "\ufeffpart,of,what,"} {
		path := filepath.Join(dir, name)
		if status, _, errs := earline("handover", "demo:two-row", "-q", "-o", path); status != statusFine {
			t.Error(errs)
		}
		if data, err := os.ReadFile(path); err != nil || !strings.HasPrefix(string(data), begins) {
			t.Errorf("%s: %.20q, %v", name, data, err)
		}
	}
	if _, out, _ = earline("handover", "demo:small", "-o", "-"); !strings.HasPrefix(out, "\ufeffpart,of,what,") {
		t.Errorf("%.40q", out)
	}
	refusals(t, map[string]string{
		"handover":                        "handover needs a FILE: a design, demo:NAME, or - for standard input",
		"handover demo:small -o x.docx":   `--output: found "x.docx", allowed: a name that ends in .pdf or .csv, or - for .csv`,
		"handover demo:small --json -o -": "standard output: found --json and --output -, allowed: one of them",
	})
}
