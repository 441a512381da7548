// SPDX-License-Identifier: MIT

package wave

import (
	"runtime"
	"sync/atomic"
)

// advance computes the next values of one class from the other, over some of its
// runs. next holds the values of two steps ago and receives the new ones.
func (g *grid) advance(next, now []float32, class int, runs []run) {
	// Neighbours lie at these distances, see grid.
	before, after := class-1, class
	sy, sz := g.sy, g.sz
	cx, cy, cz := g.cx, g.cy, g.cz
	for _, r := range runs {
		at, n := int(r.at), int(r.n)
		d := next[at : at+n]
		x := now[at+after : at+after+n]
		last := now[at+before]
		y0 := now[at+before-sy:][:n]
		y1 := now[at+after+sy:][:n]
		z0 := now[at+before-sz:][:n]
		z1 := now[at+after+sz:][:n]
		if r.set == 0 {
			interior(d, x, y0, y1, z0, z1, last, cx, cy, cz)
		} else {
			rim(d, x, y0, y1, z0, z1, last, &g.sets[r.set])
		}
	}
}

// interior is the step of a row of points with air all around: 3 products and 6
// sums a point, each neighbour along x loaded once.
func interior(d, x, y0, y1, z0, z1 []float32, last, cx, cy, cz float32) {
	n := len(d)
	x, y0, y1, z0, z1 = x[:n], y0[:n], y1[:n], z0[:n], z1[:n] // no checks below
	for i := range d {
		v := x[i]
		d[i] = float32(cx*(last+v)) + float32(cy*(y0[i]+y1[i])) + float32(cz*(z0[i]+z1[i])) - d[i]
		last = v
	}
}

// rim is the step of a row of points that touch a surface.
func rim(d, x, y0, y1, z0, z1 []float32, last float32, w *[7]float32) {
	n := len(d)
	x, y0, y1, z0, z1 = x[:n], y0[:n], y1[:n], z0[:n], z1[:n]
	for i := range d {
		v := x[i]
		d[i] = float32(w[0]*last) + float32(w[1]*v) + (float32(w[2]*y0[i]) + float32(w[3]*y1[i])) +
			(float32(w[4]*z0[i]) + float32(w[5]*z1[i])) - float32(w[6]*d[i])
		last = v
	}
}

// barrier lets a fixed number of goroutines wait for each other, again and
// again. A step takes some 20 microseconds, less than waking a goroutine, so they
// spin, and yield when one of them has no processor.
type barrier struct {
	members int32
	waiting atomic.Int32
	round   atomic.Uint32
}

func (b *barrier) wait() {
	round := b.round.Load()
	if b.waiting.Add(1) == b.members {
		b.waiting.Store(0)
		b.round.Add(1)
		return
	}
	for spins := 0; b.round.Load() == round; spins++ {
		if spins > 1000 {
			runtime.Gosched()
		}
	}
}
