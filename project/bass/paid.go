// SPDX-License-Identifier: MIT

package bass

import (
	"fmt"
	"math"
	"strings"

	"earline/project/bass/field"
)

// Third is what became of the output in a third of an octave, as far as it lies in
// the band that is judged. Levels are energy means over frequencies and seats, the
// seats as weighed, in dB.
type Third struct {
	Middle        float64 // exact, Hz
	Before, After float64
	// InPhase is the best in-phase level: see Limits.GiveUp.
	InPhase float64
	// Floor is the least level that was allowed; -Inf is none.
	Floor float64
}

// Change is how far the level rose, in dB.
func (t Third) Change() float64 { return t.After - t.Before }

// AtFloor reports whether the level lies at the floor, to a step of a processor: there
// the seats pay for output.
func (t Third) AtFloor() bool { return t.After-t.Floor < 0.25 }

// Name is the nominal middle of t in hertz (IEC 61260-1:2014, annex E).
func (t Third) Name() string { return fmt.Sprintf("%g", NominalThird(t.Middle)) }

// Paid says in a sentence what st, which was aligned or sought, gained over before and
// what it cost: the seats alike, as weighed, against output. It is empty for a study
// that was neither.
func (st *Study) Paid(before *Study) string {
	if len(st.Thirds) == 0 || before == nil {
		return ""
	}
	text := fmt.Sprintf("Seat-to-seat variation, as weighed, from %.1f to %.1f dB rms", math.Sqrt(before.Weighed), math.Sqrt(st.Weighed))
	most, least := st.Thirds[0], st.Thirds[0]
	mean := st.Figures.Output - before.Figures.Output
	for _, t := range st.Thirds {
		if t.Change() > most.Change() {
			most = t
		}
		if t.Change() < least.Change() {
			least = t
		}
	}
	const nothing = 0.05 // dB, as printed
	if max(most.Change(), -least.Change()) < nothing {
		return text + "; no third of an octave changes its level."
	}
	return fmt.Sprintf("%s, for %+.1f dB at %s Hz (least), %+.1f dB at %s Hz (most) and %+.1f dB of mean level.",
		text, least.Change()+0, least.Name(), most.Change()+0, most.Name(), mean+0)
}

// paid returns what another setting does to the output.
func (n *objective) paid(before, after []Drive) []Third {
	was := n.levels(before)
	is := n.levels(after)
	all := make([]Third, len(n.thirds))
	for k, b := range n.thirds {
		all[k] = Third{Middle: b.middle, Before: was[k], After: is[k], InPhase: b.inPhase, Floor: b.floor}
	}
	return all
}

// thirdLevels returns the levels by third of subwoofers as they are driven, dB.
func thirdLevels(t *field.Transfer, subs []Sub, weights []float64) []float64 {
	drives := make([]Drive, len(subs))
	for i, s := range subs {
		drives[i] = s.Drive
	}
	return newObjective(t, subs, weights, 0).levels(drives)
}

// remarks say what bound the result, and what it was paid with.
func (l Limits) remarks(o *Optimised) []string {
	var all []string
	if l.GiveUp < 0 {
		all = append(all, "Deep bass was given up as far as it liked.")
	} else {
		text := fmt.Sprintf("From %d to %d Hz no third of an octave falls more than %g dB below the best that the subwoofers reach in phase", lowestDeep, highestDeep, l.GiveUp)
		if o.ShortAfter > 0.01 {
			text = fmt.Sprintf("No setting was found that keeps every third of an octave from %d to %d Hz within %g dB of the best in phase: the worst lacks %.1f dB more",
				lowestDeep, highestDeep, l.GiveUp, o.ShortAfter)
		}
		var at []string
		for _, t := range o.Thirds {
			if t.AtFloor() {
				at = append(at, t.Name())
			}
		}
		if len(at) > 0 {
			text += fmt.Sprintf("; at %s Hz that limit binds: giving up more may make the seats more alike", strings.Join(at, ", "))
		}
		all = append(all, text+".")
	}
	for i, s := range o.Subs {
		name := s.Name
		if name == "" {
			name = fmt.Sprintf("subwoofer %d", i+1)
		}
		if !l.KeepDelay && s.Delay > l.LongestDelay-l.DelayStep/2 {
			all = append(all, fmt.Sprintf("%s: delay at its limit of %g ms.", name, round(1000*l.LongestDelay)))
		}
		if lo, hi := l.gain(s.Gain); lo < hi && s.Gain < lo+l.GainStep/2 {
			all = append(all, fmt.Sprintf("%s: gain at its limit of %g dB.", name, round(lo)))
		}
	}
	return all
}

// round takes the dust off a limit.
func round(x float64) float64 { return math.Round(1e6*x) / 1e6 }
