// SPDX-License-Identifier: MIT

package modal

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"
	"sort"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
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

// reach is how far a pair is followed: what has faded to exp(-reach) is left out, at
// most 1e-4 of the free field at 1 m in all.
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

// node is one node of a band.
type node struct {
	across, up waves
	lines      []line
	strength   []complex128 // of the pairs that are summed here
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

// spectral is what a section is at one frequency.
type spectral struct {
	across, up waves
	k, h0, h1  complex128 // the latter of the ends of the run
}

// spectrum returns what a section is at frequencies with those losses, for so many
// indices across and up.
func (c *section) spectrum(frequencies []float64, losses []Loss, indices [2]int) []spectral {
	s := c.sum
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
	across := follow(s.room.side(c.across), k, g[c.across], indices[0])
	up := follow(s.room.side(c.up), k, g[c.up], indices[1])
	for i := range all {
		ends := g[c.run][i]
		all[i] = spectral{across[i], up[i], k[i], 1i * k[i] * complex(ends[0], 0), 1i * k[i] * complex(ends[1], 0)}
	}
	return all
}

// line returns a pair at one frequency and 4 pi/(W N_q N_r).
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
	w := ((a.h0+a.h1)*(end+turned) + (gamma+a.h0*a.h1/gamma)*(end-turned)) / 2
	return line{
		gamma: gamma, ahead: (1 + a.h0/gamma) / 2, back: (1 - a.h0/gamma) / 2,
		near: (1 + a.h1/gamma) / 2 * end, far: (1 - a.h1/gamma) / 2 * turned,
	}, 4 * math.Pi / (w * a.across.norm[p.q] * a.up.norm[p.r])
}

// growth returns exp(gamma x) and its inverse.
func growth(gamma complex128, x float64) (e, inverse complex128) {
	size := math.Exp(real(gamma) * x)
	sin, cos := math.Sincos(imag(gamma) * x)
	return complex(size*cos, size*sin), complex(cos/size, -sin/size)
}

// trace is what a place has to do with the first pairs over a band, psi_q psi_r u or
// psi_q psi_r v, for those summed at each frequency, [frequency][pair] flat, and for
// the others at the nodes, [node][pair] flat.
type trace struct{ each, nodes []complex128 }

// trace fills in out for the first n pairs, with v if the place is the farther one.
// It keeps the part of the run in the memory: again says that it is there.
func (c *section) trace(band, n int, at geometry.Vec, far, again bool, out trace, room *workroom) {
	b := &c.sum.bands[band]
	across, up := take(&room.across, c.indices[0]), take(&room.up, c.indices[1])
	ends := take(&room.ends, len(b.at)*n)
	each := min(n, c.each[band])
	// Real and imaginary parts in turn: what carries is real.
	var here []float64
	if b.carry != nil {
		here = take(&room.nodes, nodes*2*each)
	}
	for k := range c.nodes[band] {
		nd, u := &c.nodes[band][k], ends[k*n:(k+1)*n]
		if !again {
			nd.along(along(at, c.run), far, u)
		}
		nd.across.all(along(at, c.across), across[:len(nd.across.kappa)])
		nd.up.all(along(at, c.up), up[:len(nd.up.kappa)])
		for m := range each {
			p := &c.pairs[m]
			v := across[p.q] * up[p.r] * u[m]
			if b.carry == nil {
				out.each[k*each+m] = v
			} else {
				here[2*(k*each+m)], here[2*(k*each+m)+1] = real(v), imag(v)
			}
		}
		row := out.nodes[k*(n-each) : (k+1)*(n-each)]
		for m := range row {
			p := &c.pairs[each+m]
			row[m] = across[p.q] * up[p.r] * u[each+m]
		}
	}
	if b.carry == nil {
		return
	}
	row := take(&room.row, 2*each)
	for f := range b.hi - b.lo {
		blas64.Gemv(blas.Trans, 1, blas64.General{Rows: nodes, Cols: 2 * each, Stride: 2 * each, Data: here},
			blas64.Vector{N: nodes, Inc: 1, Data: b.carry[f*nodes : (f+1)*nodes]}, 0, blas64.Vector{N: 2 * each, Inc: 1, Data: row})
		to := out.each[f*each : (f+1)*each]
		for m := range to {
			to[m] = complex(row[2*m], row[2*m+1])
		}
	}
}

// vector returns the first n numbers of a row of a table.
func vector(table []complex128, row, stride, n int) cblas128.Vector {
	return cblas128.Vector{N: n, Inc: 1, Data: table[row*stride : row*stride+n]}
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
	across, up, ends, sent, sentNodes []complex128
	nodes, row                        []float64
}

// take returns n numbers of the memory, of any value.
func take[T any](memory *[]T, n int) []T {
	if cap(*memory) < n {
		*memory = make([]T, n)
	}
	return (*memory)[:n]
}

// size returns how many numbers the trace of n pairs has at each frequency and at the
// nodes.
func (c *section) size(band, n int) (each, atNodes int) {
	b := &c.sum.bands[band]
	e := min(n, c.each[band])
	return e * (b.hi - b.lo), (n - e) * len(b.at)
}

// heard returns the traces of the ears for sources nearer the origin of the run
// (far) or farther, one after the other, with the strengths of the pairs.
func (c *section) heard(ears []geometry.Vec, far bool) []trace {
	room := &workroom{}
	var all []trace
	for i, b := range c.sum.bands {
		n := c.count(c.class, i)
		each, atNodes := c.size(i, n)
		table := trace{make([]complex128, each*len(ears)), make([]complex128, atNodes*len(ears))}
		for j, ear := range ears {
			part := table.of(j, each, atNodes)
			again := j > 0 && along(ear, c.run) == along(ears[j-1], c.run) // a row of seats
			c.trace(i, n, ear, far, again, part, room)
			for f := b.lo; f < b.hi; f++ {
				part.each = multiply(part.each, c.strength[f])
			}
			for k := range c.nodes[i] {
				part.nodes = multiply(part.nodes, c.nodes[i][k].strength)
			}
		}
		all = append(all, table)
	}
	return all
}

// of returns the trace of one ear, of that size.
func (t trace) of(ear, each, atNodes int) trace {
	return trace{t.each[ear*each : (ear+1)*each], t.nodes[ear*atNodes : (ear+1)*atNodes]}
}

// multiply multiplies the first of v by the factors and returns what follows.
func multiply(v, factors []complex128) []complex128 {
	for i, f := range factors {
		v[i] *= f
	}
	return v[len(factors):]
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
			n, whole := c.count(class, i), c.count(c.class, i)
			each, atNodes := c.size(i, n)
			sent := trace{take(&room.sent, each), take(&room.sentNodes, atNodes)}
			c.trace(i, n, source, side == 1, false, sent, room)
			for _, h := range to {
				if h.before == (side == 1) {
					each, atNodes := c.size(i, whole)
					c.sum.meet(h, b, table[i].of(h.ear, each, atNodes), sent, c.counts[h.class], c.each[i], n, whole)
				}
			}
		}
	}
}

// meet sums over the pairs in a band: those at each frequency, of which counts says how
// many are needed, and the others at the nodes, from where their sum is carried to the
// frequencies. each are the former, n pairs are in what is sent, whole in what is heard.
func (s *Sum) meet(h hear, b band, heard, sent trace, counts []int, each, n, whole int) {
	rowSent, rowHeard := min(each, n), min(each, whole)
	for f := b.lo; f < b.hi; f++ {
		count := min(each, counts[f])
		h.out[f] = cblas128.Dotu(vector(heard.each, f-b.lo, rowHeard, count), vector(sent.each, f-b.lo, rowSent, count))
	}
	count := counts[b.hi-1] - each
	if count <= 0 {
		return
	}
	var sum [nodes]complex128
	for k := range sum {
		sum[k] = cblas128.Dotu(vector(heard.nodes, k, whole-each, count), vector(sent.nodes, k, n-each, count))
	}
	for f := b.lo; f < b.hi; f++ {
		re, im := 0.0, 0.0
		for k, w := range b.carry[(f-b.lo)*nodes : (f-b.lo+1)*nodes] {
			re += w * real(sum[k])
			im += w * imag(sum[k])
		}
		h.out[f] += complex(re, im)
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
