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
	const wide, step, y, high = 900, 37, 330, 600
	// A whole sweep of the line meets something, however often the loop runs.
	hits := 0
	for x := 0; x < wide; x += step {
		if _, ok := scene.Pick(d, &r.Room, cam, float64(x), y, wide, high); ok {
			hits++
		}
	}
	if hits == 0 {
		b.Fatal("nothing picked")
	}
	b.ReportAllocs()
	x := 0
	for b.Loop() {
		x = (x + step) % wide
		scene.Pick(d, &r.Room, cam, float64(x), y, wide, high)
	}
}

// BenchmarkBuildAgain is the picture of an edit that moves a loudspeaker.
func BenchmarkBuildAgain(b *testing.B) {
	d := demo(b, "large")
	r := audited(d)
	var builder scene.Builder
	b.ReportAllocs()
	for b.Loop() {
		d.Speakers[5].At.Z += 1e-6
		builder.Build(d, r, scene.Default())
	}
}

// BenchmarkFade is one step of a fade: half the rows and loudspeakers differ.
func BenchmarkFade(b *testing.B) {
	was := demo(b, "large")
	is := was.Clone()
	for i := range is.Speakers {
		if i%2 == 0 {
			is.Speakers[i].At.Z += 0.2
		}
	}
	is.Seating.Rows[1].Riser += 0.1
	var builder scene.Builder
	o := scene.Default()
	share := 0.0
	b.ReportAllocs()
	for b.Loop() {
		if share += 0.02; share > 0.99 {
			share = 0.02
		}
		o.Fade = &scene.Fade{Was: was, Share: share}
		builder.Build(is, nil, o)
	}
}
