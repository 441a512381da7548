// SPDX-License-Identifier: MIT

package picture

import (
	"testing"

	"earline/project/file"
	"earline/project/place"
)

func BenchmarkOf(b *testing.B) {
	d, _ := file.Demo("large")
	for b.Loop() {
		Of(d)
	}
}

func BenchmarkWays(b *testing.B) {
	d, _ := file.Demo("large")
	r := place.Of(d)
	for b.Loop() {
		place.Ways(r)
	}
}

func BenchmarkWalkersIn(b *testing.B) {
	d, _ := file.Demo("large")
	w, beams := WalkersOf(place.Of(d), 3), Beams(d)
	for b.Loop() {
		w.In(beams)
	}
}

func BenchmarkPassages(b *testing.B) {
	d, _ := file.Demo("large")
	r := Of(d)
	for b.Loop() {
		r.Passages()
	}
}
