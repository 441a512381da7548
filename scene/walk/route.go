// SPDX-License-Identifier: MIT

package walk

import (
	"container/heap"
	"math"
	"slices"

	"earline/geometry"
)

// mesh is how far apart the places are that Route tries, metres.
const mesh = 0.1

// care is how one goes: with so much room about one's middle, metres, and past people or
// through where they sit, as if they stood up.
type care struct {
	room float64
	past bool
}

// Route returns the way on foot from one place to another, both Free: the corners of a
// line on the floor, its ends among them. It keeps off walls and people where it can. ok
// is false where there is no way.
func (g *Ground) Route(from, to geometry.Vec) (way []geometry.Vec, ok bool) {
	const easy = 0.28 // m, beside which one passes without turning
	for _, c := range [...]care{{easy, true}, {body, true}, {body, false}} {
		if way, ok = g.search(from, to, c); ok {
			return g.pulled(way, c), true
		}
	}
	return nil, false
}

// passable reports whether one can stand on foot with that care.
func (g *Ground) passable(foot geometry.Vec, c care) bool {
	return g.fits(foot, stooped, c.room) && (!c.past || apart(g.people, foot, stooped, c.room))
}

// straight reports whether one can walk straight from a to b, both passable.
func (g *Ground) straight(a, b geometry.Vec, c care) bool {
	const stride = 0.04 // m
	before := a
	n := int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / stride))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		foot := g.foot(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y))
		if math.Abs(foot.Z-before.Z) > climb || i < n && !g.passable(foot, c) {
			return false
		}
		before = foot
	}
	return true
}

// cell is a place of the net of places round the start.
type cell struct{ i, j int }

// open is a place to go on from, by what it costs to get to the end over it.
type open struct {
	at   cell
	cost float64
}

type queue []open

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(open)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// search returns the shortest way over the net. (A*: P. E. Hart, N. J. Nilsson and
// B. Raphael, IEEE Trans. Systems Science and Cybernetics 4, 1968.)
func (g *Ground) search(from, to geometry.Vec, c care) ([]geometry.Vec, bool) {
	at := func(k cell) geometry.Vec { return g.foot(from.X+mesh*float64(k.i), from.Y+mesh*float64(k.j)) }
	left := func(p geometry.Vec) float64 { return math.Hypot(to.X-p.X, to.Y-p.Y) }
	free := map[cell]bool{{}: true} // the start may be beside something
	walked := map[cell]float64{{}: 0}
	back := map[cell]cell{}
	done := map[cell]bool{}
	q := &queue{{cell{}, left(from)}}
	for q.Len() > 0 {
		k := heap.Pop(q).(open).at
		if done[k] {
			continue
		}
		done[k] = true
		p := at(k)
		if left(p) < mesh && g.straight(p, to, c) {
			way := []geometry.Vec{to}
			for ; k != (cell{}); k = back[k] {
				way = append(way, at(k))
			}
			way = append(way, from)
			slices.Reverse(way)
			return way, true
		}
		for i := -1; i <= 1; i++ {
			for j := -1; j <= 1; j++ {
				next := cell{k.i + i, k.j + j}
				if done[next] {
					continue
				}
				foot := at(next)
				can, known := free[next]
				if !known {
					can = g.passable(foot, c)
					free[next] = can
				}
				if !can || math.Abs(foot.Z-p.Z) > climb {
					continue
				}
				cost := walked[k] + mesh*math.Hypot(float64(i), float64(j))
				if was, seen := walked[next]; seen && was <= cost {
					continue
				}
				walked[next], back[next] = cost, k
				heap.Push(q, open{next, cost + left(foot)})
			}
		}
	}
	return nil, false
}

// pulled returns way without the corners that one need not go round.
func (g *Ground) pulled(way []geometry.Vec, c care) []geometry.Vec {
	out := way[:1:1]
	for at := 0; at < len(way)-1; {
		next := at + 1
		for far := len(way) - 1; far > next; far-- {
			if g.straight(way[at], way[far], c) {
				next = far
				break
			}
		}
		out = append(out, way[next])
		at = next
	}
	return out
}
