// SPDX-License-Identifier: MIT

package blend

import (
	"fmt"
	"math"
	"strings"
)

// Answer is what is found for one main, what is proposed, and what that does to the
// other mains and at the other seats.
type Answer struct {
	*Study
	// Main is the index in Mains of the one that the subwoofers are set against; Set
	// what is proposed for it: the setting of the design where nothing is better.
	Main int
	Set  Setting
	// Rows are the figures of all mains at the main position; Seats those of Main at
	// every seat.
	Rows, Seats []Change
	// Options are all crossovers and slopes for Main: see Study.Options.
	Options [][]Option
}

// Change is the figures as the design is set and with the proposal.
type Change struct{ Before, After Figures }

// Answer solves for a main, by index in Mains.
func (s *Study) Answer(main int) *Answer {
	a := &Answer{Study: s, Main: main, Set: s.Solve(main, s.AsIs(main)), Options: s.Options(main)}
	one := s.alone(s.Seat)
	for i := range s.Mains {
		was := s.AsIs(i)
		set := was
		set.Delay, set.Inverted = a.Set.Delay, a.Set.Inverted
		a.Rows = append(a.Rows, Change{one.Sum(i, was).Figures(0, was.Crossover), one.Sum(i, set).Figures(0, set.Crossover)})
	}
	was, now := s.Sum(main, s.AsIs(main)), s.Sum(main, a.Set)
	for seat := range s.grid.Receivers {
		a.Seats = append(a.Seats, Change{was.Figures(seat, a.Set.Crossover), now.Figures(seat, a.Set.Crossover)})
	}
	return a
}

// Changes reports whether anything is proposed.
func (a *Answer) Changes() bool { return a.Set.Delay != 0 || a.Set.Inverted }

// Proposal says in words what is proposed.
func (a *Answer) Proposal() string {
	if !a.Changes() {
		return "The subwoofers stay as they are: no delay or polarity of all of them together gains 1 dB."
	}
	var what string
	switch ms := 1000 * a.Set.Delay; {
	case ms > 0:
		what = fmt.Sprintf("%s ms later", stepped(ms))
	case ms < 0:
		what = fmt.Sprintf("%s ms earlier", stepped(-ms))
	}
	if a.Set.Inverted {
		if what != "" {
			what += " and "
		}
		what += "turned round in polarity"
	}
	now, was := a.Rows[a.Main].After, a.Rows[a.Main].Before
	text := fmt.Sprintf("All subwoofers %s: with %s the dip around %.0f Hz is %.1f dB, was %.1f dB.", what, a.Mains[a.Main].Name, a.Set.Crossover, now.Dip+0, was.Dip)
	if ms := 1000 * a.missing(a.Set); ms > 1e-6 {
		text += fmt.Sprintf(" No delay goes below 0, so all mains play %s ms later instead.", stepped(ms))
	}
	return text
}

// stepped writes a delay in as few digits as tell its step.
func stepped(ms float64) string { return fmt.Sprint(math.Round(1000*ms) / 1000) }

// Flattest says in words which crossover would be the flattest, where it is flatter than
// the one in use by 0.5 dB.
func (a *Answer) Flattest() string {
	const worth = 0.5 // dB
	best, ok := Flattest(a.Options)
	now := a.Rows[a.Main].After.Uneven
	set := "as set"
	if a.Changes() {
		set += ", with the delay and polarity proposed"
	}
	switch {
	case !ok:
		return fmt.Sprintf("%s reaches down to none of these crossovers.", a.Mains[a.Main].Name)
	case best.Figures.Uneven > now-worth:
		return fmt.Sprintf("No other crossover is flatter by more than %.1f dB from %d to %d Hz: %s, it is ±%.1f dB rms.", worth, evenFrom, evenTo, set, now)
	}
	return fmt.Sprintf("Flattest from %d to %d Hz: %.0f Hz, %s, ±%.1f dB rms; %s, ±%.1f dB.",
		evenFrom, evenTo, best.Crossover, best.Slope, best.Figures.Uneven, set, now)
}

// Price says which other mains dip deeper with the proposal by more than 3 dB; "" for
// none. The subwoofers have one delay for all channels.
func (a *Answer) Price() string {
	const deeper = 3 // dB
	var all []string
	for i, c := range a.Rows {
		if i != a.Main && c.After.Dip < c.Before.Dip-deeper {
			all = append(all, fmt.Sprintf("%s %.0f dB, was %.0f dB", a.Mains[i].Name, c.After.Dip, c.Before.Dip))
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "It is paid for by others, since the subwoofers have one delay for all: " + strings.Join(all, "; ") + "."
}

// Index returns the index in Mains of the loudspeaker with that index in
// Design.Speakers; ok is false where it is none.
func (s *Study) Index(speaker int) (i int, ok bool) {
	for i := range s.Mains {
		if s.Mains[i].Speaker == speaker {
			return i, true
		}
	}
	return 0, false
}

// Caution stands wherever it is said how subwoofers and mains are to be set.
const Caution = "A computed delay is where measuring begins: check it with a microphone at the seats. Test signals at the crossover are loud before one notices: begin low, and protect hearing."
