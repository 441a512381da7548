// SPDX-License-Identifier: MIT

package scene

import (
	"testing"

	"github.com/go-gl/mathgl/mgl32"
	"pgregory.net/rapid"
)

// Every direction lies in one cell, and the cell in that direction; the faces look along
// their axes.
func TestEveryDirectionHasItsCell(t *testing.T) {
	var a Around
	for face, want := range []mgl32.Vec3{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}} {
		if got := a.Way(face, 0, 0); got != want {
			t.Errorf("face %d looks along %v, want %v", face, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		face := rapid.IntRange(0, 5).Draw(t, "face")
		u, v := rapid.Float32Range(-0.99, 0.99).Draw(t, "s"), rapid.Float32Range(-0.99, 0.99).Draw(t, "t")
		f, s, tt := a.Cell(a.Way(face, u, v).Mul(3))
		const rounding = 1e-6
		if f != face || max(s-u, u-s, tt-v, v-tt) > rounding {
			t.Fatalf("face %d, %g, %g comes back as %d, %g, %g", face, u, v, f, s, tt)
		}
	})
}
