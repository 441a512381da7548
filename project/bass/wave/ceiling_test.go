// SPDX-License-Identifier: MIT

package wave

import (
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// Cut into cells, a gable holds the air that it has, equally much on both sides of the
// ridge, and a face of either slope gives by the cosine to its own slope.
func TestGableOnTheGrid(t *testing.T) {
	r := Box(5.8, 4.4, 3.1, 0.05)
	r.Ceiling = geometry.Ceiling{{Height: 1.6, AlongY: 1.5 / 2.2}, {Height: 4.6, AlongY: -1.5 / 2.2}}
	g, err := newGrid(r, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	var half [2]float64
	for i := range g.n[0] {
		for j := range g.n[1] {
			for k := range g.n[2] {
				if g.isAir(i, j, k) {
					half[2*j/g.n[1]] += g.h[0] * g.h[1] * g.h[2]
				}
			}
		}
	}
	geomtest.Within(t, "halves", half[0], half[1], 1e-9)
	want := 5.8*4.4*1.6 + 5.8*4.4*1.5/2 // a box and a prism
	geomtest.Within(t, "air", half[0]+half[1], want, 0.005*want)
	geomtest.Within(t, "height of the grid", float64(g.n[2])*g.h[2], 3.1, 1e-9)
	if !g.stairs(r) {
		t.Error("slopes are stairs on the grid")
	}
}
