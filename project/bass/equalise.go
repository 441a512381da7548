// SPDX-License-Identifier: MIT

package bass

import (
	"fmt"
	"math"
	"slices"

	"earline/project"
	"earline/project/bass/equalise"
	"earline/project/bass/filter"
)

// filtered returns p with the filters that d gives its subwoofers.
func (p *Plan) filtered(d *project.Design) (*Plan, error) {
	common, err := filter.Of(d.Equalisation.Common())
	if err != nil {
		return nil, err
	}
	out := *p
	out.common, out.Subs = common, slices.Clone(p.Subs)
	for i, k := range p.Speakers {
		own, err := filter.Of(d.Equalisation.Own(d.Speakers[k].ID))
		if err != nil {
			return nil, err
		}
		out.Subs[i].Filters = append(slices.Clone(common), own...)
	}
	return &out, nil
}

// filtersIn says that levels have filters in them; empty where none has.
func filtersIn(subs []Sub) string {
	least, most := math.MaxInt, 0
	for _, s := range subs {
		least, most = min(least, len(s.Filters)), max(most, len(s.Filters))
	}
	switch {
	case most == 0:
		return ""
	case least != most:
		return fmt.Sprintf("The filters of the equalisation are in the levels: %d to %d for each subwoofer.", least, most)
	case most == 1:
		return "The filter of the equalisation is in the levels."
	}
	return fmt.Sprintf("The %d filters of the equalisation are in the levels.", most)
}

// EqualiseOptions are what is wanted of the common filters of the subwoofers.
type EqualiseOptions struct {
	Target project.Target
	// From and To bound the band, Hz; 0 are Lowest and the crossover of the design.
	From, To float64
	// Most and Boost are those of equalise.Options.
	Most  int
	Boost float64
}

// Equalised is what the common filters do.
type Equalised struct {
	*equalise.Result
	// Design has the target and the filters in place of those it had; a high-pass and the
	// filters of single subwoofers stay.
	Design *project.Design
	// Before is the study without the common filters that are replaced, After with the new.
	Before, After *Study
	Remarks       []string
}

// Equalise finds filters that all subwoofers of st, a study of d, get alike and that bring
// the mean of the seats as Align weighs them nearest the target. See equalise.Solve; a
// fault is one of what is asked for.
func (st *Study) Equalise(d *project.Design, o EqualiseOptions) (*Equalised, error) {
	return st.equalised(d, o, func(r equalise.Responses, e equalise.Options) (*equalise.Result, error) { return equalise.Solve(r, e) })
}

// Equalised returns what the common filters that d has do, against its own target.
func (st *Study) Equalised(d *project.Design) (*Equalised, error) {
	var filters []project.Filter
	o := EqualiseOptions{Target: d.Equalisation.Target}
	for _, f := range d.Equalisation.Filters {
		if replaced(f) {
			filters = append(filters, f)
			o.Boost = min(max(o.Boost, f.Gain), equalise.GreatestBoost)
		}
	}
	return st.equalised(d, o, func(r equalise.Responses, e equalise.Options) (*equalise.Result, error) {
		return equalise.Judge(r, filters, e)
	})
}

// replaced reports whether f is one of those that equalising finds anew.
func replaced(f project.Filter) bool {
	return f.Of == project.AllSubwoofers && f.Kind != project.HighPass
}

func (st *Study) equalised(d *project.Design, o EqualiseOptions, by func(equalise.Responses, equalise.Options) (*equalise.Result, error)) (*Equalised, error) {
	f := st.Response.Frequencies
	if o.From == 0 {
		o.From = Lowest
	}
	if o.To == 0 {
		o.To = min(max(d.Playback.OrUsual().Crossover, leastTo), f[len(f)-1])
	}
	if !(o.From < o.To) {
		return nil, &project.Fault{Field: "band", Found: fmt.Sprintf("%g to %g Hz", o.From, o.To), Allowed: "an end above its beginning; an end that is left out is the crossover"}
	}
	bare := d.Clone()
	bare.Equalisation.Target = o.Target
	bare.Equalisation.Filters = slices.DeleteFunc(bare.Equalisation.Filters, replaced)
	kept := len(bare.Equalisation.Common())
	if kept == project.MaxFilters {
		return nil, &project.Fault{Field: "equalisation.filters", Found: fmt.Sprintf("%d of all subwoofers that stay", kept), Allowed: "fewer, so that others have room"}
	}
	if o.Most == 0 {
		o.Most = equalise.UsualMost
	}
	o.Most = min(o.Most, project.MaxFilters-kept)
	before, err := st.as(bare)
	if err != nil {
		return nil, err
	}
	result, err := by(before.toEqualise(bare), equalise.Options{Target: o.Target, From: o.From, To: o.To, Most: o.Most, Boost: o.Boost})
	if err != nil {
		return nil, err
	}
	out := &Equalised{Result: result, Before: before, Design: bare}
	out.Design.Equalisation.Filters = append(slices.Clone(result.Filters), bare.Equalisation.Filters...)
	if out.After, err = st.as(out.Design); err != nil {
		return nil, err
	}
	out.Remarks = out.remarks(o)
	return out, nil
}

// leastTo is where the band ends at least, Hz: a crossover below it leaves nothing to fit.
const leastTo = 40

// as returns st with the filters that d gives the subwoofers.
func (st *Study) as(d *project.Design) (*Study, error) {
	p, err := st.Plan.filtered(d)
	if err != nil {
		return nil, err
	}
	return StudyOf(p, st.Transfer, p.Subs)
}

// toEqualise returns the responses of st, a study of d, with what limits the subwoofers.
func (st *Study) toEqualise(d *project.Design) equalise.Responses {
	r := equalise.Responses{Frequencies: st.Response.Frequencies, Weights: st.Plan.Limits.Weights}
	for seat := range st.Response.Seats {
		r.Level = append(r.Level, st.Response.Seat(seat))
	}
	subs := st.Plan.limited(d)
	pb, low := d.Playback.OrUsual(), redirection(d)
	for _, f := range r.Frequencies {
		_, least := bounds(subs, f)
		r.Limit = append(r.Limit, least)
		r.Wanted = append(r.Wanted, must(pb, low, f))
	}
	for _, s := range st.Plan.Subs {
		r.Lowest = max(r.Lowest, s.Corner)
	}
	return r
}

// EqualisedThird is a third of an octave without the common filters and with them, dB.
type EqualisedThird struct {
	Mid float64 // exact, Hz
	// Before and After are energy means over the third of the mean of the seats, Target
	// its mean.
	Before, After, Target float64
	// Apart is the standard deviation over the seats, root mean square over the third; the
	// filters leave it.
	Apart float64
	// HeadroomBefore and Headroom are the least in the third: see equalise.Result.
	HeadroomBefore, Headroom float64
	// Within is whether the band that is brought to the target touches it, Whole whether it
	// holds all of it.
	Within, Whole bool
}

// Thirds returns what the filters do by third of an octave.
func (e *Equalised) Thirds() []EqualisedThird {
	mids, _ := e.Before.Response.Thirds()
	var out []EqualisedThird
	for _, mid := range mids {
		lo, hi := edges(mid)
		t := EqualisedThird{Mid: mid, HeadroomBefore: math.Inf(1), Headroom: math.Inf(1), Within: hi > e.From && lo < e.To, Whole: lo >= e.From && hi <= e.To}
		before, after, apart, target, n := 0.0, 0.0, 0.0, 0.0, 0.0
		for i, f := range e.Before.Response.Frequencies {
			if f < lo || f >= hi {
				continue
			}
			before, after = before+math.Pow(10, e.Result.Before[i]/10), after+math.Pow(10, e.Result.After[i]/10)
			apart, target, n = apart+e.Apart[i]*e.Apart[i], target+e.Target[i], n+1
			t.Headroom, t.HeadroomBefore = min(t.Headroom, e.Headroom[i]), min(t.HeadroomBefore, e.Headroom[i]+e.Level[i])
		}
		t.Before, t.After = 10*math.Log10(before/n+silence), 10*math.Log10(after/n+silence)
		t.Apart, t.Target = math.Sqrt(apart/n), target/n
		out = append(out, t)
	}
	return out
}

// Sentence says in one line what the filters do.
func (e *Equalised) Sentence() string {
	if len(e.Filters) == 0 {
		return fmt.Sprintf("No filter helps: the mean of the seats lies %.1f dB rms from the target from %.0f to %.0f Hz, at most %.1f dB above it.", e.RMSBefore, e.From, e.To, e.OverBefore)
	}
	count := "One filter brings"
	if n := len(e.Filters); n > 1 {
		count = fmt.Sprintf("%d filters bring", n)
	}
	return fmt.Sprintf("%s the mean of the seats nearer the target from %.0f to %.0f Hz: %.1f dB rms from it instead of %.1f dB, the highest peak %.1f dB above it instead of %.1f dB.",
		count, e.From, e.To, e.RMSAfter, e.RMSBefore, e.OverAfter, e.OverBefore)
}

// HeadroomSentence says what the filters cost.
func (e *Equalised) HeadroomSentence() string {
	if e.Boost == 0 {
		return "Cuts only: no headroom is taken."
	}
	at := 0
	for i, f := range e.Before.Response.Frequencies {
		if f == e.BoostAt {
			at = i
		}
	}
	return fmt.Sprintf("The boost takes up to %.1f dB of headroom, at %.0f Hz, where %.1f dB are left when the target plays as loud as is wanted.", e.Boost, e.BoostAt, e.Headroom[at])
}

// remarks say what the filters hold for.
func (e *Equalised) remarks(o EqualiseOptions) []string {
	all := []string{
		"All subwoofers get these filters alike: every seat changes by the same, so that the variation from seat to seat stays exactly as it was.",
		"The target is set to the level that the mean lies above in two thirds of the band; play it as loud as you like by the gain of all subwoofers.",
	}
	if o.Boost == 0 {
		all = append(all, "Peaks are cut and dips left: a boost, up to 3 dB, must be asked for (common practice, no source).")
	}
	lowest := 0.0
	for _, s := range e.Before.Plan.Subs {
		lowest = max(lowest, s.Corner)
	}
	if lowest > e.From {
		all = append(all, fmt.Sprintf("Below %.0f Hz, where a subwoofer ends, nothing is boosted.", lowest))
	}
	return append(all, "The room as built differs from the one computed: set these filters as a beginning, and again after a measurement at the seats.")
}
