// SPDX-License-Identifier: MIT

package modal

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"
	"sort"
	"sync"

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
	counts          [][]int        // [class][band]: how many of the pairs are needed
	nodes           [][]node       // [band][node]
	strength        [][]complex128 // [frequency]: 4 pi/(W N_q N_r) of the pairs
	after, before   func() [][]complex128
}

// pair is a pair of indices across and up, and its wave number between rigid walls.
type pair struct {
	q, r int
	k    float64 // 1/m
}

// node is one node of a band.
type node struct {
	across, up waves
	lines      []line
}

// line is one pair at one node: u(x) = ahead e + back/e, v(x) = near/e + far e, both
// v and W divided by exp(k L) of the pair, with e = exp(gamma x).
type line struct {
	gamma, ahead, back, near, far complex128
}

// section makes the section across an axis for all that are of the class or
// farther apart, heard at the ears.
func (s *Sum) section(axis, class int, ears []geometry.Vec) *section {
	c := &section{sum: s, run: axis, across: (axis + 1) % 3, up: (axis + 2) % 3, class: class}
	c.choose()
	all := s.spectrum(s.frequencies, s.losses, c)
	for i, b := range s.bands {
		n := c.count(class, i)
		for f := b.lo; f < b.hi; f++ {
			row := make([]complex128, n)
			a := &all[f]
			for m := range row {
				_, w := a.line(c.pairs[m], s.room.side(axis))
				row[m] = 4 * math.Pi / (w * a.across.norm[c.pairs[m].q] * a.up.norm[c.pairs[m].r])
			}
			c.strength = append(c.strength, row)
		}
		at := all[b.lo:b.hi]
		if b.carry != nil {
			at = s.spectrum(b.at, b.losses, c)
		}
		var here []node
		for k := range at {
			nd := node{at[k].across, at[k].up, make([]line, n)}
			for m := range nd.lines {
				nd.lines[m], _ = at[k].line(c.pairs[m], s.room.side(axis))
			}
			here = append(here, nd)
		}
		c.nodes = append(c.nodes, here)
	}
	c.after = sync.OnceValue(func() [][]complex128 { return c.heard(ears, true) })
	c.before = sync.OnceValue(func() [][]complex128 { return c.heard(ears, false) })
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
			c.counts[i] = append(c.counts[i], sort.Search(len(c.pairs), func(m int) bool { return c.pairs[m].k > most }))
		}
	}
}

// count returns how many pairs are needed anywhere in a band.
func (c *section) count(class, band int) int { return c.counts[class][c.sum.bands[band].hi-1] }

// spectral is what a section is at one frequency.
type spectral struct {
	across, up waves
	k, h0, h1  complex128 // the latter of the ends of the run
}

// spectrum returns what a section is at frequencies with those losses.
func (s *Sum) spectrum(frequencies []float64, losses []Loss, c *section) []spectral {
	k := make([]complex128, len(frequencies))
	var g [3][][2]float64
	all := make([]spectral, len(frequencies))
	for i, f := range frequencies {
		k[i] = s.waveNumber(f, losses[i])
		for axis := range g {
			near, far := losses[i].pair(axis)
			g[axis] = append(g[axis], [2]float64{near, far})
		}
	}
	across := follow(s.room.side(c.across), k, g[c.across], c.indices[0])
	up := follow(s.room.side(c.up), k, g[c.up], c.indices[1])
	for i := range all {
		ends := g[c.run][i]
		all[i] = spectral{across[i], up[i], k[i], 1i * k[i] * complex(ends[0], 0), 1i * k[i] * complex(ends[1], 0)}
	}
	return all
}

// line returns a pair at one frequency and its W divided by exp(k L).
func (a *spectral) line(p pair, l float64) (line, complex128) {
	x, y := a.across.kappa[p.q], a.up.kappa[p.r]
	gamma := cmplx.Sqrt(x*x + y*y - a.k*a.k)
	// Where nothing changes along the run, the closed form is 0/0; its limit is
	// smooth.
	if least := 1e-5 / l; cmplx.Abs(gamma) < least {
		gamma = complex(least, 0)
	}
	end, turned := growth(gamma, l)
	scale := complex(math.Exp(-p.k*l), 0)
	end, turned = end*scale, turned*scale
	return line{
		gamma: gamma, ahead: (1 + a.h0/gamma) / 2, back: (1 - a.h0/gamma) / 2,
		near: (1 + a.h1/gamma) / 2 * end, far: (1 - a.h1/gamma) / 2 * turned,
	}, ((a.h0+a.h1)*(end+turned) + (gamma+a.h0*a.h1/gamma)*(end-turned)) / 2
}

// growth returns exp(gamma x) and its inverse.
func growth(gamma complex128, x float64) (e, inverse complex128) {
	size := math.Exp(real(gamma) * x)
	sin, cos := math.Sincos(imag(gamma) * x)
	return complex(size*cos, size*sin), complex(cos/size, -sin/size)
}

// trace sets out, [frequency of the band][pair] flat, to what a place has to do
// with the first n pairs: psi_q psi_r u or, far, psi_q psi_r v. It keeps the part
// of the run in the memory: again says that it is there.
func (c *section) trace(band, n int, at geometry.Vec, far, again bool, out []complex128, room *workroom) {
	b := &c.sum.bands[band]
	across, up := take(&room.across, c.indices[0]), take(&room.up, c.indices[1])
	ends := take(&room.ends, len(b.at)*n)
	here := out
	if b.carry != nil {
		here = take(&room.nodes, nodes*n)
	}
	for k := range c.nodes[band] {
		nd, u := &c.nodes[band][k], ends[k*n:(k+1)*n]
		if !again {
			nd.along(along(at, c.run), far, u)
		}
		nd.across.all(along(at, c.across), across)
		nd.up.all(along(at, c.up), up)
		row := here[k*n : (k+1)*n]
		for m := range row {
			p := &c.pairs[m]
			row[m] = across[p.q] * up[p.r] * u[m]
		}
	}
	if b.carry == nil {
		return
	}
	clear(out)
	for f := range b.hi - b.lo {
		to := cblas128.Vector{N: n, Inc: 1, Data: out[f*n : (f+1)*n]}
		for k := range nodes {
			cblas128.Axpy(complex(b.carry[f*nodes+k], 0), cblas128.Vector{N: n, Inc: 1, Data: here[k*n : (k+1)*n]}, to)
		}
	}
}

// along sets out to u or, far, v of the first pairs at x.
func (n *node) along(x float64, far bool, out []complex128) {
	for m := range out {
		l := &n.lines[m]
		e, inverse := growth(l.gamma, x)
		if far {
			out[m] = l.far*e + l.near*inverse
		} else {
			out[m] = l.ahead*e + l.back*inverse
		}
	}
}

// workroom is memory for one goroutine.
type workroom struct {
	across, up, ends, nodes, sent []complex128
}

// take returns n numbers of the memory, of any value.
func take(memory *[]complex128, n int) []complex128 {
	if cap(*memory) < n {
		*memory = make([]complex128, n)
	}
	return (*memory)[:n]
}

// heard returns what each ear hears of each pair, resonances and all, of sources
// nearer the origin of the run (far) or farther: [band][ear][frequency][pair] flat.
func (c *section) heard(ears []geometry.Vec, far bool) [][]complex128 {
	room := &workroom{}
	var all [][]complex128
	for i, b := range c.sum.bands {
		n := c.count(c.class, i)
		size := n * (b.hi - b.lo)
		table := make([]complex128, size*len(ears))
		for j, ear := range ears {
			part := table[j*size : (j+1)*size]
			again := j > 0 && along(ear, c.run) == along(ears[j-1], c.run) // a row of seats
			c.trace(i, n, ear, far, again, part, room)
			for f := range b.hi - b.lo {
				for m, v := range c.strength[b.lo+f] {
					part[f*n+m] *= v
				}
			}
		}
		all = append(all, table)
	}
	return all
}

// along returns one coordinate.
func along(p geometry.Vec, axis int) float64 { return [...]float64{p.X, p.Y, p.Z}[axis] }

// hear is a listener of a section, by index.
type hear struct {
	ear, class int
	before     bool         // it lies nearer the origin of the run than the source
	out        []complex128 // by frequency
}

// add sets the pressure of a source at listeners.
func (c *section) add(source geometry.Vec, to []hear) {
	room := c.sum.memory.Get().(*workroom)
	defer c.sum.memory.Put(room)
	nearest := [2]int{classes, classes} // after, before
	for _, h := range to {
		side := 0
		if h.before {
			side = 1
		}
		nearest[side] = min(nearest[side], h.class)
	}
	for side, class := range nearest {
		if class == classes {
			continue
		}
		heard := c.after
		if side == 1 {
			heard = c.before
		}
		table := heard()
		for i, b := range c.sum.bands {
			n, stride := c.count(class, i), c.count(c.class, i)
			sent := take(&room.sent, n*(b.hi-b.lo))
			c.trace(i, n, source, side == 1, false, sent, room)
			for _, h := range to {
				if h.before != (side == 1) {
					continue
				}
				counts := c.counts[h.class][b.lo:b.hi]
				for f, count := range counts {
					row := table[i][(h.ear*(b.hi-b.lo)+f)*stride:]
					h.out[b.lo+f] = cblas128.Dotu(cblas128.Vector{N: count, Inc: 1, Data: row[:count]},
						cblas128.Vector{N: count, Inc: 1, Data: sent[f*n : f*n+count]})
				}
			}
		}
	}
}

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
