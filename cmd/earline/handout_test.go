// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestHandoutsAreWritten(t *testing.T) {
	dir := t.TempDir()
	for _, paper := range []string{"proof", "cards", "lists", "record", "book"} {
		if paper == "book" && testing.Short() {
			continue
		}
		var first []byte
		for range 2 { // the same room gives the same bytes
			out := filepath.Join(dir, paper+".pdf")
			if status, _, errs := earline("handout", "demo:small", paper, "-o", out); status != statusFine {
				t.Fatal(errs)
			}
			data, err := os.ReadFile(out)
			if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
				t.Fatalf("%s: %v, begins with %q", paper, err, data[:min(len(data), 12)])
			}
			if first != nil && paper != "book" && !bytes.Equal(first, data) {
				t.Errorf("%s: other bytes the second time", paper)
			}
			first = data
		}
	}
	for args, want := range map[string]string{
		"handout demo:small book":               "--out: found none",
		"handout demo:small poster -o x.pdf":    "book, proof, cards, lists, record",
		"handout demo:small proof -o proof.txt": "ends in .pdf",
	} {
		if status, _, errs := earline(strings.Fields(args)...); status != statusUnusable || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %s", args, status, errs)
		}
	}
}
