// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"runtime"
	"sync/atomic"

	"earline/geometry"
	"earline/project/crew"
)

// Bounce works out what falls on every patch: straight from the emitters, then thrown
// back by the patches so many times. With 0 it is the direct light, which the patches
// throw back once when Thrown is asked. It ends early with the error of ctx.
func (m *Model) Bounce(ctx context.Context, times int) error {
	all := make([]float64, len(m.Patches)*m.Layers)
	for i := range m.Patches {
		m.Patches[i].Lux = all[i*m.Layers : (i+1)*m.Layers : (i+1)*m.Layers]
	}
	if err := share(ctx, len(m.Patches), func(i int) { m.light(&m.Patches[i]) }); err != nil || times < 1 {
		return err
	}
	factors, err := m.factors(ctx)
	if err != nil {
		return err
	}
	n := len(m.Patches)
	direct := append([]float64(nil), all...)
	last := append([]float64(nil), all...)
	for range times {
		err := share(ctx, n, func(i int) {
			lux := m.Patches[i].Lux
			copy(lux, direct[i*m.Layers:])
			for j, f := range factors[i*n : (i+1)*n] {
				if f == 0 {
					continue
				}
				f := float64(f) * m.Patches[j].Reflectance
				for k := range lux {
					lux[k] += f * last[j*m.Layers+k]
				}
			}
		})
		if err != nil {
			return err
		}
		copy(last, all)
	}
	return nil
}

// light adds the direct light on p: from points that stand for it, more of them the
// nearer an emitter is.
func (m *Model) light(p *Patch) {
	const fine, finer = 4, 1.5 // sizes away
	for i := range m.Emitters {
		e := &m.Emitters[i]
		level := 0
		switch far := e.At.Dist(p.At) - e.size/2; {
		case far < finer*p.size:
			level = 2
		case far < fine*p.size:
			level = 1
		}
		lux := 0.0
		p.spots(level, func(at geometry.Vec, share float64) {
			if v := e.Lux(at, p.Normal); v > 0 && m.shade.clear(e.At, at) {
				lux += share * v
			}
		})
		p.Lux[e.Layer] += lux
	}
}

// factors returns the form factors from patch i to patch j at i*n+j. Light takes the same
// way back, A_i F_ij = A_j F_ji: both are set to the mean of what either sees.
func (m *Model) factors(ctx context.Context) ([]float32, error) {
	n := len(m.Patches)
	out := make([]float32, n*n)
	err := share(ctx, n, func(i int) {
		p := &m.Patches[i]
		for j := i + 1; j < n; j++ {
			q := &m.Patches[j]
			if q.At.Sub(p.At).Dot(p.Normal) <= 0 && p.behind(q) || p.At.Sub(q.At).Dot(q.Normal) <= 0 && q.behind(p) || !m.shade.clear(p.lit, q.lit) {
				continue
			}
			both := (p.Area*p.sees(q) + q.Area*q.sees(p)) / 2
			out[i*n+j], out[j*n+i] = float32(both/p.Area), float32(both/q.Area)
		}
	})
	return out, err
}

// behind reports whether all of q is behind p.
func (p *Patch) behind(q *Patch) bool {
	for _, c := range q.Outline {
		if c.Sub(p.At).Dot(p.Normal) > 0 {
			return false
		}
	}
	return true
}

// sees returns the form factor from p to q, the mean over p where they are near.
func (p *Patch) sees(q *Patch) (f float64) {
	const near, nearer = 3, 1.5 // sizes of both
	level := 0
	switch far := 2 * p.At.Dist(q.At) / (p.size + q.size); {
	case far < nearer:
		level = 2
	case far < near:
		level = 1
	}
	p.spots(level, func(at geometry.Vec, share float64) {
		if at.Sub(q.At).Dot(q.Normal) > 0 {
			f += share * Factor(at, p.Normal, q.Outline)
		}
	})
	return f
}

// share calls f for 0 to n-1 on all cores, until ctx is done.
func share(ctx context.Context, n int, f func(i int)) error {
	var c crew.Crew
	var next atomic.Int64
	for range runtime.GOMAXPROCS(0) {
		c.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				f(i)
			}
		})
	}
	c.Wait()
	return ctx.Err()
}
