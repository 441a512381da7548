// SPDX-License-Identifier: MIT

package locale

import (
	"os"
	"slices"
	"testing"
)

// Under a German desktop the file dialog said "Öffnen" and "Abbrechen" in an English
// window.
func TestFynesDialogsAreInEnglish(t *testing.T) {
	if got := os.Getenv("LANGUAGE"); got != "en" {
		t.Fatalf("LANGUAGE = %q, want %q", got, "en")
	}
}

func TestTheEnvironmentAsksForLanguages(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want []string
	}{
		{map[string]string{}, nil},
		{map[string]string{"LANG": "C.UTF-8"}, nil},
		{map[string]string{"LANG": "C.UTF-8", "LANGUAGE": "de"}, nil}, // as GNU gettext has it
		{map[string]string{"LANG": "de_AT.UTF-8"}, []string{"de"}},
		{map[string]string{"LANG": "de_DE.UTF-8", "LC_ALL": "en_GB.UTF-8"}, []string{"en"}},
		{map[string]string{"LANG": "de_DE.UTF-8", "LC_MESSAGES": "fr_FR"}, []string{"fr"}},
		{map[string]string{"LANG": "en_US.UTF-8", "LANGUAGE": "de_DE:en"}, []string{"de", "en", "en"}},
	} {
		got := fromEnvironment(func(k string) string { return c.env[k] })
		if !slices.Equal(got, c.want) {
			t.Errorf("%v asks for %v, want %v", c.env, got, c.want)
		}
	}
}
