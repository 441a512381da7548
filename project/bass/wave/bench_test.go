// SPDX-License-Identifier: MIT

package wave

import (
	"context"
	"testing"

	"earline/geometry"
)

// 1 s of sound in a room of 110 m3 at 300 Hz and 10 points a wavelength, from one
// source to 24 seats. updates/s counts the points really computed: half of the
// grid at each step, see the package's comment. cells/s counts what a whole grid
// would have taken.
func BenchmarkWave(b *testing.B) {
	room := Box(8, 5, 2.75, 0.05)
	room.Blocks = []Block{{Footprint: geometry.Polygon{{X: 5}, {X: 8}, {X: 8, Y: 5}, {X: 5, Y: 5}}, Top: 0.3, Gives: 0.05}}
	for _, bc := range []struct {
		name             string
		sources, workers int
	}{{"sources=1,workers=1", 1, 1}, {"sources=1,workers=2", 1, 2}, {"sources=4,workers=2", 4, 2}} {
		b.Run(bc.name, func(b *testing.B) {
			var sources, ears []geometry.Vec
			for i := range bc.sources {
				sources = append(sources, geometry.V(0.3+2*float64(i), 0.3, 0.3))
			}
			for i := range 24 {
				ears = append(ears, geometry.V(3+0.9*float64(i/6), 0.8+0.65*float64(i%6), 1.2))
			}
			f := span(20, 300, 1.4)
			g, err := newGrid(room, 343.2/3000)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(context.Background(), room, sources, ears, f, Options{Duration: 1, Decay: 120, Workers: bc.workers}); err != nil {
					b.Fatal(err)
				}
			}
			steps := float64(b.N) * float64(bc.sources) / g.dt
			b.ReportMetric(steps*float64(g.points)/2/b.Elapsed().Seconds(), "updates/s")
			b.ReportMetric(steps*float64(g.points)/b.Elapsed().Seconds(), "cells/s")
		})
	}
	// The time steps alone.
	b.Run("steps", func(b *testing.B) {
		g, err := newGrid(room, 343.2/3000)
		if err != nil {
			b.Fatal(err)
		}
		p := [2][]float32{make([]float32, g.size), make([]float32, g.size)}
		in, err := g.taps("source", geometry.V(1, 1, 1))
		if err != nil {
			b.Fatal(err)
		}
		for _, t := range in {
			p[t.class][t.at] = 1
		}
		parts := [2]*work{g.part(0, 0, g.n[2]+1), g.part(1, 0, g.n[2]+1)}
		n := 0
		for b.Loop() {
			g.advance(p[n&1], p[1-n&1], n&1, parts[n&1])
			n++
		}
		b.ReportMetric(float64(n)*float64(g.points)/2/b.Elapsed().Seconds(), "updates/s")
	})
}
