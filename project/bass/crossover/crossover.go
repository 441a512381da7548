// SPDX-License-Identifier: MIT

// Package crossover answers what the filters of a crossover do to a signal.
//
// A Butterworth low-pass of order n is 1/B(s), B being the product of
// s^2 + 2 s sin(a) + 1 over the pairs of poles, and of s + 1 where n is odd, with s = j f
// by corner; it has fallen by 3.01 dB there (Butterworth 1930). A Linkwitz-Riley filter
// is a Butterworth filter of half its order, twice: it has fallen by 6.02 dB at the
// corner, and low-pass and high-pass, in phase at all frequencies, add up to an
// all-pass (Linkwitz, Active Crossover Networks for Noncoincident Drivers, J. Audio
// Eng. Soc. 24 (1976) 2; from memory). Those of second order do so with one of them
// inverted. High-passes are s^n/B(s). Time runs as exp(j 2 pi f t).
package crossover

import (
	"math"
	"math/cmplx"

	"earline/project"
)

// Filter is a low-pass or high-pass without its corner. The zero value lets all pass.
type Filter struct {
	Order  int  // of the Butterworth filter
	Twice  bool // Linkwitz-Riley
	Passes Side
}

// Side is which side of its corner a filter lets pass.
type Side uint8

// The sides.
const (
	Below Side = iota // a low-pass
	Above             // a high-pass
)

// Pair is what a crossover does to both sides.
type Pair struct {
	Low  Filter // for the subwoofers
	High Filter // for the mains
	// Opposed is whether the two add up with one of them inverted, as those of
	// second order do: they lie 180 degrees apart.
	Opposed bool
}

// Of returns the filters of a slope; those of project.LinkwitzRiley4 for one that is
// not known.
func Of(s project.CrossoverSlope) Pair {
	both := func(order int, twice bool) Pair {
		return Pair{Low: Filter{order, twice, Below}, High: Filter{order, twice, Above}}
	}
	var p Pair
	switch s {
	case project.Butterworth1:
		p = both(1, false)
	case project.Butterworth2:
		p = both(2, false)
		p.Opposed = true
	case project.Butterworth3:
		p = both(3, false)
	case project.Butterworth4:
		p = both(4, false)
	case project.LinkwitzRiley2:
		p = both(1, true)
		p.Opposed = true
	case project.LinkwitzRiley8:
		p = both(4, true)
	case project.SealedMains:
		p = Pair{Low: Filter{2, true, Below}, High: Filter{2, false, Above}}
	default:
		p = both(2, true)
	}
	return p
}

// Response returns the complex response at f hertz, above 0, of the filter with its
// corner, in hertz; 1 where the corner is 0.
func (p Filter) Response(f, corner float64) complex128 {
	if corner == 0 || p.Order == 0 {
		return 1
	}
	x := f / corner
	if p.Passes == Above {
		// s^n/B(s) is 1/B(1/s), since B reads the same both ways.
		x = -corner / f
	}
	b := butterworth(x, p.Order)
	if p.Twice {
		b *= b
	}
	return 1 / b
}

// butterworth returns the Butterworth polynomial of that order at j x: the poles lie
// on the unit circle, evenly, those of odd orders on the negative real axis as well.
func butterworth(x float64, order int) complex128 {
	s := complex(0, x)
	p := complex(1, 0)
	if order%2 == 1 {
		p += s
	}
	for k := range order / 2 {
		a := math.Pi * (2*float64(k) + 1) / float64(2*order) // from the imaginary axis
		p *= s*s + complex(2*math.Sin(a), 0)*s + 1
	}
	return p
}

// Level returns the response at f hertz in dB.
func (p Filter) Level(f, corner float64) float64 {
	return 20 * math.Log10(cmplx.Abs(p.Response(f, corner)))
}
