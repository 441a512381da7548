// SPDX-License-Identifier: MIT

package bake

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"

	"earline/geometry"
	"earline/project/crew"
	"earline/scene"
)

// Quality is how much work is put into a Light.
type Quality struct {
	Shadows int // rays to the lamps of a layer, from each place
	Gather  int // rays to what throws light back, from each place
	Bounces int
	Smooth  int // how many times neighbours are made alike in what is thrown back
	Seed    uint64
	Spare   int // cores that are left to others; one is used at least
	// Tell, which may be nil, is told what share of the rays is cast, now and then, from
	// any goroutine but one at a time: nearly all of the work.
	Tell func(share float64)
}

// How far apart corners are at most where light is worked out, metres.
const (
	Apart       = 0.35
	FinelyApart = 0.15
)

// Quick is good enough to look at while Full is worked out. Fine is for a still.
func Quick() Quality { return Quality{Shadows: 4, Gather: 9, Bounces: 3, Smooth: 6} }

// Full is what is kept.
func Full() Quality { return Quality{Shadows: 10, Gather: 49, Bounces: 5, Smooth: 5} }

// Fine is for a still picture.
func Fine() Quality { return Quality{Shadows: 24, Gather: 144, Bounces: 5, Smooth: 4} }

// Light is what falls on every corner of a Room with each layer at full level.
type Light struct {
	room *Room
	lux  []Colour // site by site, layer by layer
	// outside is which sites look out into nothing: the edge of the floor, seen from
	// without.
	outside []bool
	// around is what is seen in mirrors, cell by cell in seen; without its light.
	around scene.Around
	seen   []glimpse
}

// Light works out the light of a room. It ends early with the error of ctx.
func (r *Room) Light(ctx context.Context, q Quality) (*Light, error) {
	n, layers := len(r.sites), r.lamps.Layers
	direct, share := make([]Colour, n*layers), make([]float32, n*layers)
	seen := make([]glimpse, n*q.Gather)
	buried, outside := make([]bool, n), make([]bool, n)
	by := r.byLayer()
	if err := spread(ctx, q, n, q.told(n, func(from, to int) {
		w := &worker{room: r, weights: make([]float64, len(r.lamps.Emitters))}
		for i := from; i < to; i++ {
			w.dice.Seed(q.Seed, uint64(i))
			w.random = rand.New(&w.dice)
			for k, lamps := range by {
				direct[i*layers+k], share[i*layers+k] = w.direct(&r.sites[i], lamps, q.Shadows)
			}
			buried[i], outside[i] = w.look(&r.sites[i], seen[i*q.Gather:(i+1)*q.Gather])
		}
	})); err != nil {
		return nil, err
	}
	r.surrounded(outside)
	if q.Smooth > 0 {
		r.shadows(share, direct, buried, by, q.Shadows)
	}
	for i := range direct {
		direct[i] = Colour{}.plus(share[i], &direct[i])
	}
	fill := r.filler(buried)
	fill(direct, layers)
	lux, err := r.bounce(ctx, q, direct, seen, fill)
	if err != nil {
		return nil, err
	}
	for i := range lux {
		lux[i] = lux[i].plus(1, &direct[i])
	}
	around, about := r.lookAround(outside)
	return &Light{r, lux, outside, around, about}, nil
}

// byLayer lists the emitters of each layer.
func (r *Room) byLayer() [][]int32 {
	out := make([][]int32, r.lamps.Layers)
	for i := range r.lamps.Emitters {
		k := r.lamps.Emitters[i].Layer
		out[k] = append(out[k], int32(i))
	}
	return out
}

// worker is what one goroutine needs to itself.
type worker struct {
	room    *Room
	dice    rand.PCG
	random  *rand.Rand
	weights []float64
}

// direct returns what the lamps of a layer would send straight to s with nothing in the
// way, which is exact, and the share of it that arrives. Rays say which: they go to lamps chosen the oftener
// the more they send. (Next-event estimation: Shirley, Wang and Zimmerman, "Monte Carlo
// techniques for direct lighting calculations", 1996, from memory.)
func (w *worker) direct(s *site, lamps []int32, rays int) (all Colour, share float32) {
	each := w.weights[:len(lamps)]
	var sum Colour
	total, lit := 0.0, 0
	for i, e := range lamps {
		each[i] = w.room.lamps.Emitters[e].Lux(s.at, s.normal)
		if each[i] > 0 {
			total += each[i]
			sum = sum.plus(float32(each[i]), &w.room.lamps.Colours[e])
			lit++
		}
	}
	if lit == 0 {
		return sum, 0
	}
	arrives := 0.0 // of total
	if turns := rays / lit; turns > 0 {
		for i, e := range lamps {
			for range turns {
				if each[i] > 0 && w.reaches(e, s.at) {
					arrives += each[i] / float64(turns)
				}
			}
		}
	} else {
		step := total / float64(rays)
		next, passed := step*w.random.Float64(), 0.0
		for i, e := range lamps {
			for passed += each[i]; passed > next; next += step {
				if w.reaches(e, s.at) {
					arrives += step
				}
			}
		}
	}
	return sum, float32(arrives / total)
}

// reaches reports whether nothing is between p and some point of a lamp. The last bit of
// the way does not count: a lamp sits in its rim.
func (w *worker) reaches(lamp int32, p geometry.Vec) bool {
	const (
		rim  = 0.03 // m
		wide = 0.03 // m, radius of a lamp
	)
	e := &w.room.lamps.Emitters[lamp]
	at := e.At
	switch {
	case len(e.Face) == 4:
		a, b := w.random.Float64(), w.random.Float64()
		at = e.Face[0].Lerp(e.Face[1], a).Lerp(e.Face[3].Lerp(e.Face[2], a), b)
	case e.Run.Len2() > 0:
		at = at.Add(e.Run.Mul(2*w.random.Float64() - 1))
	default:
		u, v := across(e.Axis)
		x, y := disc(w.random.Float64(), w.random.Float64())
		at = at.Add(u.Mul(wide * x)).Add(v.Mul(wide * y))
	}
	way := at.Sub(p)
	l := way.Len()
	return l <= rim || w.room.tree.clear(p, way.Mul((l-rim)/l))
}

// glimpse is what a ray meets: a place on the front of a triangle, or -1 for nothing that
// throws light back. Both shares are parts of 65535.
type glimpse struct {
	triangle int32
	u, v     uint16
}

// look fills seen with what s sees, as often as it matters by the cosine law. It reports
// whether s is within something, and sees much of the inside of it, or outside, and sees
// mostly nothing but the backs of walls.
func (w *worker) look(s *site, seen []glimpse) (buried, outside bool) {
	const part = 65535
	u, v := across(s.normal)
	rows := max(1, int(math.Sqrt(float64(len(seen)))))
	cols := (len(seen) + rows - 1) / rows
	turn, slide := w.random.Float64(), w.random.Float64()
	inside, nothing := 0, 0
	for i := range seen {
		a := (float64(i%cols) + w.random.Float64()) / float64(cols)
		b := (float64(i/cols) + w.random.Float64()) / float64(rows)
		if i/cols == rows-1 && len(seen)%cols != 0 { // the last row is shorter
			a = (float64(i%cols) + w.random.Float64()) / float64(len(seen)%cols)
		}
		x, y := disc(frac(a+slide), frac(b+turn))
		z := math.Sqrt(max(1-x*x-y*y, 0))
		h := w.room.tree.nearest(s.at, u.Mul(x).Add(v.Mul(y)).Add(s.normal.Mul(z)))
		seen[i].triangle = -1
		switch {
		case h.triangle >= 0 && h.front:
			seen[i] = glimpse{h.triangle, uint16(h.u*part + 0.5), uint16(h.v*part + 0.5)}
		case h.triangle >= 0:
			inside++
		default:
			nothing++
		}
	}
	return 4*inside > len(seen), 2*nothing > len(seen)-inside
}

func frac(x float64) float64 { return x - math.Floor(x) }

// disc spreads two even shares over the unit disc.
func disc(a, b float64) (x, y float64) {
	r := math.Sqrt(a)
	sin, cos := math.Sincos(2 * math.Pi * b)
	return r * cos, r * sin
}

// across returns two unit vectors square to w and each other.
func across(w geometry.Vec) (u, v geometry.Vec) {
	u = geometry.Vec{X: 1}
	if math.Abs(w.X) > 0.6 {
		u = geometry.Vec{Y: 1}
	}
	u, _ = u.Sub(w.Mul(u.Dot(w))).Unit()
	return u, w.Cross(u)
}

// spread calls f for parts of 0 to n-1 on all cores but those to spare, until ctx is done.
func spread(ctx context.Context, q Quality, n int, f func(from, to int)) error {
	const part = 64
	var c crew.Crew
	var next atomic.Int64
	for range max(1, runtime.GOMAXPROCS(0)-q.Spare) {
		c.Go(func() {
			for ctx.Err() == nil {
				from := int(next.Add(part)) - part
				if from >= n {
					return
				}
				f(from, min(from+part, n))
			}
		})
	}
	c.Wait()
	return ctx.Err()
}

// told returns f, which does parts of 0 to n-1, and tells how much of that is done.
func (q Quality) told(n int, f func(from, to int)) func(from, to int) {
	if q.Tell == nil {
		return f
	}
	const step = 0.01
	var mu sync.Mutex
	done, last := 0, 0.0
	return func(from, to int) {
		f(from, to)
		mu.Lock()
		defer mu.Unlock()
		done += to - from
		if share := float64(done) / float64(n); share >= last+step || done == n {
			last = share
			q.Tell(share)
		}
	}
}
