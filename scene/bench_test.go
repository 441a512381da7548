// SPDX-License-Identifier: MIT

package scene_test

import (
	"fmt"
	"testing"

	"earline/scene"
)

func BenchmarkBuild(b *testing.B) {
	d := demo(b, "large")
	r := audited(d)
	b.Run(fmt.Sprintf("seats=%d,loudspeakers=%d", len(r.Seats), len(r.Speakers)), func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			n += len(scene.Build(d, r, scene.Default()).Meshes)
		}
		if n == 0 {
			b.Fatal("nothing built")
		}
	})
}

func BenchmarkPick(b *testing.B) {
	d := demo(b, "large")
	r := audited(d)
	cam := scene.Overview(d, 1.5)
	b.ReportAllocs()
	x, hits := 0.0, 0
	for b.Loop() {
		x = float64(int(x+37) % 900)
		if _, ok := scene.Pick(d, r, cam, x, 330, 900, 600); ok {
			hits++
		}
	}
	if hits == 0 {
		b.Fatal("nothing picked")
	}
}
