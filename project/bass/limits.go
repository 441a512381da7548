// SPDX-License-Identifier: MIT

package bass

import (
	"errors"
	"fmt"

	"earline/project"
)

// GiveUp is how far a third of an octave from 20 to 50 Hz may come to lie below the
// best in-phase level unless Limits say otherwise, in dB.
const GiveUp = 3

// usualPrice is Limits.Price unless they say otherwise.
const usualPrice = 0.1

// Limits are what Optimise may change, and how far. The zero value is ready to
// use.
type Limits struct {
	// LeastGain and GreatestGain bound the gains, in dB; both 0 are -12 and 0.
	LeastGain, GreatestGain float64
	// LongestDelay bounds the delays, in seconds, from 0; 0 is 20 ms.
	LongestDelay float64
	// GainStep and DelayStep are the processor's, in dB and seconds; 0 are 0.5 dB
	// and 0.1 ms.
	GainStep, DelayStep float64
	// KeepPolarity, KeepGain and KeepDelay leave these settings as they are.
	KeepPolarity, KeepGain, KeepDelay bool
	// Price is what lost output costs: dB^2 of variance for each dB^2 of level lost
	// below the best in-phase level, third by third of an octave. 0 is 0.1: a loss of
	// 3 dB in all thirds must save 0.9 dB^2, one of 10 dB in one of eight 1.2 dB^2. A
	// negative price is none.
	Price float64
	// GiveUp is how far a third of an octave from 20 to 50 Hz may come to lie below
	// the best in-phase level, in dB: the louder of how the subwoofers were set and of
	// all at the greatest gain, of one polarity and without delay. 0 is 3 dB (common
	// practice, no source); below 0 is as far as it likes.
	GiveUp float64
	// Weights are what each seat counts, above 0; nil is all alike.
	Weights []float64
	// Starts is the number of points from which the search goes downhill, at least
	// one for each set of polarities, besides those that follow from the best; 0 is 40.
	Starts int
	// Progress, if not nil, receives the share done, 0 to 1, never less than before.
	// It is called on other goroutines, by one at a time.
	Progress func(share float64)

	// priced, if not nil, are the levels by third below which output counts as lost,
	// so that sets of places are priced alike.
	priced []float64
}

func (l Limits) check(seats int) (Limits, error) {
	if l.LeastGain == 0 && l.GreatestGain == 0 {
		l.LeastGain = -12
	}
	set := func(v *float64, def float64) {
		if *v == 0 {
			*v = def
		}
	}
	set(&l.LongestDelay, 0.020)
	set(&l.GainStep, 0.5)
	set(&l.DelayStep, 0.0001)
	set(&l.Price, usualPrice)
	l.Price = max(0, l.Price)
	set(&l.GiveUp, GiveUp)
	if l.Starts == 0 {
		l.Starts = 40
	}
	var faults []error
	fault := func(field string, v any, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: fmt.Sprint(v), Allowed: allowed})
	}
	if !(l.LeastGain <= l.GreatestGain && l.LeastGain >= -100 && l.GreatestGain <= 100) {
		fault("gains", fmt.Sprintf("%v to %v dB", l.LeastGain, l.GreatestGain), "the least first, -100 to 100 dB")
	}
	if !(l.LongestDelay > 0 && l.LongestDelay <= 1) {
		fault("longest delay", fmt.Sprint(l.LongestDelay, " s"), "above 0, up to 1 s")
	}
	if !(l.GainStep > 0 && l.GainStep <= 20) {
		fault("gain step", fmt.Sprint(l.GainStep, " dB"), "above 0, up to 20 dB")
	}
	if !(l.DelayStep > 0 && l.DelayStep <= 0.1) {
		fault("delay step", fmt.Sprint(l.DelayStep, " s"), "above 0, up to 0.1 s")
	}
	if !(l.Price <= 1000) {
		fault("price of output", l.Price, "up to 1000")
	}
	if !(l.GiveUp <= 100) {
		fault("output to give up", fmt.Sprint(l.GiveUp, " dB"), "up to 100 dB")
	}
	faults = append(faults, checkWeights(l.Weights, seats))
	if l.Starts < 1 || l.Starts > 10_000 {
		fault("starts", l.Starts, "1 to 10000")
	}
	return l, errors.Join(faults...)
}

// checkWeights returns a fault for weights of seats that cannot be used.
func checkWeights(weights []float64, seats int) error {
	if len(weights) > 0 && len(weights) != seats {
		return &project.Fault{Field: "weights of seats", Found: fmt.Sprint(len(weights)), Allowed: fmt.Sprintf("%d, one for each seat", seats)}
	}
	for _, w := range weights {
		if !(w > 0 && w <= 1e6) {
			return &project.Fault{Field: "weight of a seat", Found: fmt.Sprint(w), Allowed: "above 0, up to a million"}
		}
	}
	return nil
}

// bounds of one drive's gain and delay.
func (l Limits) gain(given float64) (lo, hi float64) {
	if l.KeepGain {
		return given, given
	}
	return l.LeastGain, l.GreatestGain
}

func (l Limits) delay(given float64) (lo, hi float64) {
	if l.KeepDelay {
		return given, given
	}
	return 0, l.LongestDelay
}
