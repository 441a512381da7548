// SPDX-License-Identifier: MIT

package drawingtest

import (
	"os"
	"path/filepath"
	"testing"
)

// Keep writes a file into the folder that EARLINE_EXPORTS names, for programs that are
// not part of the tests; nothing where it names none.
func Keep(t testing.TB, name string, doc []byte) {
	t.Helper()
	folder := os.Getenv("EARLINE_EXPORTS")
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, name), doc, 0o600); err != nil {
		t.Fatal(err)
	}
}
