// SPDX-License-Identifier: MIT

package view

import (
	"testing"

	"earline/app/words"
	"earline/scene"
)

// The labels of the picture are in German, and the list that they come from stays as it is:
// a picture that is saved is made of that.
func TestLabelsAreInGerman(t *testing.T) {
	l := &scene.List{Labels: []scene.Label{{Text: "Row 2"}, {Text: "M+030"}}, Legend: []scene.Key{{Text: "blocked"}}}
	if spoken(l) != l {
		t.Error("English is copied")
	}
	c, err := words.Read([]byte(`{"Row %d": "Reihe %d", "blocked": "verdeckt"}`))
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(c)
	t.Cleanup(func() { words.Speak(nil) })
	g := spoken(l)
	if g.Labels[0].Text != "Reihe 2" || g.Labels[1].Text != "M+030" || g.Legend[0].Text != "verdeckt" {
		t.Errorf("%+v %+v", g.Labels, g.Legend)
	}
	if l.Labels[0].Text != "Row 2" || l.Legend[0].Text != "blocked" {
		t.Error("the list itself is changed")
	}
}
