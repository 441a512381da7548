// SPDX-License-Identifier: MIT

package sound

import (
	"testing"

	"earline/project"
)

// A round column shades what a square one about it shades, or less.
func TestARoundColumnShadesNoMoreThanTheSquareAboutIt(t *testing.T) {
	column := func(round bool) Grid {
		d := hall(1, 1, 1)
		d.Room.Features = []project.Feature{{Kind: project.Column, Name: "column", At: project.Point{X: 4, Y: 2}, Length: 0.4, Width: 0.4, Height: 3, Round: round}}
		g, err := Map(t.Context(), d, MapOptions{Octave: 6, Step: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	open, err := Map(t.Context(), hall(1, 1, 1), MapOptions{Octave: 6, Step: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	round, square := column(true), column(false)
	shaded, less := 0, 0
	for i := range open.Values {
		if round.Values[i] < open.Values[i]-1e-9 {
			shaded++
		}
		if round.Values[i] > open.Values[i]+1e-9 {
			t.Errorf("point %v is louder behind a round column", open.point(i))
		}
		if square.Values[i] < round.Values[i]-1e-9 {
			less++
		}
	}
	if shaded < 20 || less == 0 {
		t.Errorf("%d points shaded, %d less than by the square", shaded, less)
	}
}
