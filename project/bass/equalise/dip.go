// SPDX-License-Identifier: MIT

package equalise

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Dip is where the mean stays below the target after the filters.
type Dip struct {
	From, To float64 // Hz, where it is more than a little below
	At       float64 // Hz, where it lies deepest
	Depth    float64 // below the target there, dB
	Apart    float64 // standard deviation over the seats there, dB
	Why      Reason
}

// Reason is why a dip was not filled.
type Reason string

// The reasons.
const (
	SubwoofersEnd Reason = "below what the subwoofers reach"
	SeatsDiffer   Reason = "the seats differ"
	CutsOnly      Reason = "cuts only"
	NoHeadroom    Reason = "no headroom"
	BoostLimit    Reason = "limit of the boost"
)

// String says where a dip lies, how deep it is and why it stays.
func (d Dip) String() string {
	where := fmt.Sprintf("%.0f Hz: %.1f dB below the target", d.At, d.Depth)
	if d.To > 1.06*d.From { // a semitone: then it is a range
		where = fmt.Sprintf("%.0f to %.0f Hz: %.1f dB below the target at %.0f Hz", d.From, d.To, d.Depth, d.At)
	}
	switch d.Why {
	case SubwoofersEnd:
		return where + ", not filled: the subwoofers end above it"
	case SeatsDiffer:
		return fmt.Sprintf("%s, not filled: the seats lie %.1f dB apart there, and what fills it at one is too much at another; place or align instead", where, d.Apart)
	case NoHeadroom:
		return where + ", not filled: a boost there takes headroom that is not left"
	case BoostLimit:
		return where + ", not filled further: the boost is at its limit, or would not be worth a filter"
	}
	return where + ", not filled: cuts only"
}

// dips returns where the mean stays below the target, the deepest of each run.
func (s *solver) dips(r *Responses) []Dip {
	const (
		little = 1.0 // dB: where a dip begins
		deep   = 3.0 // dB: what is worth a line
		most   = 8
	)
	var out []Dip
	var on *Dip
	end := func() {
		if on != nil && on.Depth >= deep {
			out = append(out, *on)
		}
		on = nil
	}
	for i, f := range s.f {
		below := -(s.above[i] + s.sum[i])
		if s.weight[i] == 0 || below < little {
			end()
			continue
		}
		if on == nil {
			on = &Dip{From: f}
		}
		on.To = f
		if below > on.Depth {
			on.At, on.Depth, on.Apart, on.Why = f, below, s.apart[i], s.why(r, i)
		}
	}
	end()
	slices.SortStableFunc(out, func(a, b Dip) int { return cmp.Compare(b.Depth, a.Depth) })
	out = out[:min(len(out), most)]
	slices.SortStableFunc(out, func(a, b Dip) int { return cmp.Compare(a.At, b.At) })
	return out
}

func (s *solver) why(r *Responses, i int) Reason {
	switch {
	case s.f[i] < r.Lowest:
		return SubwoofersEnd
	case s.apart[i] > alike:
		return SeatsDiffer
	case s.o.Boost == 0:
		return CutsOnly
	case s.allowed[i] < s.o.Boost:
		return NoHeadroom
	}
	return BoostLimit
}

func (s *solver) result(r *Responses) *Result {
	out := &Result{Filters: s.filters, Level: slices.Clone(s.sum), Before: s.mean, Target: s.target, Apart: s.apart,
		From: s.o.From, To: s.o.To, RMSBefore: s.unfiltered(), RMSAfter: s.rms(), OverBefore: math.Inf(-1), OverAfter: math.Inf(-1)}
	for i, l := range s.sum {
		out.After = append(out.After, s.mean[i]+l)
		if s.headroom != nil {
			out.Headroom = append(out.Headroom, s.headroom[i]-l)
		}
		if l > out.Boost {
			out.Boost, out.BoostAt = l, s.f[i]
		}
		if s.weight[i] > 0 {
			out.OverBefore, out.OverAfter = max(out.OverBefore, s.above[i]), max(out.OverAfter, s.above[i]+l)
		}
	}
	const nothing = 1e-9 // dB
	if out.Boost < nothing {
		out.Boost, out.BoostAt = 0, 0
	}
	out.Unfilled = s.dips(r)
	return out
}
