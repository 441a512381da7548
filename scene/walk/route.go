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
	return g.footing(foot) && g.fits(foot, stooped, c.room) && (!c.past || apart(g.people, foot, stooped, c.room))
}

// straight reports whether one can walk straight from a to b, both passable.
func (g *Ground) straight(a, b geometry.Vec, c care) bool {
	const stride = 0.04 // m
	n := int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / stride))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		if !g.passable(g.foot(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)), c) {
			return false
		}
	}
	return g.climbable(a, b)
}

// climbable reports whether no edge on the straight line from a to b is too high.
func (g *Ground) climbable(a, b geometry.Vec) bool {
	const stride = 0.01 // m: a corner that is cut by less is not noticed
	before := a.Z
	n := int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / stride))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		z := g.floor(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y))
		if math.Abs(z-before) > climb {
			return false
		}
		before = z
	}
	return true
}

// footing reports whether a foot finds room there: not on a tread too narrow for one
// between a lower and a higher edge.
func (g *Ground) footing(foot geometry.Vec) bool {
	const half, round = 0.06, 8 // m, of a foot; places about it
	lo, hi := foot.Z, foot.Z
	for k := range round {
		s, c := math.Sincos(2 * math.Pi * float64(k) / round)
		z := g.floor(foot.X+half*c, foot.Y+half*s)
		lo, hi = min(lo, z), max(hi, z)
	}
	return hi-lo <= climb
}

// cell is a place of the net, so many steps of mesh from the origin.
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

// search returns the shortest way over a net of places that is the same whichever way one
// goes. (A*: P. E. Hart, N. J. Nilsson and B. Raphael, IEEE Trans. Systems Science and
// Cybernetics 4, 1968.)
func (g *Ground) search(from, to geometry.Vec, c care) ([]geometry.Vec, bool) {
	at := func(k cell) geometry.Vec { return g.foot(mesh*float64(k.i), mesh*float64(k.j)) }
	left := func(p geometry.Vec) float64 { return math.Hypot(to.X-p.X, to.Y-p.Y) }
	free := map[cell]bool{}
	can := func(k cell) bool {
		ok, known := free[k]
		if !known {
			ok = g.passable(at(k), c)
			free[k] = ok
		}
		return ok
	}
	walked := map[cell]float64{}
	back := map[cell]cell{}
	done, first, last := map[cell]bool{}, map[cell]bool{}, map[cell]bool{}
	q := new(queue)
	for _, k := range around(from) {
		if can(k) && g.straight(at(k), from, c) {
			first[k], walked[k] = true, at(k).Dist(from)
			heap.Push(q, open{k, walked[k] + left(at(k))})
		}
	}
	for _, k := range around(to) {
		last[k] = can(k) && g.straight(at(k), to, c)
	}
	for q.Len() > 0 {
		k := heap.Pop(q).(open).at
		if done[k] {
			continue
		}
		done[k] = true
		p := at(k)
		if last[k] {
			way := []geometry.Vec{to, p}
			for !first[k] {
				k = back[k]
				way = append(way, at(k))
			}
			way = append(way, from)
			slices.Reverse(way)
			return way, true
		}
		for i := -1; i <= 1; i++ {
			for j := -1; j <= 1; j++ {
				next := cell{k.i + i, k.j + j}
				if done[next] || !can(next) || !g.climbable(p, at(next)) {
					continue
				}
				cost := walked[k] + mesh*math.Hypot(float64(i), float64(j))
				if was, seen := walked[next]; first[next] || seen && was <= cost {
					continue
				}
				walked[next], back[next] = cost, k
				heap.Push(q, open{next, cost + left(at(next))})
			}
		}
	}
	return nil, false
}

// around returns the cells about a place.
func around(p geometry.Vec) []cell {
	const far = 2 // cells
	var out []cell
	i, j := int(math.Round(p.X/mesh)), int(math.Round(p.Y/mesh))
	for k := i - far; k <= i+far; k++ {
		for l := j - far; l <= j+far; l++ {
			out = append(out, cell{k, l})
		}
	}
	return out
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
