// SPDX-License-Identifier: MIT

package project_test

import (
	"slices"
	"testing"

	"earline/project"
)

// A wall is named by the way it faces whichever way round the corners run.
func TestWallSide(t *testing.T) {
	r := demo(t, "small").Room
	want := []string{"left", "back", "right", "screen"} // corners run back, right, forward
	for i, w := range want {
		if got := r.WallSide(i + 1); got != w {
			t.Errorf("wall %d is %q, want %q", i+1, got, w)
		}
	}
	slices.Reverse(r.Footprint)
	for i, w := range []string{"right", "back", "left", "screen"} {
		if got := r.WallSide(i + 1); got != w {
			t.Errorf("the other way round wall %d is %q, want %q", i+1, got, w)
		}
	}
	if got := r.WallName(1); got != "right wall" {
		t.Errorf("the only one on its side is the %q", got)
	}
	r.Footprint = []project.Corner{corner(0, 0), corner(4, 2), corner(2, 4)}
	if got := r.WallSide(1); got != "" {
		t.Errorf("a wall askew is %q", got)
	}
	if got := r.WallName(1) + ", " + r.WallName(3); got != "wall A, wall C" {
		t.Error(got)
	}
	if r.WallSide(0)+r.WallSide(9) != "" {
		t.Error("a wall that is not there has a side")
	}
}

// A wall had two names, "back wall (wall 2)" and "wall 2, back". It has one, and where a
// side has several walls letters tell them apart.
func TestAWallHasOneName(t *testing.T) {
	r := demo(t, "large").Room
	for i, want := range []string{"left wall", "back wall A", "right wall B", "back wall C", "right wall D", "screen wall"} {
		if got := r.WallName(i + 1); got != want {
			t.Errorf("wall %d is the %q, want %q", i+1, got, want)
		}
	}
	if r.WallName(0)+r.WallName(7) != "" {
		t.Error("a wall that is not there has a name")
	}
	for range 60 {
		r.Footprint = append(r.Footprint, r.Footprint[:6]...)
	}
	seen := map[string]bool{}
	for i := range r.Footprint {
		if seen[r.WallName(i+1)] {
			t.Fatalf("two walls are the %s", r.WallName(i+1))
		}
		seen[r.WallName(i+1)] = true
	}
}
