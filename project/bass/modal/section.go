// SPDX-License-Identifier: MIT

package modal

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"
	"sort"

	"gonum.org/v1/gonum/blas/cblas128"

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

// Terms below exp(-reach) of their place of origin are left out.
const reach = 9

// apart are the distances along the run, in metres, for which it is known how
// many pairs are needed. A source and a listener nearer than the least along every
// axis count as that far apart: a subwoofer is not a point.
var apart = [...]float64{0.2, 0.3, 0.45, 0.65, 0.9, 1.1, 1.4, 1.8, 2.4, 3.2, 4.5}

// kept are the indices in apart of the sections that a Sum keeps, for all that are
// at least that far apart; nearer ones are rare and made anew.
var kept = [...]int{4, 6, 8}

// class returns the index of the greatest of apart that is d or less, or 0.
func class(d float64) int {
	return max(0, sort.Search(len(apart), func(i int) bool { return apart[i] > d })-1)
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
func steepest(class int) float64 { return reach / apart[class] }

// section is a room cut across one axis: all that does not depend on where the
// sources are.
type section struct {
	run, across, up int // axes
	pairs           [][2]int
	waves           [2][]waves // across and up, by frequency
	indices         [2]int     // how many of them
	counts          [][]int    // [class][frequency]: how many of the pairs are needed
	terms           [][]term   // [frequency][pair]
	// before and after are what a listener hears of what runs towards the far end of
	// the run and towards its origin: [frequency][listener][pair] flat.
	after, before [][]complex128
}

// term is one pair of indices across at one frequency.
type term struct {
	gamma complex128
	// Of a source at x, with e = exp(gamma x): ahead e + back/e is what listeners at
	// x or farther get, near/e + far e those before.
	ahead, back, near, far complex128
}

// section makes the section across an axis for all that are of the class or
// farther apart.
func (s *Sum) section(axis, class int, ears []geometry.Vec) *section {
	c := &section{run: axis, across: (axis + 1) % 3, up: (axis + 2) % 3}
	k2 := make([]float64, len(s.k))
	for i, k := range s.k {
		k2[i] = real(k) * real(k)
	}
	// exp(gamma L) must not overflow; so steep a pair counts a few centimetres from
	// its source only.
	steepest := func(class int) float64 { return min(steepest(class), 700/s.room.side(axis)) }
	most := k2[len(k2)-1] + math.Pow(steepest(class), 2)
	var across []float64 // (q pi/W)^2 + (r pi/H)^2 of the pairs
	unit := [2]float64{math.Pi / s.room.side(c.across), math.Pi / s.room.side(c.up)}
	type pair struct {
		index [2]int
		k2    float64
	}
	var all []pair
	for q := 0; ; q++ {
		left := most - math.Pow(float64(q)*unit[0], 2)
		if left < 0 {
			break
		}
		for r := 0; math.Pow(float64(r)*unit[1], 2) <= left; r++ {
			all = append(all, pair{[2]int{q, r}, math.Pow(float64(q)*unit[0], 2) + math.Pow(float64(r)*unit[1], 2)})
		}
	}
	slices.SortFunc(all, func(a, b pair) int { return cmp.Compare(a.k2, b.k2) })
	for _, p := range all {
		c.pairs, across = append(c.pairs, p.index), append(across, p.k2)
		for i := range 2 {
			c.indices[i] = max(c.indices[i], p.index[i]+1)
		}
	}
	c.counts = make([][]int, len(apart))
	for i := class; i < len(apart); i++ {
		c.counts[i] = make([]int, len(s.k))
		for f := range s.k {
			c.counts[i][f] = sort.SearchFloat64s(across, k2[f]+math.Pow(steepest(i), 2)) // the first is always below
		}
	}
	c.waves[0] = follow(s.room.side(c.across), s.k, s.admittances(c.across), c.indices[0])
	c.waves[1] = follow(s.room.side(c.up), s.k, s.admittances(c.up), c.indices[1])

	l := s.room.side(axis)
	g := s.admittances(axis)
	shape := c.shape()
	for f, k := range s.k {
		n := c.counts[class][f]
		terms := make([]term, n)
		h0, h1 := 1i*k*complex(g[f][0], 0), 1i*k*complex(g[f][1], 0)
		after, before := make([]complex128, n*len(ears)), make([]complex128, n*len(ears))
		type plain struct{ ahead, back, near, far complex128 }
		bare := make([]plain, n)
		a, b := &c.waves[0][f], &c.waves[1][f]
		for i := range terms {
			q, r := c.pairs[i][0], c.pairs[i][1]
			gamma := cmplx.Sqrt(a.kappa[q]*a.kappa[q] + b.kappa[r]*b.kappa[r] - k*k)
			// Where nothing changes along the run, the closed form is 0/0; its limit is
			// smooth.
			if least := 1e-5 / l; cmplx.Abs(gamma) < least {
				gamma = complex(least, 0)
			}
			turn := cmplx.Exp(-2 * gamma * complex(l, 0))
			w := ((h0+h1)*(1+turn) + (gamma+h0*h1/gamma)*(1-turn)) / 2
			scale := 4 * math.Pi / (w * a.norm[q] * b.norm[r])
			bare[i] = plain{(1 + h0/gamma) / 2, (1 - h0/gamma) / 2, (1 + h1/gamma) / 2, (1 - h1/gamma) / 2 * turn}
			terms[i] = term{gamma, scale * bare[i].ahead, scale * bare[i].back, scale * bare[i].near, scale * bare[i].far}
		}
		for j, ear := range ears {
			shape.set(f, ear)
			x := along(ear, axis)
			to, from := after[j*n:(j+1)*n], before[j*n:(j+1)*n]
			for i := range terms {
				e, inverse := growth(terms[i].gamma, x)
				across := shape.of(c.pairs[i])
				to[i] = across * (bare[i].near*inverse + bare[i].far*e)
				from[i] = across * (bare[i].ahead*e + bare[i].back*inverse)
			}
		}
		c.terms, c.after, c.before = append(c.terms, terms), append(c.after, after), append(c.before, before)
	}
	return c
}

// growth returns exp(gamma x) and its inverse.
func growth(gamma complex128, x float64) (e, inverse complex128) {
	size := math.Exp(real(gamma) * x)
	sin, cos := math.Sincos(imag(gamma) * x)
	return complex(size*cos, size*sin), complex(cos/size, -sin/size)
}

// shape is psi_q and psi_r at one place and one frequency.
type shape struct {
	c *section
	v [2][]complex128
}

func (c *section) shape() *shape {
	return &shape{c, [2][]complex128{make([]complex128, c.indices[0]), make([]complex128, c.indices[1])}}
}

func (s *shape) set(f int, at geometry.Vec) {
	for i, axis := range [...]int{s.c.across, s.c.up} {
		w, x := &s.c.waves[i][f], along(at, axis)
		for n := range s.v[i] {
			s.v[i][n] = w.at(n, x)
		}
	}
}

func (s *shape) of(pair [2]int) complex128 { return s.v[0][pair[0]] * s.v[1][pair[1]] }

// along returns one coordinate.
func along(p geometry.Vec, axis int) float64 { return [...]float64{p.X, p.Y, p.Z}[axis] }

// hear is a listener of a section, by index, and how far it is from the source.
type hear struct {
	ear, class int
	behind     bool // it lies before the source along the run
	out        []complex128
}

// add sets the pressure at the listeners of a source.
func (c *section) add(source geometry.Vec, to []hear) {
	x := along(source, c.run)
	shape := c.shape()
	ahead, back := false, false
	nearest := len(apart)
	for _, h := range to {
		ahead, back = ahead || !h.behind, back || h.behind
		nearest = min(nearest, h.class)
	}
	most := len(c.pairs)
	forth, here := make([]complex128, most), make([]complex128, most)
	for f, terms := range c.terms {
		shape.set(f, source)
		stride := len(terms)
		terms = terms[:c.counts[nearest][f]]
		for i := range terms {
			t := &terms[i]
			e, inverse := growth(t.gamma, x)
			across := shape.of(c.pairs[i])
			if ahead {
				forth[i] = across * (t.ahead*e + t.back*inverse)
			}
			if back {
				here[i] = across * (t.near*inverse + t.far*e)
			}
		}
		for _, h := range to {
			n := c.counts[h.class][f]
			heard, sent := c.after[f], forth
			if h.behind {
				heard, sent = c.before[f], here
			}
			h.out[f] = cblas128.Dotu(
				cblas128.Vector{N: n, Inc: 1, Data: heard[h.ear*stride : h.ear*stride+n]},
				cblas128.Vector{N: n, Inc: 1, Data: sent[:n]})
		}
	}
}

// apartFrom returns the ear, moved along the run if it is nearer to the source
// than the least of apart.
func apartFrom(source, ear geometry.Vec, axis int, room Room) geometry.Vec {
	at, d := along(source, axis), along(ear, axis)-along(source, axis)
	if math.Abs(d) >= apart[0] {
		return ear
	}
	way := math.Copysign(apart[0], d)
	if to := at + way; to < 0 || to > room.side(axis) {
		way = -way
	}
	v := [...]float64{ear.X, ear.Y, ear.Z}
	v[axis] = min(room.side(axis), max(0, at+way))
	return geometry.V(v[0], v[1], v[2])
}
