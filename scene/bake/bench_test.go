// SPDX-License-Identifier: MIT

package bake_test

import (
	"context"
	"testing"

	"earline/project/file"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// BenchmarkLight is the light of the large demo, as a client first sees it and as it is
// kept; BenchmarkShow is another scene of it.
func BenchmarkLight(b *testing.B) {
	d, _ := file.Demo("large")
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	m := light.Of(d)
	lamps := bake.LampsOf(m, list)
	for name, q := range map[string]bake.Quality{"quick": bake.Quick(), "full": bake.Full()} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				r := bake.Of(list, lamps, bake.Apart)
				if _, err := r.Light(context.Background(), q); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(r.Vertices()), "vertices")
				b.ReportMetric(float64(r.Triangles()), "triangles")
			}
		})
	}
}

func BenchmarkShow(b *testing.B) {
	m, l := baked(b, "large")
	d := bake.In(m, "house")
	for b.Loop() {
		l.Show(d)
	}
}
