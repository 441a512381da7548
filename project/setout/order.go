// SPDX-License-Identifier: MIT

package setout

import (
	"cmp"
	"slices"
)

// walk puts the items in the order of the walk: the screen wall first, because the middle
// of the picture is the centre line from which everything across the room is measured;
// then on round the room, right, back and left, so that nobody crosses it twice and the
// laser on its tripod stays where it is; then the ceiling, when the ladder comes; and the
// floor last, where tripod and ladder stood. At the screen wall the picture comes before what
// is on the wall and behind the screen. On a wall from left to right, as one comes
// to it, and what is above another first; on ceiling and floor from the screen to the
// back, and from left to right.
func (b *builder) walk() {
	rank := b.walkOrder()
	type key struct {
		stage, layer int
		first, then  float64
	}
	of := func(it *Item) key {
		switch it.On {
		case OnCeiling:
			return key{len(rank), 0, it.At.X, it.At.Y}
		case OnFloor:
			return key{len(rank) + 1, 0, it.At.X, it.At.Y}
		}
		layer := 1
		switch {
		case it.Kind == Picture, it.Kind == Border:
			layer = 0
		case it.On == BehindScreen:
			layer = 2
		}
		w := &b.walls[it.Wall-1]
		return key{rank[it.Wall-1], layer, flat(it.At).Sub(w.left).Dot(w.along), -it.At.Z}
	}
	const level = 1e-6 // m: beyond any tape
	near := func(a, b float64) int {
		if a-b < level && b-a < level {
			return 0
		}
		return cmp.Compare(a, b)
	}
	order := make([]int, len(b.items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := of(&b.items[i]), of(&b.items[j])
		return cmp.Or(p.stage-q.stage, p.layer-q.layer, near(p.first, q.first), near(p.then, q.then))
	})
	items := make([]Item, len(b.items))
	for n, i := range order {
		items[n] = b.items[i]
	}
	b.items = items
}

// walkOrder returns when each wall comes, beginning with the one behind the picture and
// going on to the right.
func (b *builder) walkOrder() []int {
	c, _, _ := b.d.Screen.Picture()
	n := len(b.walls)
	step := 1
	if b.poly.Area() > 0 { // its corners run the other way
		step = n - 1
	}
	rank := make([]int, n)
	at := b.screenWall(c) - 1
	for i := range n {
		rank[at] = i
		at = (at + step) % n
	}
	return rank
}
