// SPDX-License-Identifier: MIT

package modal

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/blas/cblas128"

	"earline/geometry"
)

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
