// SPDX-License-Identifier: MIT

package modal

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"
	"sort"
	"sync"

	"earline/geometry"
)

// How the sum over modes is shortened. Along one axis, the run, the sum over all
// indices is known in closed form: it is the field of a plane source between two
// walls. So only the pairs of indices across are summed. With n their root,
// gamma^2 = kappa_q^2 + kappa_r^2 - k^2 and a the lesser, b the greater of the
// places of source and listener along the run,
//
//	p = 4 pi sum over q, r of psi_q psi_q psi_r psi_r/(N_q N_r) u(a) v(b)/W
//	u(x) = cosh(gamma x) + (h0/gamma) sinh(gamma x)
//	v(x) = cosh(gamma (L - x)) + (h1/gamma) sinh(gamma (L - x))
//	W = (h0 + h1) cosh(gamma L) + (gamma^2 + h0 h1) sinh(gamma L)/gamma
//
// (Green's function of one dimension, Morse and Ingard, Theoretical Acoustics,
// ch. 4; the product of both, 9.4). Pairs beyond the frequency die away along the
// run as exp(-gamma (b - a)), so few are needed where source and listener are
// apart: the run of each two is the axis that needs the fewest.

// reach is how far a pair counts along the run: what fades beyond exp(-reach) is left out,
// 1e-4 of the free field at 1 m in all.
const reach = 9

// classes are the distances along the run for which it is known how many pairs are
// needed: 0.2 m, and from each to the next a fourteenth more. A source and a listener
// nearer than the least along every axis count as that far apart: a subwoofer is
// not a point.
const (
	classes = 52
	least   = 0.2
	growing = 1.07
)

// kept are the classes of the sections that a Sum keeps, for all that are at least
// that far apart (0.7 and 1.3 m); nearer ones are rare and made anew.
var kept = [...]int{18, 28}

// apart returns the distance of a class, in metres.
func apart(class int) float64 { return least * math.Pow(growing, float64(class)) }

// class returns the greatest class that is d apart or less, or 0.
func class(d float64) int {
	return min(classes-1, int(max(0, math.Log(d/least)/math.Log(growing))))
}

// run returns the axis along which source and listener are best kept apart, and
// their class there.
func (s *Sum) run(source, ear geometry.Vec) (axis, c int) {
	least := math.Inf(1)
	for i, d := range [...]float64{source.X - ear.X, source.Y - ear.Y, source.Z - ear.Z} {
		here := class(math.Abs(d))
		if cost := s.pairs(i, here); cost < least {
			least, axis, c = cost, i, here
		}
	}
	return axis, c
}

// pairs returns about how many pairs of indices across are needed at the highest
// frequency.
func (s *Sum) pairs(axis, class int) float64 {
	k := cmplx.Abs(s.k[len(s.k)-1])
	a := s.room.Volume() / s.room.side(axis)
	perimeter := (s.room.edges()/4 - s.room.side(axis)) * 2
	cut := math.Sqrt(k*k + steepest(class)*steepest(class))
	return a*cut*cut/(4*math.Pi) + perimeter*cut/(4*math.Pi) + 1
}

// steepest is the greatest gamma, in 1/m, that counts for a class.
func steepest(class int) float64 { return reach / apart(class) }

// section is a room cut across one axis.
type section struct {
	sum             *Sum
	run, across, up int // axes
	class           int // the nearest that it serves
	pairs           []pair
	indices         [2]int         // how many of them across and up
	counts          [][]int        // [class][frequency]: how many of the pairs are needed
	each            []int          // [band]: so many pairs are summed at each frequency, the others at the nodes
	nodes           [][]node       // [band][node]
	strength        [][]complex128 // [frequency]: 4 pi/(W N_q N_r) of the former
	after, before   func() []trace // [band], what the listeners hear
}

// pair is a pair of indices across and up, and its wave number between rigid walls.
type pair struct {
	q, r int
	k    float64 // 1/m
}

// section makes the section across an axis for all that are of the class or
// farther apart, heard at the ears.
func (s *Sum) section(axis, class int, ears []geometry.Vec) *section {
	c := &section{sum: s, run: axis, across: (axis + 1) % 3, up: (axis + 2) % 3, class: class}
	c.choose()
	l := s.room.side(axis)
	most := [2]int{1, 1} // indices needed at each frequency
	for i := range s.bands {
		for _, p := range c.pairs[:min(c.each[i], c.count(class, i))] {
			most = [2]int{max(most[0], p.q+1), max(most[1], p.r+1)}
		}
	}
	all := c.spectrum(s.frequencies, s.losses, most)
	for i, b := range s.bands {
		n := c.count(class, i)
		for f := b.lo; f < b.hi; f++ {
			row := make([]complex128, min(n, c.each[i]))
			for m := range row {
				_, row[m] = all[f].line(c.pairs[m], l)
			}
			c.strength = append(c.strength, row)
		}
		at := all[b.lo:b.hi]
		if b.carry != nil {
			at = c.spectrum(b.at, b.losses, c.indices)
		}
		here := make([]node, len(at))
		for k := range here {
			here[k] = node{across: at[k].across, up: at[k].up, lines: make([]line, n)}
			for m := range n {
				line, strength := at[k].line(c.pairs[m], l)
				here[k].lines[m] = line
				if m >= c.each[i] {
					here[k].strength = append(here[k].strength, strength)
				}
			}
		}
		c.nodes = append(c.nodes, here)
	}
	c.after = sync.OnceValue(func() []trace { return c.heard(ears, true) })
	c.before = sync.OnceValue(func() []trace { return c.heard(ears, false) })
	return c
}

// choose fills in the pairs and how many are needed.
func (c *section) choose() {
	s := c.sum
	across, up := math.Pi/s.room.side(c.across), math.Pi/s.room.side(c.up)
	// exp(gamma L) must not overflow; so steep a pair counts a few centimetres from
	// its source only.
	cut := func(f, class int) float64 {
		k := real(s.k[f])
		return math.Hypot(k, min(steepest(class), 600/s.room.side(c.run)))
	}
	most := cut(len(s.k)-1, c.class)
	for q := 0; float64(q)*across <= most; q++ {
		for r := 0; ; r++ {
			k := math.Hypot(float64(q)*across, float64(r)*up)
			if k > most {
				break
			}
			c.pairs = append(c.pairs, pair{q, r, k})
			c.indices = [2]int{max(c.indices[0], q+1), max(c.indices[1], r+1)}
		}
	}
	slices.SortFunc(c.pairs, func(a, b pair) int { return cmp.Or(cmp.Compare(a.k, b.k), a.q-b.q, a.r-b.r) })
	c.counts = make([][]int, classes)
	for i := c.class; i < classes; i++ {
		for f := range s.k {
			most := cut(f, i)
			c.counts[i] = append(c.counts[i], c.upTo(most))
		}
	}
	// To carry a sum costs as much as a dozen pairs: those that are needed 2 m apart are
	// summed at each frequency too.
	usual := max(c.class, class(2))
	for i, b := range s.bands {
		c.each = append(c.each, max(c.upTo(b.top), c.count(usual, i)))
	}
}

// upTo returns how many pairs are at or below a wave number.
func (c *section) upTo(k float64) int {
	return sort.Search(len(c.pairs), func(m int) bool { return c.pairs[m].k > k })
}

// count returns how many pairs are needed anywhere in a band.
func (c *section) count(class, band int) int { return c.counts[class][c.sum.bands[band].hi-1] }

// apartFrom returns the ear, moved along the run if it is nearer to the source
// than the least of apart.
func apartFrom(source, ear geometry.Vec, axis int, room Room) geometry.Vec {
	at, d := along(source, axis), along(ear, axis)-along(source, axis)
	if math.Abs(d) >= least {
		return ear
	}
	way := math.Copysign(least, d)
	if to := at + way; to < 0 || to > room.side(axis) {
		way = -way
	}
	v := [...]float64{ear.X, ear.Y, ear.Z}
	v[axis] = min(room.side(axis), max(0, at+way))
	return geometry.V(v[0], v[1], v[2])
}
