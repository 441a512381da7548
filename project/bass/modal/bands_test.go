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

// The sum shortened by bands against the same sum at every frequency.
func TestBandsLoseNothing(t *testing.T) {
	r := geomtest.Rand(t)
	shortened := false
	for _, count := range []int{1, 2, 7, 40, 200} {
		room := Room{Length: geomtest.Between(r, 3, 9), Width: geomtest.Between(r, 3, 7), Height: geomtest.Between(r, 2.2, 4)}
		f := make([]float64, count)
		for i := range f {
			f[i] = 20 * math.Pow(200.0/20, (float64(i)+r.Float64())/float64(count))
		}
		at := func() geometry.Vec {
			return geometry.V(room.Length*r.Float64(), room.Width*r.Float64(), room.Height*r.Float64())
		}
		s, err := New(room, ByKind(0.8, 0.5, 0.3), []geometry.Vec{at(), at(), at()}, f, 0)
		if err != nil {
			t.Fatal(err)
		}
		whole := *s
		whole.bands = []band{{lo: 0, hi: count, end: len(s.modes)}}
		whole.near, whole.far, whole.carry, whole.ks2 = nil, nil, nil, nil
		rates, mean := make([]float64, len(s.modes)), 0.0
		for i, m := range s.modes {
			rates[i] = ByKind(0.8, 0.5, 0.3)(m)
			mean += rates[i] / float64(len(rates))
		}
		if err := whole.tables(rates, mean); err != nil {
			t.Fatal(err)
		}
		sources := []geometry.Vec{at(), at()}
		got, _ := s.Transfer(sources)
		want, _ := whole.Transfer(sources)
		most := 0.0
		for i := range want.P {
			most = max(most, cmplx.Abs(got.P[i]-want.P[i]))
		}
		// 3.9e-7 of each mode, and the modes add up to some tens at most.
		if most > 1e-5 {
			t.Errorf("%d frequencies: differs by up to %.2g", count, most)
		}
		for _, b := range s.bands {
			shortened = shortened || b.far
		}
	}
	if !shortened {
		t.Error("no sum was shortened: the test looked at nothing")
	}
}

// What is carried from the nodes of a pole outside misses it by no more than
// 3.9e-7 of its value.
func TestCarryOfAPole(t *testing.T) {
	points := []float64{20, 33.3, 57, 61.25, 99, 100}
	at, carry := chebyshev(20, 100, points)
	for _, pole := range []complex128{60 + 40*farFrom, 60 - 40*farFrom, 60 + 40*farFrom + 3i, -400} {
		for i, p := range points {
			var got complex128
			for k, x := range at {
				got += complex(carry[i*nodes+k], 0) / (pole - complex(x, 0))
			}
			want := 1 / (pole - complex(p, 0))
			geomtest.Within(t, fmt.Sprint("pole ", pole, " at ", p), cmplx.Abs(got-want)/cmplx.Abs(want), 0, 4e-7)
		}
	}
}
