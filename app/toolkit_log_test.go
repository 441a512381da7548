// SPDX-License-Identifier: MIT

package app

import (
	"bytes"
	"log"
	"testing"
)

// Every Open wrote "this computer does not define a VIDEOS folder" to the terminal.
func TestAHomeWithoutVideosIsNoFault(t *testing.T) {
	var out bytes.Buffer
	l := log.New(&toolkitLog{to: &out}, "", 0)
	l.Println("Fyne error: ", "Getting favorite locations")
	l.Println("  Cause:", "this computer does not define a VIDEOS folder")
	l.Printf("  At: %s:%d", "file.go", 396)
	l.Println("Fyne error: ", "another")
	l.Println("  Cause:", "a real one")
	if want := "Fyne error:  another\n  Cause: a real one\n"; out.String() != want {
		t.Errorf("logged %q, want %q", out.String(), want)
	}
}
