// SPDX-License-Identifier: MIT

package equalise

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"earline/project"
	"earline/project/bass/filter"
)

// What an equaliser is asked to do, unless Options say otherwise, and its steps. All are
// common practice without a source, or ours.
const (
	UsualMost     = 6  // filters
	GreatestBoost = 3  // dB
	deepestCut    = 15 // dB
	// spill is how far the skirt of a boost may reach, dB, where nothing may be boosted.
	spill = 1
	// alike is how far the seats may lie apart, as a standard deviation in dB, where
	// something is boosted: beyond it a dip is a null that differs from seat to seat, and
	// what fills it at one seat is too much at the next.
	alike = 3

	// under is the share of the band where the mean lies below the target.
	under = 1.0 / 3

	widest, narrowest        = 0.5, 10 // Q of a peak: narrower than a mode nobody needs
	shelfQ                   = 0.7
	wholeHertz, gainStep, qs = 1.0, 0.5, 0.1
)

// Options are what is wanted of an equaliser. The zero value of each but From and To is
// ready to use.
type Options struct {
	Target project.Target
	// From and To bound the band that is brought to the target, Hz.
	From, To float64
	// Most is how many filters may be used; 0 is UsualMost.
	Most int
	// Boost is how far a filter may raise the level, 0 to GreatestBoost dB; 0 is cuts only.
	Boost float64
}

func (o Options) check(r *Responses) (Options, error) {
	if o.Most == 0 {
		o.Most = UsualMost
	}
	var faults []error
	fault := func(field, found, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: found, Allowed: allowed})
	}
	if o.Most < 1 || o.Most > project.MaxFilters {
		fault("filters", fmt.Sprint(o.Most), fmt.Sprintf("1 to %d", project.MaxFilters))
	}
	if !(o.Boost >= 0 && o.Boost <= GreatestBoost) {
		fault("boost", fmt.Sprintf("%v dB", o.Boost), fmt.Sprintf("0 (cuts only) to %d dB", GreatestBoost))
	}
	inside := 0
	for _, f := range r.Frequencies {
		if f >= o.From && f <= o.To {
			inside++
		}
	}
	const least = 8 // or a filter would be fitted to chance
	if !(o.From > 0 && o.To > o.From) || inside < least {
		allowed := fmt.Sprintf("two frequencies with %d or more of the response between them", least)
		if n := len(r.Frequencies); n > 1 {
			allowed += fmt.Sprintf(", which has %d from %.4g to %.4g Hz", n, r.Frequencies[0], r.Frequencies[n-1])
		}
		fault("band", fmt.Sprintf("%v to %v Hz", o.From, o.To), allowed)
	}
	return o, errors.Join(faults...)
}

// Result is an equaliser and what it does. Levels are in dB, one for each frequency of
// the responses.
type Result struct {
	// Filters are for all subwoofers alike, by frequency; none where none helps.
	Filters []project.Filter
	// Level is by how much they raise each frequency.
	Level []float64
	// Before and After are the power mean over the seats as weighed, Target the target at
	// the level of the response: in a third of the band, by octaves, the mean lies below
	// it, so that most of the work is left to cuts and little of the level is lost.
	Before, After, Target []float64
	// Apart is the standard deviation over the seats, before and after.
	Apart []float64
	// From and To bound the band; RMSBefore and RMSAfter are the root mean square distance
	// of the mean from the target in it, dB, each octave counted alike, and OverBefore and
	// OverAfter how far it lies above at most.
	From, To              float64
	RMSBefore, RMSAfter   float64
	OverBefore, OverAfter float64
	// Boost is the most by which any frequency is raised: so much headroom it takes there.
	Boost, BoostAt float64
	// Headroom is what is left at each frequency with the filters, when the target plays as
	// loud as is wanted; nil is not known. A boost takes its dB of it, a cut gives them.
	Headroom []float64
	// Unfilled are the dips that were left.
	Unfilled []Dip
}

// Solve finds filters that bring the mean of r nearest the target. They are never worse
// than none by RMSAfter, and the same each time; that no others are better is not proven.
// What cannot be used is a *project.Fault.
func Solve(r Responses, o Options) (*Result, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	o, err := o.check(&r)
	if err != nil {
		return nil, err
	}
	s := newSolver(&r, o)
	s.solve()
	return s.result(&r), nil
}

// Judge returns what given filters do to r, as Solve does of those it finds.
func Judge(r Responses, filters []project.Filter, o Options) (*Result, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	o, err := o.check(&r)
	if err != nil {
		return nil, err
	}
	for _, f := range filters {
		if _, err := filter.New(f, filter.Rate); err != nil {
			return nil, err
		}
	}
	s := newSolver(&r, o)
	s.filters = slices.Clone(filters)
	s.respond()
	return s.result(&r), nil
}

// allowed is how far each frequency may be raised, dB.
func allowed(r *Responses, o Options, apart, headroom []float64) []float64 {
	out := make([]float64, len(r.Frequencies))
	for i, f := range r.Frequencies {
		if f < o.From || f > o.To || f < r.Lowest || apart[i] > alike {
			continue
		}
		out[i] = o.Boost
		if headroom != nil {
			out[i] = max(0, min(o.Boost, headroom[i]))
		}
	}
	return out
}

// octaves returns what each frequency counts from lo to hi, each octave alike; they add
// up to 1.
func octaves(f []float64, lo, hi float64) []float64 {
	w := make([]float64, len(f))
	sum := 0.0
	for i := range f {
		if f[i] < lo || f[i] > hi {
			continue
		}
		below, above := f[max(i-1, 0)], f[min(i+1, len(f)-1)]
		w[i] = math.Log(above/below) / 2
		sum += w[i]
	}
	for i := range w {
		if sum > 0 {
			w[i] /= sum
		}
	}
	return w
}

// below returns the value below which a share of the weight lies.
func below(values, weight []float64, share float64) float64 {
	at := make([]int, 0, len(values))
	for i := range values {
		if weight[i] > 0 {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	sum := 0.0
	for _, i := range at {
		if sum += weight[i]; sum >= share {
			return values[i]
		}
	}
	return 0
}
