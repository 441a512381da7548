// SPDX-License-Identifier: MIT

package modal

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// As many roots are followed as there are: counted by the argument principle
// (the change of phase around a region is 2 pi for each root in it), and each is one.
func TestNoRootIsLostOrFoundTwice(t *testing.T) {
	r := geomtest.Rand(t)
	for range 200 {
		l := geomtest.Between(r, 2.2, 12)
		g := [2]float64{r.Float64() * 0.64, r.Float64() * 0.64}
		switch r.IntN(4) {
		case 0:
			g[1] = 0
		case 1:
			g[1] = g[0]
		}
		k := geomtest.Between(r, 0.3, 3.7)
		const count = 12
		w := follow(l, []complex128{complex(k, 0)}, [][2]float64{g}, count)[0]
		h0, h1 := complex(0, k*g[0]), complex(0, k*g[1])
		name := fmt.Sprintf("%.2f m, k %.2f, g %.3f", l, k, g)
		// The region in z: from well left of all roots to between the last ones.
		lo, hi := complex(-40/(l*l)-4*k*k, -4*k*k-40/(l*l)), complex(math.Pow((count-2.5)*math.Pi/l, 2), 8*k*k+300/(l*l))
		inside := 0
		for i, kappa := range w.kappa {
			z := kappa * kappa
			f, _ := balance(z, complex(l, 0), h0, h1)
			if cmplx.Abs(f)*l > 1e-9 {
				t.Errorf("%s: root %d leaves %v", name, i, f)
			}
			for j := range i {
				if cmplx.Abs(z-w.kappa[j]*w.kappa[j])*l*l < 1e-3 {
					t.Errorf("%s: roots %d and %d are one", name, j, i)
				}
			}
			if real(z) > real(lo) && real(z) < real(hi) && imag(z) > imag(lo) && imag(z) < imag(hi) {
				inside++
			}
		}
		turns, last := 0.0, 0.0
		corners := []complex128{lo, complex(real(hi), imag(lo)), hi, complex(real(lo), imag(hi)), lo}
		for side := range 4 {
			const n = 4000
			for i := range n + 1 {
				z := corners[side] + (corners[side+1]-corners[side])*complex(float64(i)/n, 0)
				f, _ := balance(z, complex(l, 0), h0, h1)
				phase := cmplx.Phase(f)
				if side+i > 0 {
					turns += math.Remainder(phase-last, 2*math.Pi) / (2 * math.Pi)
				}
				last = phase
			}
		}
		if math.Abs(turns-float64(inside)) > 0.01 {
			t.Errorf("%s: %d roots followed into the region, %.2f are there", name, inside, turns)
		}
	}
}

// With little absorption the roots are those between rigid walls, moved to the
// first order by e j k (g0 + g1)/L (Morse and Ingard, Theoretical Acoustics, 9.4),
// and the integral of psi^2 is L/e.
func TestRootsOfLittleAbsorption(t *testing.T) {
	const l, k, little = 4.3, 1.7, 1e-5
	w := follow(l, []complex128{k}, [][2]float64{{little, 3 * little}}, 8)[0]
	for n := range w.kappa {
		e := weight(n)
		want := complex(math.Pow(float64(n)*math.Pi/l, 2), e*k*4*little/l)
		geomtest.Within(t, fmt.Sprint("root ", n), cmplx.Abs(w.kappa[n]*w.kappa[n]-want), 0, 1e-8)
		geomtest.Within(t, fmt.Sprint("norm ", n), cmplx.Abs(w.norm[n]-complex(l/e, 0)), 0, 1e-3)
	}
	rigid := follow(l, []complex128{k}, [][2]float64{{}}, 8)[0]
	for n := range rigid.kappa {
		geomtest.Within(t, fmt.Sprint("rigid root ", n), cmplx.Abs(rigid.kappa[n]-complex(float64(n)*math.Pi/l, 0)), 0, 1e-12)
		geomtest.Within(t, fmt.Sprint("rigid norm ", n), cmplx.Abs(rigid.norm[n]-complex(l/weight(n), 0)), 0, 1e-12)
	}
}

// psi of different roots are orthogonal, and the norm is the integral of psi^2:
// both by Simpson's rule.
func TestNorms(t *testing.T) {
	const l, k = 4.3, 2.1
	w := follow(l, []complex128{k}, [][2]float64{{0.36, 0.11}}, 6)[0]
	for a := range w.kappa {
		for b := range a + 1 {
			const n = 2000
			var sum complex128
			for i := range n + 1 {
				weight := 2 + 2*float64(i%2)
				if i == 0 || i == n {
					weight = 1
				}
				x := l * float64(i) / n
				sum += complex(weight*l/n/3, 0) * w.at(a, x) * w.at(b, x)
			}
			want := complex128(0)
			if a == b {
				want = w.norm[a]
			}
			geomtest.Within(t, fmt.Sprint("integral of ", a, b), cmplx.Abs(sum-want), 0, 1e-9)
		}
	}
}

// Whichever axis the closed form takes, the answer is the same: an index lost
// across would be missed.
func TestRunsAgree(t *testing.T) {
	room := Room{Length: 6.1, Width: 4.4, Height: 2.7}
	source, ear := geometry.V(0.4, 0.5, 0.2), geometry.V(3.2, 2.6, 1.8)
	f := []float64{16, 24, 39.5, 57, 76, 101, 133, 160}
	for _, g := range []Surfaces{{}, {0.002, 0.003, 0.002, 0.001, 0.004, 0.002}, {0.05, 0.1, 0.03, 0.2, 0.3, 0.02}, {0.638, 0.638, 0.638, 0.638, 0.638, 0.638}, {Floor: 0.6}} {
		s, err := New(room, g.Damping(), []geometry.Vec{ear}, f)
		if err != nil {
			t.Fatal(err)
		}
		var runs [3][]complex128
		for axis := range runs {
			runs[axis] = make([]complex128, len(f))
			c := class(1.2)
			s.section(axis, c, s.receivers).add(source, []hear{{class: c, out: runs[axis]}})
		}
		for i := range f {
			for axis := 1; axis < 3; axis++ {
				if d := cmplx.Abs(runs[axis][i] - runs[0][i]); !(d < 2e-4) {
					t.Errorf("%+v, %v Hz: along x %v, along axis %d %v", g, f[i], runs[0][i], axis, runs[axis][i])
				}
			}
		}
	}
}
