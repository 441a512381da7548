// SPDX-License-Identifier: MIT

package modal_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project/bass/field"
	"earline/project/bass/modal"
)

// spread is the field of a plane source between two walls that give way, the
// solution of -p” - z p = delta(x - a) at b with p' = h0 p at 0 and p' = -h1 p at
// l (Morse and Ingard, Theoretical Acoustics, ch. 4), from waves that run to and
// fro and their reflection factors.
func spread(z complex128, l, a, b float64, h0, h1 complex128) complex128 {
	g := cmplx.Sqrt(-z) // a wave is exp(-g x)
	e := func(x float64) complex128 { return cmplx.Exp(-g * complex(x, 0)) }
	r0, r1 := (g-h0)/(g+h0), (g-h1)/(g+h1)
	return (e(math.Abs(a-b)) + r0*e(a+b) + r1*e(2*l-a-b) + r0*r1*e(2*l-math.Abs(a-b))) / (2 * g * (1 - r0*r1*e(2*l)))
}

// exact is the pressure in a box whose walls give way, without modes: with A, B, C
// = -d2/dx2 and so on between its walls, the answer is (A + B + C - k^2)^-1, and
// functions of commuting operators are integrals over their resolvents (Cauchy; Morse
// and Feshbach, Methods of Theoretical Physics, 7.2, from memory),
//
//	(1/(2 pi j))^2 integrals over real x, y of (B - x)^-1 (C - y)^-1 (A - k^2 + x + y)^-1
//
// Walls that take sound move the spectra of B and C above the real axis and k^2 - A
// below, so the axis parts them. No root is looked for, so none can be lost.
func exact(room modal.Room, g modal.Surfaces, s, e geometry.Vec, f float64) complex128 {
	const (
		c    = 343.2
		much = 11.0 // exp(-much) is left out
	)
	k := 2 * math.Pi * f / c
	h := func(g float64) complex128 { return complex(0, k*g) }
	apart := min(math.Abs(s.X-e.X), math.Abs(s.Y-e.Y), math.Abs(s.Z-e.Z))
	top := math.Pow(much/apart, 2)
	// The nearest pole lies so far from the axis, to the first order; where walls take
	// much the poles come back towards it, but not to a fifth of that.
	least := min(0.04, k*min((g.Front+g.Back)/room.Length, (g.Left+g.Right)/room.Width, (g.Floor+g.Ceiling)/room.Height))
	n := 1
	for (2*top+k*k)/float64(n) > 0.55*least { // exp(-2 pi/0.55) = 1e-5
		n *= 2
	}
	step := (2*top + k*k) / float64(n)
	size := 2 * n
	y, z := make([]complex128, size), make([]complex128, size)
	for i := range n {
		y[i] = spread(complex(-top+(float64(i)+0.3)*step, 0), room.Width, s.Y, e.Y, h(g.Left), h(g.Right))
		z[i] = spread(complex(-top+(float64(i)+0.45)*step, 0), room.Height, s.Z, e.Z, h(g.Floor), h(g.Ceiling))
	}
	// The third depends on the sum of the two: a convolution.
	fft := fourier.NewCmplxFFT(size)
	y, z = fft.Coefficients(nil, y), fft.Coefficients(nil, z)
	for i := range y {
		y[i] *= z[i] / complex(float64(size), 0)
	}
	both := fft.Sequence(nil, y)
	var sum complex128
	for i := range 2*n - 1 {
		at := complex(k*k+2*top-(float64(i)+0.75)*step, 0)
		if real(at) < -4*top {
			break
		}
		sum += both[i] * spread(at, room.Length, s.X, e.X, h(g.Front), h(g.Back))
	}
	return -sum * complex(step*step/math.Pi, 0) // 4 pi/(2 pi j)^2
}

// Every absorption, alike all round and uneven, against the exact solution: to a
// ten thousandth of the free field at 1 m, which is 0.001 dB.
func TestAnyAbsorption(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4.5, Height: 2.7}
	source := geometry.V(0.4, 0.5, 0.3)
	ears := []geometry.Vec{{X: 3.1, Y: 2.4, Z: 1.6}, {X: 5.2, Y: 3.3, Z: 1.9}}
	for _, tc := range []struct {
		name  string
		alpha [6]float64 // front, back, left, right, floor, ceiling
		f     []float64
	}{
		{"0.02", [6]float64{0.02, 0.02, 0.02, 0.02, 0.02, 0.02}, []float64{118}},
		{"0.1", [6]float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, []float64{47, 118}},
		{"0.3", [6]float64{0.3, 0.3, 0.3, 0.3, 0.3, 0.3}, []float64{20, 28.6, 47, 76.4, 118}},
		{"0.5", [6]float64{0.5, 0.5, 0.5, 0.5, 0.5, 0.5}, []float64{20, 28.6, 47, 76.4, 118, 160}},
		{"0.8", [6]float64{0.8, 0.8, 0.8, 0.8, 0.8, 0.8}, []float64{20, 28.6, 47, 76.4, 118, 160}},
		{"one side wall", [6]float64{0.08, 0.06, 0.34, 0.09, 0.07, 0.22}, []float64{47, 118}},
		{"floor", [6]float64{0.04, 0.2, 0.1, 0.24, 0.35, 0.06}, []float64{47, 118}},
		{"as much as can be", [6]float64{1, 0.1, 1, 1, 0.1, 1}, []float64{20, 47, 118}},
	} {
		g := modal.Surfaces{
			Front: field.Admittance(tc.alpha[0]), Back: field.Admittance(tc.alpha[1]),
			Left: field.Admittance(tc.alpha[2]), Right: field.Admittance(tc.alpha[3]),
			Floor: field.Admittance(tc.alpha[4]), Ceiling: field.Admittance(tc.alpha[5]),
		}
		s, err := modal.New(room, g.Damping(), ears, tc.f)
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Transfer([]geometry.Vec{source})
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i, f := range tc.f {
			for j, ear := range ears {
				want := exact(room, g, source, ear, f)
				worst = max(worst, cmplx.Abs(got.At(0, j, i)-want))
				geomtest.Within(t, fmt.Sprintf("%s, %v Hz, ear %d: %.4f, want %.4f", tc.name, f, j+1, got.At(0, j, i), want),
					cmplx.Abs(got.At(0, j, i)-want), 0, 1e-4)
			}
		}
		t.Logf("%s: within %.1e", tc.name, worst)
	}
}
