// SPDX-License-Identifier: MIT

package locale

import "testing"

func TestSet(t *testing.T) {
	for _, c := range []struct {
		name string
		env  map[string]string
		want string
	}{
		{"container", map[string]string{"LANG": "C.UTF-8"}, "en"},
		{"plain C is understood", map[string]string{"LANG": "C"}, ""},
		{"a language of the user's", map[string]string{"LANG": "C.UTF-8", "LANGUAGE": "de"}, "de"},
		{"LC_ALL wins", map[string]string{"LC_ALL": "fr_FR.UTF-8", "LANG": "C.UTF-8"}, ""},
		{"nothing set", map[string]string{}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			set(func(k string) string { return c.env[k] }, func(k, v string) { c.env[k] = v })
			if got := c.env["LANGUAGE"]; got != c.want {
				t.Fatalf("LANGUAGE = %q, want %q", got, c.want)
			}
		})
	}
}
