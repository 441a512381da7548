// SPDX-License-Identifier: MIT

package equalise

import (
	"errors"
	"fmt"
	"math"

	"earline/project"
)

// Responses are levels at seats.
type Responses struct {
	Frequencies []float64 // Hz, ascending
	// Level is in dB, [seat][frequency].
	Level [][]float64
	// Weights are what each seat counts, above 0; nil is all alike.
	Weights []float64
	// Limit is by how much the signal behind Level may be raised at each frequency before
	// something is at its limit, and Wanted the level that is wanted where the target is 0
	// dB, both in dB; nil is not known.
	Limit, Wanted []float64
	// Lowest is below what frequency nothing is to be boosted, because the subwoofers end
	// there, Hz; 0 is not known.
	Lowest float64
}

func (r *Responses) check() error {
	var faults []error
	fault := func(field, found, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: found, Allowed: allowed})
	}
	if len(r.Level) == 0 || len(r.Frequencies) < 2 {
		fault("responses", fmt.Sprintf("%d seats, %d frequencies", len(r.Level), len(r.Frequencies)), "one seat or more, two frequencies or more")
	}
	for i, f := range r.Frequencies {
		if !(f > 0) || math.IsInf(f, 0) || i > 0 && f <= r.Frequencies[i-1] {
			fault("frequencies", fmt.Sprintf("%v Hz at %d", f, i+1), "above 0 and above the one before")
			break
		}
	}
	rows := func(field string, all []float64) {
		if len(all) != len(r.Frequencies) {
			fault(field, fmt.Sprintf("%d levels", len(all)), fmt.Sprintf("%d, one for each frequency", len(r.Frequencies)))
		}
	}
	for i, l := range r.Level {
		field := fmt.Sprintf("response %d", i+1)
		rows(field, l)
		for _, v := range l {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				fault(field, fmt.Sprint(v), "finite levels")
				break
			}
		}
	}
	if r.Limit != nil || r.Wanted != nil {
		rows("limits of the signal", r.Limit)
		rows("levels wanted", r.Wanted)
	}
	if len(r.Weights) > 0 && len(r.Weights) != len(r.Level) {
		fault("weights of seats", fmt.Sprint(len(r.Weights)), fmt.Sprintf("%d, one for each seat", len(r.Level)))
	}
	for _, w := range r.Weights {
		if !(w > 0) || math.IsInf(w, 0) {
			fault("weight of a seat", fmt.Sprint(w), "above 0")
			break
		}
	}
	return errors.Join(faults...)
}

// Mean returns the power mean over the seats as weighed, dB, one for each frequency.
func (r *Responses) Mean() []float64 {
	share := r.shares()
	mean := make([]float64, len(r.Frequencies))
	for f := range mean {
		sum := 0.0
		for seat, l := range r.Level {
			sum += share[seat] * math.Pow(10, l[f]/10)
		}
		mean[f] = 10 * math.Log10(max(sum, 1e-40))
	}
	return mean
}

// Deviation returns the standard deviation over the seats as weighed of the level, dB,
// one for each frequency.
func (r *Responses) Deviation() []float64 {
	share := r.shares()
	out := make([]float64, len(r.Frequencies))
	for f := range out {
		mean, v := 0.0, 0.0
		for seat, l := range r.Level {
			mean += share[seat] * l[f]
		}
		for seat, l := range r.Level {
			v += share[seat] * (l[f] - mean) * (l[f] - mean)
		}
		out[f] = math.Sqrt(v)
	}
	return out
}

// shares are the weights as shares of 1.
func (r *Responses) shares() []float64 {
	out := make([]float64, len(r.Level))
	sum := 0.0
	for i := range out {
		out[i] = 1
		if len(r.Weights) > 0 {
			out[i] = r.Weights[i]
		}
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
