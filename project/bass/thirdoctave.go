// SPDX-License-Identifier: MIT

package bass

import "math"

// thirdOf returns the exact middle of the third-octave band of f hertz: 1000
// 10^(n/10) (IEC 61260-1:2014, base-ten).
func thirdOf(f float64) float64 {
	const dust = 1e-9 // an edge belongs to the band above it
	return 1000 * math.Pow(10, math.Floor(10*math.Log10(f/1000)+0.5+dust)/10)
}

// Thirds returns the levels of r in the third-octave bands that it covers
// completely, for a table: the energy mean of its frequencies in each band, dB,
// [seat][band]. mids are the exact mid-band frequencies, hertz: 1000 10^(n/10)
// (IEC 61260-1:2014, base-ten).
func (r *Response) Thirds() (mids []float64, level [][]float64) {
	level = make([][]float64, r.Seats)
	if len(r.Frequencies) == 0 {
		return nil, level
	}
	first, last := r.Frequencies[0], r.Frequencies[len(r.Frequencies)-1]
	const half = 0.05 // of a decade
	for n := math.Ceil(10*(math.Log10(first/1000)+half) - 1e-9); ; n++ {
		mid := 1000 * math.Pow(10, n/10)
		lo, hi := edges(mid)
		if hi > last*(1+1e-9) {
			return mids, level
		}
		var in []int
		for i, f := range r.Frequencies {
			if f >= lo && f < hi {
				in = append(in, i)
			}
		}
		if len(in) == 0 {
			continue
		}
		mids = append(mids, mid)
		for seat := range r.Seats {
			sum := 0.0
			for _, i := range in {
				sum += math.Pow(10, r.Seat(seat)[i]/10)
			}
			level[seat] = append(level[seat], 10*math.Log10(sum/float64(len(in))))
		}
	}
}

// NominalThird returns the name in hertz of a third-octave band by its exact middle
// (IEC 61260-1:2014, annex E).
func NominalThird(f float64) float64 {
	names := []float64{10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250}
	best := f
	for _, n := range names {
		if math.Abs(math.Log(n/f)) < 0.03 {
			best = n
		}
	}
	return best
}

// edges returns the edges of the third of an octave about mid.
func edges(mid float64) (lo, hi float64) {
	const half = 0.05 // of a decade
	return mid * math.Pow(10, -half), mid * math.Pow(10, half)
}
