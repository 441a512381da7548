// SPDX-License-Identifier: MIT

package figure_test

import (
	"context"
	"testing"

	"earline/project/bass"
	"earline/project/blend"
	"earline/project/sound"
	"earline/scene/figure"
)

// The chart shows both alone and together at the seat chosen, the other seats thinly, and
// only what is proposed where something is.
func TestCrossover(t *testing.T) {
	d, audit := demo(t, "small")
	var store bass.Store
	st, err := blend.Of(context.Background(), &store, d, blend.Mains(d), nil)
	if err != nil {
		t.Fatal(err)
	}
	a := st.Answer(0)
	c := figure.Crossover(a, 2, figure.SeatOf(&audit.Room))
	if len(c.Series) != len(audit.Seats)-1+3 || a.Changes() {
		t.Errorf("%d series, something proposed: %v", len(c.Series), a.Changes())
	}
	together := series(t, c, "together")
	want := a.Sum(0, a.Set).Together.Seat(2)
	for i, l := range together.Y {
		if l != want[i] || l > c.Y.Max {
			t.Fatalf("%v at %v Hz, want %v; the axis ends at %v", l, together.X[i], want[i], c.Y.Max)
		}
	}
	a.Set.Inverted = true
	c = figure.Crossover(a, 2, figure.SeatOf(&audit.Room))
	series(t, c, "together as set")
	series(t, c, "together as proposed")
}

// The main that is shown is heavy, its dip marked with the surface that digs it.
func TestBoundaries(t *testing.T) {
	d, audit := demo(t, "small")
	all, err := sound.Boundaries(context.Background(), d, &audit.Room)
	if err != nil {
		t.Fatal(err)
	}
	c := figure.Boundaries(all, &audit.Room, 1)
	if name := audit.Speakers[all[1].Speaker].Name(); !series(t, c, name).Heavy || len(c.Series) != len(all) {
		t.Errorf("%s is not shown among %d", name, len(c.Series))
	}
	if (len(c.Marks) == 1) != all[1].Dip.Matters() {
		t.Errorf("marks %v, dip %+v", c.Marks, all[1].Dip)
	}
}
