// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"

	"earline/geometry"
	"earline/project/bass/field"
)

// Waterfall is how the sound of all subwoofers dies away at one seat: the spectrum of
// what is still to come, slice by slice in time.
type Waterfall struct {
	Seat        int
	Frequencies []float64   // Hz, ascending
	Times       []float64   // s, since the subwoofers' signal, ascending from 0
	Level       [][]float64 // [time][frequency], dB re the loudest of all
	Remarks     []string
}

// slices of time in a Waterfall, seconds.
func sliceTimes() []float64 { return []float64{0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6} }

// highestShown is the highest frequency of a Waterfall, hertz.
const highestShown = 200

// faded is what is left of f hertz where what is computed ends: cut off sharply, it would
// ring in time by itself.
func faded(f float64) float64 {
	const lowest, highest = Lowest - 1.0, highestShown + 5.0
	part := 1.0
	switch {
	case f < lowest:
		part = (f - lowestLine) / (lowest - lowestLine)
	case f > highest:
		part = (highestLine - f) / (highestLine - highest)
	}
	return (1 - math.Cos(math.Pi*part)) / 2
}

// rise is how long the window at the beginning of a slice takes to open, seconds: within
// it neighbouring slices run into each other, and frequencies closer than its inverse too.
const rise = 0.04

// Waterfall computes how the sound of the subwoofers of p, as they are driven, dies away
// at a seat, by index. It returns a *project.Fault for a plan without subwoofers; for
// progress and other errors see Transfer.
func (s *Store) Waterfall(ctx context.Context, p *Plan, seat int, progress func(float64)) (*Waterfall, error) {
	if err := errors.Join(p.none(), p.outside()); err != nil {
		return nil, err
	}
	q := *p
	q.Frequencies, q.Ears = lines(), []geometry.Vec{p.Ears[seat]}
	t, err := s.Transfer(ctx, &q, p.Places, progress)
	if err != nil {
		return nil, err
	}
	w := &Waterfall{Seat: seat, Times: sliceTimes(), Frequencies: Octaves(Lowest, highestShown, 48), Remarks: slices.Clone(t.Remarks)}
	for i, f := range w.Frequencies {
		w.Frequencies[i] = math.Round(f/spacing) * spacing
	}
	w.fill(t, p.Subs)
	return w, nil
}

// fill computes the slices: the sound in time, from where the window opens on, back into
// frequencies.
func (w *Waterfall) fill(t *field.Transfer, subs []Sub) {
	x := make([]complex128, instants)
	for i, sub := range subs {
		for k, f := range t.Frequencies {
			h := sub.fixed(f) * Drive{Gain: sub.Gain, Delay: sub.Delay, Inverted: sub.Inverted}.Response(f)
			x[int(math.Round(f/spacing))] += complex(faded(f), 0) * h * t.At(i, 0, k)
		}
	}
	transform := fourier.NewCmplxFFT(instants)
	sound := transform.Sequence(nil, x)
	loudest := 0.0
	for _, from := range w.Times {
		part := make([]complex128, instants)
		for n := range part {
			since := float64(n)*step - from + rise
			switch {
			case from == 0: // the first is all of it
				part[n] = sound[n]
			case n >= instants-before: // what the ends of the band send ahead of the sound
			case since >= rise:
				part[n] = sound[n]
			case since > 0:
				part[n] = sound[n] * complex((1-math.Cos(math.Pi*since/rise))/2, 0)
			}
		}
		back := transform.Coefficients(nil, part)
		level := make([]float64, len(w.Frequencies))
		for i, f := range w.Frequencies {
			level[i] = cmplx.Abs(back[int(math.Round(f/spacing))])
			loudest = max(loudest, level[i])
		}
		w.Level = append(w.Level, level)
	}
	const floor = 1e-10 // of the loudest: -200 dB
	for _, level := range w.Level {
		for i, v := range level {
			level[i] = 20 * math.Log10(max(v/max(loudest, 1e-300), floor))
		}
	}
}
