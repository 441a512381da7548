// SPDX-License-Identifier: MIT

package bass

import (
	"math"
	"slices"
)

// The thirds of an octave that have a floor, by their nominal middles in hertz: what
// is lost there no equaliser gives back, because there subwoofers end.
const (
	lowestDeep  = 20
	highestDeep = 50
)

// deep reports whether the third has a floor.
func (b third) deep() bool {
	const half = 0.03 // of a decade: nominal middles are not the exact ones
	return math.Log10(b.middle/lowestDeep) > -half && math.Log10(b.middle/highestDeep) < half
}

// measure prices output against the loudest of the settings, third by third, and sets
// the floors giveUp dB below; below 0 there are none.
func (n *objective) measure(settings [][]Drive, giveUp float64) {
	for k := range n.thirds {
		n.thirds[k].inPhase = math.Inf(-1)
	}
	for _, d := range settings {
		for k, level := range n.levels(d) {
			n.thirds[k].inPhase = max(n.thirds[k].inPhase, level)
		}
	}
	for k := range n.thirds {
		b := &n.thirds[k]
		b.priced = b.inPhase
		if giveUp >= 0 && b.deep() {
			b.floor = b.inPhase - giveUp
		}
	}
}

// takeFloors gives n, which is full with fewer frequencies and its groups as one, as
// much room below the level that plain has as full has.
func (n *objective) takeFloors(full *objective, plain []Drive, groups [][]int) {
	lead := make([]Drive, len(groups))
	for g, group := range groups {
		lead[g] = plain[group[0]]
	}
	there, here := full.levels(plain), n.levels(lead)
	for k := range n.thirds {
		for m, b := range full.thirds {
			if by := here[k] - there[m]; b.middle == n.thirds[k].middle {
				n.thirds[k].inPhase, n.thirds[k].priced, n.thirds[k].floor = b.inPhase+by, b.priced+by, b.floor+by
			}
		}
	}
}

// within returns drives within the limits.
func (l Limits) within(given []Drive) []Drive {
	held := slices.Clone(given)
	for i := range held {
		lo, hi := l.gain(given[i].Gain)
		held[i].Gain = min(hi, max(lo, held[i].Gain))
		lo, hi = l.delay(given[i].Delay)
		held[i].Delay = min(hi, max(lo, held[i].Delay))
	}
	return held
}

// inPhaseSettings returns the settings by whose loudest lost output is measured: all
// subwoofers at the greatest gain, of one polarity and without delay, and the given
// ones, as far as the limits allow.
func (l Limits) inPhaseSettings(given []Drive) (plain, held []Drive) {
	plain = slices.Clone(given)
	for i := range plain {
		_, plain[i].Gain = l.gain(given[i].Gain)
		plain[i].Delay, _ = l.delay(given[i].Delay)
		if !l.KeepPolarity {
			plain[i].Inverted = mostInverted(given)
		}
	}
	return plain, l.within(given)
}

// together returns the subwoofers in groups: those that sound alike at every seat
// are in one, so that two in one place come out alike.
func (l Limits) together(n *objective, given []Drive) [][]int {
	const far = 0.1 // of their sound, 20 dB down: one on the other comes to 0.07
	var groups [][]int
next:
	for s := range n.subs {
		for g, group := range groups {
			first := group[0]
			kept := l.KeepGain && given[s].Gain != given[first].Gain || l.KeepDelay && given[s].Delay != given[first].Delay ||
				l.KeepPolarity && given[s].Inverted != given[first].Inverted
			if !kept && n.apartBy(first, s) <= far {
				groups[g] = append(group, s)
				continue next
			}
		}
		groups = append(groups, []int{s})
	}
	return groups
}

// apartBy returns how far the sounds of two subwoofers differ, as a share of the
// first's, root mean square over seats and frequencies.
func (n *objective) apartBy(a, b int) float64 {
	diff, sum := 0.0, 0.0
	for f := range n.freqs {
		i, k := (f*n.subs+a)*n.seats, (f*n.subs+b)*n.seats
		for r := range n.seats {
			x, y := n.re[i+r]-n.re[k+r], n.im[i+r]-n.im[k+r]
			diff += x*x + y*y
			sum += n.re[i+r]*n.re[i+r] + n.im[i+r]*n.im[i+r]
		}
	}
	return math.Sqrt(diff / (sum + silence))
}

// expand returns the drive of each subwoofer from those of groups.
func expand(drives []Drive, groups [][]int) []Drive {
	count := 0
	for _, group := range groups {
		count += len(group)
	}
	all := make([]Drive, count)
	for g, group := range groups {
		for _, s := range group {
			all[s] = drives[g]
		}
	}
	return all
}

// mostInverted reports whether more of the drives are inverted than not.
func mostInverted(drives []Drive) bool {
	count := 0
	for _, d := range drives {
		if d.Inverted {
			count++
		}
	}
	return 2*count > len(drives)
}

// asWired returns drives, all turned round if that leaves the polarity that most of
// given have to more of them: turning all changes nothing among the subwoofers, but
// everything against the other loudspeakers. Of halves the first keeps its own.
func (l Limits) asWired(drives, given []Drive) []Drive {
	if l.KeepPolarity {
		return drives
	}
	usual, other := mostInverted(given), 0
	for _, d := range drives {
		if d.Inverted != usual {
			other++
		}
	}
	if 2*other < len(drives) || 2*other == len(drives) && drives[0].Inverted == given[0].Inverted {
		return drives
	}
	turned := slices.Clone(drives)
	for i := range turned {
		turned[i].Inverted = !turned[i].Inverted
	}
	return turned
}
