// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"strings"
	"testing"

	"earline/project"
)

// A finish is picked from the list, coloured by hand, made brighter, and given up again.
func TestAFinishIsChosen(t *testing.T) {
	b := newBench(t, "large")
	b.in.open.looks = true
	pick := func(name string) {
		_, names := finishPlaces(b.Design())
		b.in.look = slices.Index(names, name)
		if b.in.look < 0 {
			t.Fatalf("no %q among %q", name, names)
		}
		b.in.show()
	}
	choose := func(line, what string) {
		l := b.line(t, surfacesGroup, line)
		i := slices.Index(l.Choice.Options, what)
		if i < 0 {
			t.Fatalf("%s: no %q among %q", line, what, l.Choice.Options)
		}
		l.Choice.SetSelectedIndex(i)
	}
	pick("Floor")
	choose("Ready finish", "mid-grey carpet")
	floor := func() project.Finish { return b.Design().Room.Finishes.Floor }
	if floor().Words() != "mid-grey carpet" {
		t.Errorf("the floor is %+v", floor())
	}
	if got := b.line(t, surfacesGroup, "Reflectance").Entry.Text; !strings.Contains(got, "by its colour") {
		t.Errorf("reflectance %q", got)
	}
	enter(b.line(t, surfacesGroup, "Colour"), "#3C5A46")
	if floor().Colour != "#3c5a46" || floor().Material != project.Carpet {
		t.Errorf("the floor is %+v", floor())
	}
	enter(b.line(t, surfacesGroup, "Colour"), "green")
	if floor().Colour != "#3c5a46" {
		t.Errorf("a word is taken for a colour: %+v", floor())
	}
	enter(b.line(t, surfacesGroup, "Reflectance"), "0.7")
	if floor().Reflectance != 0 {
		t.Error("dark green that throws back 0.7 is taken")
	}
	choose("Ready finish", "not chosen")
	if floor() != (project.Finish{}) {
		t.Errorf("the floor is still %+v", floor())
	}
	enter(b.line(t, surfacesGroup, "Reflectance"), "0.3")
	if floor() != (project.Finish{Reflectance: 0.3}) {
		t.Errorf("the floor is %+v", floor())
	}
	pick("Left wall")
	choose("Ready finish", "oak veneer")
	if got := b.Design().Room.Finishes.Wall; len(got) != 1 || got[0].Finish().Words() != "oak veneer" {
		t.Errorf("walls of their own: %+v", got)
	}
	choose("Ready finish", "as the walls")
	if got := b.Design().Room.Finishes.Wall; len(got) != 0 {
		t.Errorf("walls of their own: %+v", got)
	}
	pick("Screen")
	enter(b.line(t, surfacesGroup, "Reflectance"), "0.9")
	if got := b.Design().Room.Finishes.Screen; got != (project.Finish{Reflectance: 0.9}) {
		t.Errorf("the screen is %+v", got)
	}
}
