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
	r.Footprint = []project.Corner{corner(0, 0), corner(4, 2), corner(2, 4)}
	if got := r.WallSide(1); got != "" {
		t.Errorf("a wall askew is %q", got)
	}
	if r.WallSide(0)+r.WallSide(9) != "" {
		t.Error("a wall that is not there has a side")
	}
}
