// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"testing"

	"earline/geometry"
	"earline/project/bass/field"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
)

// In a bare box both ways answer alike however much its surfaces take, alike all
// round or not, to 0.2 dB rms and 2 % of the spatial variance.
func TestBothWaysAtAnyAbsorption(t *testing.T) {
	room := modal.Room{Length: 5.2, Width: 4.1, Height: 2.5}
	f := Octaves(Lowest, Highest, 24)
	sources := []geometry.Vec{{X: 0.5, Y: 0.4, Z: 0.3}, {X: 4.7, Y: 3.6, Z: 0.3}}
	ears := []geometry.Vec{{X: 2.6, Y: 1.3, Z: 1.1}, {X: 2.6, Y: 2.9, Z: 1.1}, {X: 3.6, Y: 1.3, Z: 1.3}, {X: 3.6, Y: 2.9, Z: 1.3}}
	for name, alpha := range map[string][6]float64{ // front, back, left, right, floor, ceiling
		"0.1": {0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, "0.3": {0.3, 0.3, 0.3, 0.3, 0.3, 0.3},
		"0.5": {0.5, 0.5, 0.5, 0.5, 0.5, 0.5}, "0.8": {0.8, 0.8, 0.8, 0.8, 0.8, 0.8},
		"side wall 0.34": {0.08, 0.06, 0.34, 0.09, 0.07, 0.22}, "floor 0.35": {0.04, 0.2, 0.1, 0.24, 0.35, 0.06},
	} {
		var g [6]float64
		for i, a := range alpha {
			g[i] = field.Admittance(a)
		}
		sum, err := modal.New(room, modal.Surfaces{Front: g[0], Back: g[1], Left: g[2], Right: g[3], Floor: g[4], Ceiling: g[5]}.Damping(), ears, f)
		if err != nil {
			t.Fatal(err)
		}
		a, err := sum.Transfer(sources)
		if err != nil {
			t.Fatal(err)
		}
		box := wave.Box(room.Length, room.Width, room.Height, 0)
		// The edges of the footprint are those of y = 0, x = length, y = width, x = 0.
		box.Walls, box.FloorGives, box.CeilingGives = []float64{g[2], g[1], g[3], g[0]}, g[4], g[5]
		b, err := wave.Run(context.Background(), box, sources, ears, f, wave.Options{PointsPerWavelength: 24})
		if err != nil {
			t.Fatal(err)
		}
		subs := make([]Sub, len(sources))
		x, err := Combine(a, subs)
		if err != nil {
			t.Fatal(err)
		}
		y, err := Combine(b, subs)
		if err != nil {
			t.Fatal(err)
		}
		sum2 := 0.0
		for i := range x.Level {
			sum2 += math.Pow(x.Level[i]-y.Level[i], 2) / float64(len(x.Level))
		}
		rms, modes, waves := math.Sqrt(sum2), x.Figures().MeanSpatialVariance, y.Figures().MeanSpatialVariance
		t.Logf("%s: %.2f dB rms, spatial variance %.2f by modes, %.2f by waves", name, rms, modes, waves)
		if rms > 0.2 || math.Abs(waves/modes-1) > 0.02 {
			t.Errorf("%s: %.2f dB rms, spatial variance %.2f by modes, %.2f by waves", name, rms, modes, waves)
		}
	}
}
