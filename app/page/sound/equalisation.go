// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"fmt"
	"math"

	"earline/app/ask"
	"earline/app/session"
	"earline/project"
	"earline/project/bass"
	"earline/scene/figure"
)

// equaliserProposal is what is said about other filters.
type equaliserProposal struct {
	found *bass.Equalised
	boost int    // choice.Boost that it was made with
	again func() // makes it again, with the choice as it is then
}

// boosts are how far a dip may be filled when filters are sought, dB.
var boosts = [...]float64{0, 1, 2, 3}

func boostChoices() []string {
	names := []string{"Cuts only"}
	for _, dB := range boosts[1:] {
		names = append(names, fmt.Sprintf("Boost to %g dB", dB))
	}
	return names
}

// equaliseName is what finding filters is called, in the menu and on the page.
const equaliseName = "Equalise the bass"

// showEqualisation shows what the filters of the design do, or those on offer.
func (p *soundPage) showEqualisation() {
	const heading = "Equalisation"
	p.clear()
	st, state := p.session.Known.Bass.Get()
	if err := p.session.Known.Bass.Err(); state == session.Failed && err != nil {
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: ask.Lines(err), weight: asFailing}}, nil)
		return
	}
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	if st == nil {
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: "There is no subwoofer: a loudspeaker labelled LFE1 or LFE2."}}, nil)
		return
	}
	facts := []fact{{Text: "How near the bass is to its target", weight: asHeading}}
	actions := []action{{Name: equaliseName, Do: p.equalise}}
	var e *bass.Equalised
	if offer := p.equaliserOffer(); offer != nil {
		e = offer.found
		facts[0].Text = equaliseName + ": is it to be so?"
		actions = []action{{Name: "Refuse", Do: p.session.Refuse}, {Name: "Accept", Do: p.accept, Main: true}}
	} else {
		var err error
		if e, err = st.Equalised(p.session.Design()); err != nil {
			p.panel.Show(nil, []fact{facts[0], {Text: ask.Lines(err), weight: asFailing}}, nil)
			return
		}
	}
	facts = append(facts, equalisedFacts(e)...)
	c := figure.Equalisation(e)
	p.panel.Show(&c, facts, actions)
}

// equaliserOffer returns the filters on offer; nil for none.
func (p *soundPage) equaliserOffer() *equaliserProposal {
	if offer := p.session.OfferOf(title); offer != nil {
		proposed, _ := offer.Details.(*equaliserProposal)
		return proposed
	}
	return nil
}

// equalisedFacts say what filters do.
func equalisedFacts(e *bass.Equalised) []fact {
	facts := []fact{{Text: "Target: " + e.Design.Equalisation.Target.Called()}}
	if len(e.Filters) == 0 {
		facts = append(facts, fact{Text: fmt.Sprintf("No filters: %.1f dB rms from the target from %.0f to %.0f Hz, the highest peak %.1f dB above it.", e.RMSAfter, e.From, e.To, e.OverAfter)})
	} else {
		facts = append(facts, fact{Text: e.Sentence()})
	}
	for i, f := range e.Design.Equalisation.Filters {
		facts = append(facts, fact{Text: fmt.Sprintf("%d: %s", i+1, filterWords(e.Design, f))})
	}
	if len(e.Filters) > 0 {
		facts = append(facts, fact{Text: e.HeadroomSentence()},
			fact{Text: fmt.Sprintf("Seat-to-seat variation: %.1f dB rms, as without.", math.Sqrt(e.After.Figures.MeanSpatialVariance))})
	}
	for _, dip := range e.Unfilled {
		facts = append(facts, fact{Text: dip.String(), weight: asFootnote})
	}
	for _, text := range e.Remarks {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	return append(facts, fact{Text: "Filters and target are edited in the inspector, under Equalisation.", weight: asFootnote},
		fact{Text: "Loud bass harms hearing and shakes what hangs: keep to local rules, and set levels with a meter.", weight: asFootnote})
}

// filterWords say what a filter is and whose.
func filterWords(d *project.Design, f project.Filter) string {
	text := fmt.Sprintf("%s %g Hz, %+g dB, Q %g", f.Kind, f.Frequency, f.Gain, f.Q)
	if f.Kind == project.HighPass {
		text = fmt.Sprintf("%s %g Hz, Q %g", f.Kind, f.Frequency, f.Q)
	}
	for _, l := range d.Speakers {
		if f.Of != project.AllSubwoofers && l.ID == f.Of {
			return text + ", " + l.Name() + " alone"
		}
	}
	return text
}

// equalise looks for filters in the background.
func (p *soundPage) equalise() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.session.Draft(nil)
	if !p.onTop() || p.panel.Choice().topic != equalisationTopic {
		p.open(equalisationTopic)
	}
	st, state := p.session.Known.Bass.Get()
	if state != session.Fresh || st == nil {
		p.session.Say("Not done: the bass of the room is still being worked out.")
		return
	}
	boost := p.panel.Choice().Boost
	p.session.Propose(title, equaliseName, func(_ context.Context, d *project.Design, _ func(float64, string)) (*session.Proposal, error) {
		e, err := st.Equalise(d, bass.EqualiseOptions{Target: d.Equalisation.Target, Boost: boosts[boost]})
		if err != nil {
			return nil, err
		}
		return &session.Proposal{Design: e.Design, Details: &equaliserProposal{e, boost, p.equalise}, OnPage: true}, nil
	})
}
