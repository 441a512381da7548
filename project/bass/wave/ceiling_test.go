// SPDX-License-Identifier: MIT

package wave

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// Cut into cells, a gable holds the air that it has, equally much on both sides of the
// ridge, and its surfaces take by their area, slopes by their slant one.
func TestGableOnTheGrid(t *testing.T) {
	r := Box(5.8, 4.4, 3.1, 0.05)
	r.Ceiling = geometry.Ceiling{{Height: 1.6, AlongY: 1.5 / 2.2}, {Height: 4.6, AlongY: -1.5 / 2.2}}
	g, err := newGrid(r, 0.07)
	if err != nil {
		t.Fatal(err)
	}
	volume, surface := g.measure()
	var half [2]float64
	for i := range g.n[0] {
		for j := range g.n[1] {
			for k := range g.n[2] {
				side := 0.5
				if 2*j+1 != g.n[1] {
					side = float64(2 * j / g.n[1])
				}
				v := g.air(i, j, k) * g.h[0] * g.h[1] * g.h[2]
				half[0] += (1 - side) * v
				half[1] += side * v
			}
		}
	}
	geomtest.Within(t, "halves", half[0], half[1], 1e-6*volume)
	want := 5.8*4.4*1.6 + 5.8*4.4*1.5/2 // a box and a prism
	geomtest.Within(t, "air", volume, want, 1e-6*want)
	area := 5.8*4.4 + 2*5.8*1.6 + 2*(4.4*1.6+4.4*1.5/2) + 2*5.8*math.Hypot(2.2, 1.5)
	geomtest.Within(t, "surface", surface, 0.05*area, 1e-5*area)
	geomtest.Within(t, "height of the grid", float64(g.n[2])*g.h[2], 3.1, 1e-9)
}

// measure returns the air of all cells, in cubic metres, and the sum of admittance
// times area of the surfaces, in square metres.
func (g *grid) measure() (volume, surface float64) {
	full := g.h[0] * g.h[1] * g.h[2]
	for _, f := range g.fill {
		volume += float64(f) * full
	}
	for _, l := range g.loss {
		surface += float64(l) * full / (g.courant[0] * g.h[0] / 2)
	}
	return volume, surface
}
