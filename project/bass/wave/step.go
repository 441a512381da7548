// SPDX-License-Identifier: MIT

package wave

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// sweep is a stretch of one layer that is stepped with one set of weights. It may
// run across a few points that have others, and across indices that are no points:
// these are corrected afterwards.
type sweep struct{ at, n, set int32 }

// single is a point stepped by itself. It has its own copy of its weights, so that
// they are read in one go.
type single struct {
	at      int32
	weights [7]float32
}

// stretch is a row of points, by fours, that each have their own weights, from first
// in work.weights.
type stretch struct{ at, n, first int32 }

// work is the part of one class that one goroutine computes in a step. The values
// of singles are computed first, because sweeps overwrite what they need, and
// stored last.
type work struct {
	sweeps  []sweep
	singles []single
	varied  []stretch
	weights []float32 // of varied, see varied
	blanks  []int32   // no points: 0 for ever
	found   []float32
}

// part plans the work on the layers [from, to) of a class.
func (g *grid) part(class, from, to int) *work {
	const (
		worth = 8 // points for which a stretch is worth its start
		leap  = 4 // indices across which it goes on
	)
	w := &work{}
	alone := func(all []single) { w.singles = append(w.singles, all...) }
	var gap []run // since the end of the last sweep, for which it may leap
	points := func() (all []single) {
		for _, r := range gap {
			for i := range r.n {
				all = append(all, single{r.at + i, g.sets[r.set]})
			}
		}
		gap = gap[:0]
		return all
	}
	close := func() {
		for all := points(); len(all) > 0; {
			n := 1
			for n < len(all) && all[n].at == all[0].at+int32(n) {
				n++
			}
			if four := n &^ 3; four > 0 {
				w.varied = append(w.varied, stretch{all[0].at, int32(four), int32(len(w.weights))})
				for i := 0; i < four; i += 4 {
					for c := range 7 {
						for _, s := range all[i : i+4] {
							w.weights = append(w.weights, s.weights[c])
						}
					}
				}
				alone(all[four:n])
			} else {
				alone(all[:n])
			}
			all = all[n:]
		}
	}
	layer, first := int32(-1), 0 // and its first sweep
	for _, r := range g.runs[class] {
		if int(r.k) < from || int(r.k) >= to {
			continue
		}
		if r.k != layer {
			close()
			layer, first = r.k, len(w.sweeps)
		} else if n := len(w.sweeps); n > first && r.n >= worth {
			s := &w.sweeps[n-1]
			if end := s.at + s.n; s.set == r.set && end <= r.at && r.at-end <= leap {
				at := end
				for _, b := range gap {
					for ; at < b.at; at++ {
						w.blanks = append(w.blanks, at)
					}
					at += b.n
				}
				for ; at < r.at; at++ {
					w.blanks = append(w.blanks, at)
				}
				alone(points()) // the sweep runs over them
				s.n = r.at + r.n - s.at
				continue
			}
		}
		if r.n < worth {
			gap = append(gap, r)
			continue
		}
		close()
		w.sweeps = append(w.sweeps, sweep{r.at, r.n, r.set})
	}
	close()
	w.found = make([]float32, len(w.singles))
	return w
}

// advance computes the next values of one class from the other, over some of its
// points. next holds the values of two steps ago and receives the new ones.
func (g *grid) advance(next, now []float32, class int, w *work) {
	// Neighbours lie at these distances, see grid.
	before, after := class-1, class
	sy, sz := g.sy, g.sz
	found := w.found[:len(w.singles)]
	for i := range w.singles {
		s := &w.singles[i]
		at, c := int(s.at), &s.weights
		b, a := at+before, at+after
		found[i] = float32(c[0]*now[b]) + float32(c[1]*now[a]) + (float32(c[2]*now[b-sy]) + float32(c[3]*now[a+sy])) +
			(float32(c[4]*now[b-sz]) + float32(c[5]*now[a+sz])) - float32(c[6]*next[at])
	}
	for _, s := range w.sweeps {
		at, n := int(s.at), int(s.n)
		b, a := at+before, at+after
		d, x := next[at:at+n], now[b:a+n]
		y0, y1 := now[b-sy:b-sy+n], now[a+sy:a+sy+n]
		z0, z1 := now[b-sz:b-sz+n], now[a+sz:a+sz+n]
		c, inside := &g.sets[s.set], s.set == 0
		if m := byFour(d, x, y0, y1, z0, z1, c, inside); m > 0 {
			d, x, y0, y1, z0, z1 = d[m:], x[m:], y0[m:], y1[m:], z0[m:], z1[m:]
		}
		if inside {
			interior(d, x[1:], y0, y1, z0, z1, x[0], c)
		} else {
			rim(d, x[1:], y0, y1, z0, z1, x[0], c)
		}
	}
	for _, s := range w.varied {
		at, n := int(s.at), int(s.n)
		b, a := at+before, at+after
		varied4(next[at:at+n], now[b:a+n], now[b-sy:b-sy+n], now[a+sy:a+sy+n], now[b-sz:b-sz+n], now[a+sz:a+sz+n], w.weights[s.first:int(s.first)+7*n])
	}
	for i := range w.singles {
		next[w.singles[i].at] = found[i]
	}
	for _, at := range w.blanks {
		next[at] = 0
	}
}

// interior is the step of points with air all around: 3 products and 6 sums a
// point, each neighbour along x loaded once. Two points a turn, counted so that
// the compiler sees every index in bounds: 20 % faster than one.
//
//go:noinline
func interior(d, x, y0, y1, z0, z1 []float32, last float32, w *[7]float32) {
	n := len(d)
	cx, cy, cz := w[0], w[2], w[4]
	x, y0, y1, z0, z1 = x[:n], y0[:n], y1[:n], z0[:n], z1[:n]
	for i := 1; i < n; i += 2 {
		u, v := x[i-1], x[i]
		d[i-1] = float32(cx*(last+u)) + float32(cy*(y0[i-1]+y1[i-1])) + float32(cz*(z0[i-1]+z1[i-1])) - d[i-1]
		d[i] = float32(cx*(u+v)) + float32(cy*(y0[i]+y1[i])) + float32(cz*(z0[i]+z1[i])) - d[i]
		last = v
	}
	if n&1 == 1 {
		i := n - 1
		d[i] = float32(cx*(last+x[i])) + float32(cy*(y0[i]+y1[i])) + float32(cz*(z0[i]+z1[i])) - d[i]
	}
}

// rim is the step of points that touch a surface.
//
//go:noinline
func rim(d, x, y0, y1, z0, z1 []float32, last float32, w *[7]float32) {
	n := len(d)
	x, y0, y1, z0, z1 = x[:n], y0[:n], y1[:n], z0[:n], z1[:n]
	c0, c1, c2, c3, c4, c5, c6 := w[0], w[1], w[2], w[3], w[4], w[5], w[6]
	for i := range d {
		v := x[i]
		d[i] = float32(c0*last) + float32(c1*v) + (float32(c2*y0[i]) + float32(c3*y1[i])) +
			(float32(c4*z0[i]) + float32(c5*z1[i])) - float32(c6*d[i])
		last = v
	}
}

// varied is the step of points with their own weights, by fours: w holds the first
// weights of four points, their second ones and so on. x begins with the neighbour
// before the first.
func varied(d, x, y0, y1, z0, z1, w []float32) {
	for i := range d {
		c := w[i/4*28+i%4:]
		d[i] = float32(c[0]*x[i]) + float32(c[4]*x[i+1]) + (float32(c[8]*y0[i]) + float32(c[12]*y1[i])) +
			(float32(c[16]*z0[i]) + float32(c[20]*z1[i])) - float32(c[24]*d[i])
	}
}

// barrier lets a fixed number of goroutines wait for each other, again and
// again. A step takes some 20 microseconds, so they spin at first. One that waits
// long, because its partners have no processor, sleeps and frees its own.
type barrier struct {
	members int32
	waiting atomic.Int32
	round   atomic.Uint32
	left    atomic.Bool // a member will not come again
	mu      sync.Mutex
	cond    *sync.Cond
}

func newBarrier(members int) *barrier {
	b := &barrier{members: int32(members)}
	b.cond = sync.NewCond(&b.mu)
	return b
}

// wait returns true once all members wait, false once one of them has left.
func (b *barrier) wait() bool {
	round := b.round.Load()
	if b.left.Load() {
		return false
	}
	if b.waiting.Add(1) == b.members {
		b.waiting.Store(0)
		b.mu.Lock()
		b.round.Add(1)
		b.mu.Unlock()
		b.cond.Broadcast()
		return !b.left.Load()
	}
	const patience = 20_000 // loads, some 10 microseconds
	for spins := range patience {
		if b.round.Load() != round {
			return !b.left.Load()
		}
		if spins%1024 == 1023 {
			runtime.Gosched()
		}
	}
	b.mu.Lock()
	for b.round.Load() == round {
		b.cond.Wait()
	}
	b.mu.Unlock()
	return !b.left.Load()
}

// leave lets nobody wait any longer for a member that has failed.
func (b *barrier) leave() {
	b.left.Store(true)
	b.mu.Lock()
	b.round.Add(1)
	b.mu.Unlock()
	b.cond.Broadcast()
}
