// SPDX-License-Identifier: MIT

package locale

import (
	"os"
	"testing"
)

// Under a German desktop the file dialog said "Öffnen" and "Abbrechen" in an English
// window.
func TestFynesDialogsAreInEnglish(t *testing.T) {
	if got := os.Getenv("LANGUAGE"); got != "en" {
		t.Fatalf("LANGUAGE = %q, want %q", got, "en")
	}
}
