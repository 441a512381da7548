// SPDX-License-Identifier: MIT

package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// "earline __complete audit demo:" answered nothing.
func TestTheShellCompletesWhatThereIs(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	for _, name := range []string{"hall.earline", "notes.txt", "ours.earline-rules", "rooms/den.earline"} {
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		typed string // the last word is what has been begun; _ is nothing yet
		want  []string
		not   []string
	}{
		{"audit _", []string{"demo:small", "demo:large", "hall.earline", "rooms/"}, []string{"notes.txt"}},
		{"audit demo:small ha", []string{"hall.earline"}, []string{"demo:small"}},
		{"audit rooms/", []string{"rooms/den.earline"}, []string{"hall.earline"}},
		{"audit " + dir + "/h", []string{dir + "/hall.earline"}, nil},
		{"sound demo:small de", nil, []string{"demo:small"}},
		{"audit demo:small --rules _", []string{"ours.earline-rules"}, []string{"hall.earline"}},
		{"render demo:small --view _", []string{"overview", "plan", "seat:1.3", "ear:1.1:M+030", "walk:"}, nil},
		{"render --view s", []string{"seat:"}, nil},
		{"render demo:small --rays _", []string{"problems", "all", "none"}, nil},
		{"render demo:small --map M", []string{"M+030", "M-110"}, []string{"LFE1"}},
		{"sound demo:small --loudspeaker L", []string{"LFE1"}, nil},
		{"sound demo:small --seat _", []string{"1.1", "1.3"}, nil},
		{"sound demo:small --target _", []string{"reference", "private"}, nil},
		{"sound demo:small --octave _", []string{"63", "8000"}, nil},
		{"sound demo:small --polar c", []string{"compact="}, nil},
		{"solve demo:small _", []string{"lift", "layout"}, nil},
		{"solve demo:small layout --system 4", []string{"4+5+0"}, nil},
		{"demo _", []string{"small", "two-row"}, []string{"hall.earline"}},
		{"--demo _", []string{"small"}, nil},
		{"completion _", []string{"bash", "zsh"}, nil},
		{"help _", []string{"audit"}, nil},
	} {
		words := strings.Fields(c.typed)
		if last := len(words) - 1; words[last] == "_" {
			words[last] = ""
		}
		_, out, _ := earline(append([]string{"__complete"}, words...)...)
		var got []string
		for _, line := range strings.Split(out, "\n") {
			word, _, _ := strings.Cut(line, "\t")
			got = append(got, word)
		}
		for _, w := range c.want {
			if !slices.Contains(got, w) {
				t.Errorf("%s: %q is not offered in %q", c.typed, w, got)
			}
		}
		for _, w := range c.not {
			if slices.Contains(got, w) {
				t.Errorf("%s: %q is offered", c.typed, w)
			}
		}
	}
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		if status, out, errs := earline("completion", shell); status != statusFine || errs != "" || !strings.Contains(out, "earline") {
			t.Errorf("%s: status %d, said %q", shell, status, errs)
		}
	}
}
