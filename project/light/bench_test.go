// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// lamps40 is the large demo with 40 lamps.
func lamps40(b *testing.B) *project.Design {
	d, ok := file.Demo("large")
	if !ok {
		b.Fatal("no demo")
	}
	d = d.Clone()
	g := project.LightGroup{Kind: project.Downlight, Flux: 12000, Beam: 60, Scenes: project.SceneLevels{House: 1}}
	for i := range 8 {
		for k := range 5 {
			g.At = append(g.At, project.Point{X: 0.9 + 0.9*unit.Length(i), Y: 0.9 + 0.9*unit.Length(k), Z: 3.4})
		}
	}
	d.LightGroups = []project.LightGroup{g}
	return d
}

// On the picture alone, straight.
func BenchmarkScreen(b *testing.B) {
	m := Of(lamps40(b))
	r := &Result{Model: m}
	b.ReportAllocs()
	for b.Loop() {
		r.Screen = nil
		r.screen()
		for i := range r.Screen {
			s := &r.Screen[i]
			s.Lux = make([]float64, m.Layers)
			m.Direct(s.Lux, s.At, s.Normal)
		}
	}
}

// All layers.
func BenchmarkStudy(b *testing.B) {
	for _, name := range []string{"small", "two-row", "large", "lamps"} {
		b.Run(name, func(b *testing.B) {
			d := lamps40(b)
			if name != "lamps" {
				d, _ = file.Demo(name)
			}
			for b.Loop() {
				if _, err := Study(context.Background(), d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
