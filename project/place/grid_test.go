// SPDX-License-Identifier: MIT

package place

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
)

// However many cells are passed over, each is marked as if it had been asked by itself.
func TestEveryCellNearAWallIsTaken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(0, 1)
		a, b, long, wide := num.Draw(t, "a"), num.Draw(t, "b"), 2+8*num.Draw(t, "long"), 2+6*num.Draw(t, "wide")
		walls := geometry.Polygon{{X: 0, Y: 0}, {X: long, Y: a}, {X: long, Y: wide}, {X: long * b, Y: wide}, {X: long * b, Y: wide * (0.3 + 0.6*a)}, {X: 0, Y: wide * (0.3 + 0.6*a)}}
		lo, hi := walls.Bounds()
		g := &grid{lo: lo, step: 0.1}
		g.nx, g.ny = int((hi.X-lo.X)/g.step)+1, int((hi.Y-lo.Y)/g.step)+1
		g.taken, g.narrow = make([]bool, g.nx*g.ny), make([]bool, g.nx*g.ny)
		for y := range g.ny {
			g.within(walls, y)
		}
		g.narrows()
		for c := range g.taken {
			p := g.middle(c)
			if want := !walls.Contains(p) || walls.Distance(p) < atWall; g.taken[c] != want {
				t.Fatalf("%v of %v: taken is %v", p, walls, g.taken[c])
			}
			x, y := c%g.nx, c/g.nx
			want := x < 2 || y < 2 || x >= g.nx-2 || y >= g.ny-2
			for dy := -2; dy <= 2 && !want; dy++ {
				want = slices.Contains(g.taken[c-2+dy*g.nx:c+3+dy*g.nx], true)
			}
			if g.narrow[c] != want {
				t.Fatalf("%v of %v: narrow is %v", p, walls, g.narrow[c])
			}
		}
	})
}
