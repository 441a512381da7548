// SPDX-License-Identifier: MIT

package bass

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"earline/project"
	"earline/project/bass/field"
)

// Response is the level of all subwoofers together at each seat.
type Response struct {
	Seats       int
	Frequencies []float64 // Hz, ascending
	// Level is in dB, [seat][frequency] flat.
	Level   []float64
	Remarks []string // how far it can be trusted
}

// silence keeps the level of a pressure of 0 a number: 10 lg of it is -200 dB.
const silence = 1e-20

// Combine adds up the subwoofers at every seat: see Pressures.
func Combine(t *field.Transfer, subs []Sub) (*Response, error) {
	sum, err := Pressures(t, subs)
	if err != nil {
		return nil, err
	}
	return Levels(t, sum), nil
}

// Pressures adds up the subwoofers at every seat: for each of them the pressure of t
// times its own response and that of its drive; re 20 uPa when their sensitivities are
// given, [seat][frequency] flat. It returns a *project.Fault when there is not one Sub
// for each source of t, or one cannot be used.
func Pressures(t *field.Transfer, subs []Sub) ([]complex128, error) {
	if err := check(t, subs); err != nil {
		return nil, err
	}
	n := len(t.Frequencies)
	sum := make([]complex128, t.Receivers*n)
	for s, sub := range subs {
		for f, hz := range t.Frequencies {
			h := sub.fixed(hz) * Drive{Gain: sub.Gain, Delay: sub.Delay, Inverted: sub.Inverted}.Response(hz)
			for seat := range t.Receivers {
				sum[seat*n+f] += h * t.At(s, seat, f)
			}
		}
	}
	return sum, nil
}

// Levels returns pressures at the seats of t, [seat][frequency] flat, as levels.
func Levels(t *field.Transfer, pressures []complex128) *Response {
	r := &Response{Seats: t.Receivers, Frequencies: slices.Clone(t.Frequencies), Level: make([]float64, len(pressures)), Remarks: slices.Clone(t.Remarks)}
	for i, p := range pressures {
		r.Level[i] = 10 * math.Log10(real(p)*real(p)+imag(p)*imag(p)+silence)
	}
	return r
}

func check(t *field.Transfer, subs []Sub) error {
	if len(subs) != t.Sources {
		return &project.Fault{Field: "subwoofers", Found: fmt.Sprintf("%d drives for %d sources", len(subs), t.Sources), Allowed: "one each"}
	}
	var faults []error
	for i, s := range subs {
		faults = append(faults, s.check(i+1))
	}
	if t.Receivers == 0 || len(t.Frequencies) == 0 {
		faults = append(faults, &project.Fault{Field: "seats", Found: fmt.Sprintf("%d seats, %d frequencies", t.Receivers, len(t.Frequencies)), Allowed: "one or more of each"})
	}
	for i, p := range t.P {
		if cmplx.IsNaN(p) || cmplx.IsInf(p) {
			faults = append(faults, &project.Fault{Field: "sound of the subwoofers", Found: fmt.Sprintf("%v at value %d", p, i+1), Allowed: "finite numbers"})
			break
		}
	}
	return errors.Join(faults...)
}

// Seat returns the levels at one seat, in dB, one for each frequency. The slice
// belongs to r. It panics when there is no such seat.
func (r *Response) Seat(seat int) []float64 {
	n := len(r.Frequencies)
	return r.Level[seat*n : (seat+1)*n : (seat+1)*n]
}

// Mean returns the mean over the seats of the level in dB, one for each
// frequency.
func (r *Response) Mean() []float64 {
	mean := make([]float64, len(r.Frequencies))
	for seat := range r.Seats {
		for f, l := range r.Seat(seat) {
			mean[f] += l / float64(r.Seats)
		}
	}
	return mean
}

// Variance returns the variance over the seats of the level in dB, in dB^2, one
// for each frequency: the population variance, by the number of seats.
func (r *Response) Variance() []float64 {
	mean := r.Mean()
	v := make([]float64, len(mean))
	for seat := range r.Seats {
		for f, l := range r.Seat(seat) {
			v[f] += (l - mean[f]) * (l - mean[f]) / float64(r.Seats)
		}
	}
	return v
}

// Weighed returns the mean over frequency of the variance over the seats of the
// level, in dB^2, each seat counted by its weight; nil is all alike.
func (r *Response) Weighed(weights []float64) float64 {
	share := shares(weights, r.Seats)
	total := 0.0
	for f := range r.Frequencies {
		mean, v := 0.0, 0.0
		for seat, w := range share {
			mean += w * r.Seat(seat)[f]
		}
		for seat, w := range share {
			d := r.Seat(seat)[f] - mean
			v += w * d * d
		}
		total += v / float64(len(r.Frequencies))
	}
	return total
}

// Spread returns the level of the loudest seat less that of the softest, in dB,
// one for each frequency.
func (r *Response) Spread() []float64 {
	lo, hi := slices.Clone(r.Seat(0)), slices.Clone(r.Seat(0))
	for seat := range r.Seats {
		for f, l := range r.Seat(seat) {
			lo[f], hi[f] = min(lo[f], l), max(hi[f], l)
		}
	}
	for f := range hi {
		hi[f] -= lo[f]
	}
	return hi
}

// Figures are a response in a few numbers. Every frequency counts alike: give
// them evenly spaced by octave (see Octaves) where each octave should.
type Figures struct {
	// MeanSpatialVariance is the mean over frequency of the variance over seats of
	// the level, in dB^2 (Welti and Devantier, J. Audio Eng. Soc. 54 (2006) 347;
	// population variance).
	MeanSpatialVariance float64
	// SeatToSeat is its root, in dB: how far a seat typically lies from the mean.
	SeatToSeat float64
	// Spread is the mean over frequency of loudest less softest seat, in dB;
	// WidestSpread the greatest, at WidestAt hertz.
	Spread, WidestSpread, WidestAt float64
	// Output is the mean output level: the mean over frequency and seats of the
	// level, in dB.
	Output float64
}

// Figures returns the figures of a response.
func (r *Response) Figures() Figures {
	var f Figures
	n := float64(len(r.Frequencies))
	for _, v := range r.Variance() {
		f.MeanSpatialVariance += v / n
	}
	f.SeatToSeat = math.Sqrt(f.MeanSpatialVariance)
	for i, s := range r.Spread() {
		f.Spread += s / n
		if s > f.WidestSpread {
			f.WidestSpread, f.WidestAt = s, r.Frequencies[i]
		}
	}
	for _, l := range r.Mean() {
		f.Output += l / n
	}
	return f
}

// Octaves returns frequencies from lo to hi hertz, both included, evenly spaced
// by octave, at least perOctave to each. It returns nil unless 0 < lo < hi and
// perOctave is above 0.
func Octaves(lo, hi float64, perOctave int) []float64 {
	if !(lo > 0 && hi > lo) || math.IsInf(hi, 0) || perOctave < 1 {
		return nil
	}
	n := int(math.Ceil(math.Log2(hi/lo)*float64(perOctave) - 1e-9))
	f := make([]float64, n+1)
	for i := range f {
		f[i] = lo * math.Pow(hi/lo, float64(i)/float64(n))
	}
	f[n] = hi
	return f
}
