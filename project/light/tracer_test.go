// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// photons is a tracer of its own: light in grains from a lamp at from, which falls with
// the n-th power of the cosine to straight down, in a box from zero to size with a black
// block in it. It returns the lux on each target, a square of half-width half about its
// middle on one side of the box: straight, and in all.
func photons(count int, from, size, low, high [3]float64, n, flux, rho float64, targets [][3]float64, half float64) (straight, all []float64) {
	r := rand.New(rand.NewPCG(7, 11))
	straight, all = make([]float64, len(targets)), make([]float64, len(targets))
	lobe := func(n float64) (x, y, z float64) {
		c := math.Pow(r.Float64(), 1/(n+1))
		s, a := math.Sqrt(1-c*c), 2*math.Pi*r.Float64()
		return s * math.Cos(a), s * math.Sin(a), c
	}
	grain := flux / float64(count) / (4 * half * half)
	for range count {
		p := from
		x, y, z := lobe(n)
		d := [3]float64{x, y, -z}
		for bounce := 0; ; bounce++ {
			t, axis := math.Inf(1), 0
			for k := range 3 {
				if w := (wall(size[k], d[k]) - p[k]) / d[k]; d[k] != 0 && w < t {
					t, axis = w, k
				}
			}
			near, far := 0.0, t
			for k := range 3 {
				a, b := (low[k]-p[k])/d[k], (high[k]-p[k])/d[k]
				near, far = math.Max(near, math.Min(a, b)), math.Min(far, math.Max(a, b))
			}
			if near < far {
				break // in the block
			}
			for k := range 3 {
				p[k] += t * d[k]
			}
			p[axis] = wall(size[axis], d[axis])
			for i, q := range targets {
				if q[axis] == p[axis] && math.Abs(q[0]-p[0]) <= half && math.Abs(q[1]-p[1]) <= half && math.Abs(q[2]-p[2]) <= half {
					all[i] += grain
					if bounce == 0 {
						straight[i] += grain
					}
				}
			}
			if r.Float64() > rho {
				break
			}
			into := -math.Copysign(1, d[axis])
			x, y, z := lobe(1)
			d[axis], d[(axis+1)%3], d[(axis+2)%3] = into*z, x, y
		}
	}
	return straight, all
}

// Light that another program traces grain by grain arrives alike, straight and thrown
// back, also in the half shade and behind a block.
func TestATracerOfItsOwnAgrees(t *testing.T) {
	const l, w, h, rho, flux, half = 4.0, 3.0, 2.4, 0.5, 1000.0, 0.15
	block := geometry.Box{Center: geometry.Vec{X: 2.6, Y: 1.5, Z: 0.6}, Basis: geometry.WorldBasis(), Half: geometry.Vec{X: 0.3, Y: 0.8, Z: 0.6}}
	lamp := geometry.Vec{X: 1.2, Y: 1.4, Z: 2.3}
	m := boxModel(l, w, h, rho, []Emitter{{At: lamp, Axis: geometry.Vec{Z: -1}, Flux: flux, Lobe: 2}}, block.Solid())
	if err := m.Bounce(context.Background(), 30); err != nil {
		t.Fatal(err)
	}
	targets := [][3]float64{{0.8, 0.7, 0}, {3.6, 1.5, 0}, {0, 1.5, 1.2}, {4, 1.5, 0.5}, {2, 0, 1}, {2, 1.5, h}}
	normals := []geometry.Vec{{Z: 1}, {Z: 1}, {X: 1}, {X: -1}, {Y: 1}, {Z: -1}}
	straight, all := photons(3_000_000, [3]float64{lamp.X, lamp.Y, lamp.Z}, [3]float64{l, w, h}, [3]float64{2.3, 0.7, 0}, [3]float64{2.9, 2.3, 1.2}, 2, flux, rho, targets, half)
	for i, q := range targets {
		direct, sum := 0.0, 0.0
		const n = 6 // points across the target
		u := geometry.Vec{X: normals[i].Y + normals[i].Z*normals[i].Z, Y: math.Abs(normals[i].X)}
		u, _ = u.Sub(normals[i].Mul(u.Dot(normals[i]))).Unit()
		v := normals[i].Cross(u)
		for a := range n {
			for b := range n {
				at := geometry.Vec{X: q[0], Y: q[1], Z: q[2]}.Add(u.Mul(half * ((2*float64(a)+1)/n - 1))).Add(v.Mul(half * ((2*float64(b)+1)/n - 1)))
				var one, two [1]float64
				m.Direct(one[:], at, normals[i])
				m.Thrown(two[:], at, normals[i])
				direct, sum = direct+one[0]/n/n, sum+(one[0]+two[0])/n/n
			}
		}
		t.Logf("%v: straight %.2f, traced %.2f; in all %.2f, traced %.2f", q, direct, straight[i], sum, all[i])
		noise := 4 * math.Sqrt(all[i]*flux/3_000_000/(4*half*half)) // four standard deviations of the counts
		geomtest.Within(t, "straight", direct, straight[i], 0.02*straight[i]+noise)
		geomtest.Within(t, "in all", sum, all[i], 0.02*all[i]+noise)
	}
}

// wall returns where the side is to which light goes along one axis.
func wall(size, d float64) float64 {
	if d > 0 {
		return size
	}
	return 0
}
