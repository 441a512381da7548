// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"earline/app/ask"
	"earline/app/session"
	"earline/project"
	"earline/project/blend"
	"earline/project/bs2051"
	"earline/project/sound"
	"earline/scene/figure"
)

// showCrossover shows how a main and the subwoofers add up, and what would be better.
func (p *soundPage) showCrossover(choice choice) {
	const heading = "Mains and subwoofers"
	a, state := p.session.Blend(choice.Speaker - 1)
	say := func(f fact) {
		p.clear()
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, f}, nil)
	}
	switch err := p.session.BlendErr(); {
	case state == session.Failed && errors.Is(err, context.Canceled):
		say(fact{Text: "Cancelled. It runs again after the next edit."})
		return
	case state == session.Failed:
		say(fact{Text: ask.Lines(err), weight: asFailing})
		return
	case state != session.Fresh:
		p.await(heading, state)
		return
	}
	p.clear()
	seat := choice.Seat - 1
	if seat < 0 {
		seat = a.Seat
	}
	m := &a.Mains[a.Main]
	facts := []fact{{Text: bs2051.InFull(m.Name) + " and the subwoofers", weight: asHeading}}
	for _, text := range a.Reaches() {
		facts = append(facts, fact{Text: text, weight: asFailing})
	}
	facts = append(facts, fact{Text: a.Proposal()})
	if price := a.Price(); price != "" {
		facts = append(facts, fact{Text: price})
	}
	facts = append(facts, fact{Text: fmt.Sprintf("Crossover %.0f Hz, %s.", m.Crossover, a.Slope)},
		fact{Text: fmt.Sprintf("Seat %s: %s", a.Plan.Seats[seat].Name(), blendWords(a, a.Seats[seat]))})
	for i, c := range a.Rows {
		if i != a.Main {
			facts = append(facts, fact{Text: a.Mains[i].Name + ": " + blendWords(a, c)})
		}
	}
	facts = append(facts, fact{Text: a.Flattest()}, fact{Text: slopeWords(a)})
	for _, text := range append(a.Remarks[:len(a.Remarks):len(a.Remarks)], blend.Caution) {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	var actions []action
	if a.Changes() {
		actions = []action{{Name: "Set all subwoofers so", Do: p.setSubwoofers}}
	}
	c := figure.Crossover(a, seat, figure.SeatOf(p.session.Room()))
	p.panel.Show(&c, facts, actions)
}

// blendWords say what a proposal changes at the crossover.
func blendWords(a *blend.Answer, c blend.Change) string {
	text := fmt.Sprintf("dip %.1f dB at %.0f Hz", c.Before.Dip+0, c.Before.DipAt)
	if a.Changes() {
		text += fmt.Sprintf(", proposed %.1f dB at %.0f Hz", c.After.Dip+0, c.After.DipAt)
	}
	return text
}

// slopeWords say how uneven the level is by crossover, with the slope in use and with the
// flattest of all slopes.
func slopeWords(a *blend.Answer) string {
	var all []string
	for n, hz := range blend.Frequencies() {
		own, best := 0.0, math.Inf(1)
		for _, row := range a.Options {
			if row[n].Slope == a.Slope {
				own = row[n].Figures.Uneven
			}
			best = min(best, row[n].Figures.Uneven)
		}
		all = append(all, fmt.Sprintf("%.0f Hz ±%.1f (%.1f)", hz, own, best))
	}
	return "By crossover, dB rms, in brackets the flattest of all slopes: " + strings.Join(all, ", ")
}

// proposeCrossover shows what is proposed, where it can be applied.
func (p *soundPage) proposeCrossover() { p.open(crossoverTopic) }

// setSubwoofers sets the delay and polarity of all subwoofers as proposed: one step of
// undo.
func (p *soundPage) setSubwoofers() {
	p.frame.Commit()
	p.session.Draft(nil)
	a, state := p.session.Blend(p.panel.Choice().Speaker - 1)
	if state != session.Fresh {
		p.session.Say("Not done: the crossover is still being worked out.")
		return
	}
	if !a.Changes() {
		p.session.Say(a.Proposal())
		return
	}
	to := a.Tuned(p.session.Doc.Design(), a.Set)
	if err := p.session.Do("set the subwoofers against "+a.Mains[a.Main].Name, "", func(d *project.Design) { *d = *to }); err != nil {
		p.frame.Ask.Report("The subwoofers are not set", err)
		return
	}
	p.session.Say("The subwoofers are set against " + a.Mains[a.Main].Name + ". Check it by measurement, beginning low.")
}

// showBoundaries shows what the walls, the floor and the ceiling do to each main.
func (p *soundPage) showBoundaries(choice choice) {
	const heading = "Walls, floor and ceiling around the mains"
	all, state := p.session.Known.Boundaries.Get()
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	p.clear()
	shown := -1
	for i := range all {
		if all[i].Speaker == choice.Speaker-1 || choice.Speaker == 0 && (shown < 0 || all[i].Dip.Level < all[shown].Dip.Level) {
			shown = i
		}
	}
	facts := []fact{{Text: heading, weight: asHeading}}
	if shown >= 0 {
		text := all[shown].Sentence(p.session.Design())
		if choice.Speaker == 0 {
			text = "Deepest: " + text
		}
		facts = append(facts, fact{Text: text})
	}
	for i := range all {
		if i != shown {
			facts = append(facts, fact{Text: all[i].Sentence(p.session.Design())})
		}
	}
	facts = append(facts, fact{Text: sound.BoundaryRemark, weight: asFootnote})
	c := figure.Boundaries(all, p.session.Room(), shown)
	p.panel.Show(&c, facts, nil)
}
