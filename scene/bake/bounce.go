// SPDX-License-Identifier: MIT

package bake

import "context"

// bounce returns what is thrown back, after so many times, without the direct light. Every
// place sees the same triangles each time, so that the rays are cast once and each bounce
// is only a sum.
func (r *Room) bounce(ctx context.Context, q Quality, direct []Colour, seen []glimpse, fill func([]Colour, int)) ([]Colour, error) {
	layers := r.lamps.Layers
	lux := make([]Colour, len(direct))
	thrown := make([]Colour, len(r.albedo)*layers)
	for range q.Bounces {
		r.throw(thrown, direct, lux)
		if err := spread(ctx, q, len(r.sites), func(from, to int) {
			for i := from; i < to; i++ {
				at := lux[i*layers : (i+1)*layers]
				clear(at)
				for _, s := range seen[i*q.Gather : (i+1)*q.Gather] {
					if s.triangle >= 0 {
						r.gather(at, thrown, s)
					}
				}
				for k := range at {
					at[k] = Colour{}.plus(1/float32(q.Gather), &at[k])
				}
			}
		}); err != nil {
			return nil, err
		}
		fill(lux, layers)
		for range q.Smooth {
			lux = r.smooth(lux, 1)
		}
	}
	return lux, nil
}

// throw works out what every vertex throws back. A place beside a lamp is brighter than
// anything else, and the few rays that meet it would leave specks: it counts as no more
// than so many times the mean.
func (r *Room) throw(thrown, direct, lux []Colour) {
	const bright = 25
	layers := r.lamps.Layers
	most := make([]float32, layers)
	for i := range r.sites {
		for k := range most {
			most[k] += bright / float32(len(r.sites)) * (direct[i*layers+k].luminance() + lux[i*layers+k].luminance())
		}
	}
	for v, a := range r.albedo {
		for k := range layers {
			i := int(r.site[v])*layers + k
			c := direct[i].plus(1, &lux[i])
			f := float32(1)
			if y := c.luminance(); y > most[k] {
				f = most[k] / y
			}
			thrown[v*layers+k] = Colour{f * a[0] * c[0], f * a[1] * c[1], f * a[2] * c[2]}
		}
	}
}

// gather adds to each layer what comes from the place that is seen.
func (r *Room) gather(at, thrown []Colour, s glimpse) {
	layers := len(at)
	const part = 65535
	u, v := float32(s.u)/part, float32(s.v)/part
	t := 1 - u - v
	c := &r.corner[s.triangle]
	p, q, o := thrown[int(c[0])*layers:], thrown[int(c[1])*layers:], thrown[int(c[2])*layers:]
	for k := range at {
		a, x, y, z := &at[k], &p[k], &q[k], &o[k]
		a[0] += t*x[0] + u*y[0] + v*z[0]
		a[1] += t*x[1] + u*y[1] + v*z[1]
		a[2] += t*x[2] + u*y[2] + v*z[2]
	}
}

// filler returns what gives places within things the light of their neighbours: nobody
// sees them, but the triangles that reach out from there are seen.
func (r *Room) filler(buried []bool) func(lux []Colour, layers int) {
	var order []int32 // from what is free inwards
	known := make([]int32, len(buried))
	var edge []int32
	for i, b := range buried {
		if !b {
			known[i] = 1
			edge = append(edge, int32(i))
		}
	}
	for round := int32(2); len(edge) > 0; round++ {
		var next []int32
		for _, i := range edge {
			for _, j := range r.beside[r.starts[i]:r.starts[i+1]] {
				if known[j] == 0 {
					known[j] = round
					next = append(next, j)
				}
			}
		}
		order = append(order, next...)
		edge = next
	}
	return func(lux []Colour, layers int) {
		for _, i := range order {
			at := lux[int(i)*layers : (int(i)+1)*layers]
			clear(at)
			n := float32(0)
			for _, j := range r.beside[r.starts[i]:r.starts[i+1]] {
				if known[j] < known[i] {
					n++
					for k := range at {
						at[k] = at[k].plus(1, &lux[int(j)*layers+k])
					}
				}
			}
			for k := range at {
				at[k] = Colour{}.plus(1/n, &at[k])
			}
		}
	}
}

// shadows makes the shares of neighbours that look the same way more alike: what arrives
// is known from a few rays only, while what would with nothing in the way is exact, and
// stays so. Where there are more lamps than rays it is known worst.
func (r *Room) shadows(share []float32, all []Colour, buried []bool, by [][]int32, rays int) {
	const (
		same   = 0.8 // cosine of what looks the same way
		weight = 0.5 // of a neighbour that is alike
	)
	layers := r.lamps.Layers
	for k := range layers {
		passes, differ := 1, float32(0.35)
		if len(by[k]) > rays {
			passes, differ = 4, 0.6
		}
		known := func(i int) bool { return !buried[i] && all[i*layers+k] != Colour{} }
		for range passes {
			out := make([]float32, len(r.sites))
			for i := range r.sites {
				own := share[i*layers+k]
				sum, total := own, float32(1)
				for _, j := range r.beside[r.starts[i]:r.starts[i+1]] {
					if !known(int(j)) || r.sites[i].normal.Dot(r.sites[j].normal) < same {
						continue
					}
					d := (share[int(j)*layers+k] - own) / differ
					w := weight / (1 + d*d*d*d)
					sum += w * share[int(j)*layers+k]
					total += w
				}
				out[i] = sum / total
			}
			for i, v := range out {
				share[i*layers+k] = v
			}
		}
	}
}

// smooth makes neighbours that look the same way more alike, the less the more they
// differ: noise goes and the edges of shadows stay. differ is the share of the brightness
// that is a difference.
func (r *Room) smooth(lux []Colour, differ float32) []Colour {
	const (
		same   = 0.8 // cosine of what looks the same way
		weight = 0.5 // of a neighbour that is alike
	)
	layers := r.lamps.Layers
	out := append([]Colour(nil), lux...)
	for i := range r.sites {
		for k := range layers {
			own := lux[i*layers+k]
			y := own.luminance()
			sum, all := own, float32(1)
			for _, j := range r.beside[r.starts[i]:r.starts[i+1]] {
				if r.sites[i].normal.Dot(r.sites[j].normal) < same {
					continue
				}
				c := lux[int(j)*layers+k]
				z := c.luminance()
				d := (y - z) / (differ * (y + z + 1e-12) / 2)
				w := weight / (1 + d*d*d*d)
				sum = sum.plus(w, &c)
				all += w
			}
			out[i*layers+k] = Colour{}.plus(1/all, &sum)
		}
	}
	return out
}
