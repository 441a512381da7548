// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestExportWritesAModel(t *testing.T) {
	out := filepath.Join(t.TempDir(), "room.glb")
	if status, _, errs := earline("export", "demo:small", "-o", out); status != statusFine {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(out)
	if err != nil || !bytes.HasPrefix(data, []byte("glTF\x02\x00\x00\x00")) {
		t.Errorf("%v, begins with %q", err, data[:min(len(data), 12)])
	}
	for args, want := range map[string]string{
		"export demo:small":             "--out: found none",
		"export demo:small -o room.obj": "ends in .glb",
	} {
		if status, _, errs := earline(strings.Fields(args)...); status != statusUnusable || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %s", args, status, errs)
		}
	}
}
