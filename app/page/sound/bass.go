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
	"earline/project/bass"
	"earline/scene/figure"
)

// subwooferProposal is what is said about another set-up of the subwoofers.
type subwooferProposal struct {
	before, after *bass.Study
	remarks       []string
	giveUp        int    // choice.GiveUp that it was made with
	again         func() // makes it again, with the choice as it is then
}

// giveUps are how far a third of an octave from 20 to 50 Hz may fall when the
// subwoofers are aligned, in dB: see bass.Limits.
var giveUps = [...]float64{bass.GiveUp, 1, 6, 12}

func giveUpChoices() []string {
	var names []string
	for _, dB := range giveUps {
		names = append(names, fmt.Sprintf("Give up %g dB", dB))
	}
	return names
}

// updateBass shows what the subwoofers do at the seats, once it is known.
func (p *soundPage) updateBass(choice choice) {
	p.clear()
	st, state := p.session.Known.Bass.Get()
	say := func(f fact) {
		p.panel.Show(nil, []fact{{Text: "Bass", weight: asHeading}, f}, nil)
	}
	switch err := p.session.Known.Bass.Err(); {
	case state == session.Failed && errors.Is(err, context.Canceled):
		say(fact{Text: "Cancelled. It runs again after the next edit."})
	case state == session.Failed:
		say(fact{Text: ask.Lines(err), weight: asFailing})
	case state == session.Fresh && st == nil:
		say(fact{Text: "There is no subwoofer: a loudspeaker labelled LFE1 or LFE2."})
	case state == session.Fresh, state == session.Stale && st != nil && p.session.Dragging(): // it follows the mouse
		p.showBass(choice, st)
	default:
		p.await("Bass", state)
	}
}

// Progress shows how far a proposal for the subwoofers is, or else the
// waves, where they take a while. It implements page.Worker.
func (p *soundPage) Progress() {
	if on, ok := p.session.ProposingFor(title); ok {
		p.panel.Working(min(on.Share, 0.999), on.Name)
		return
	}
	if share, ok := p.session.BlendProgress(); ok && p.panel.Choice().topic == crossoverTopic {
		p.panel.Working(min(share, 0.999), "Computing mains and subwoofers…")
		return
	}
	share, ok := p.session.Known.Bass.Progress()
	if !ok || p.session.Dragging() {
		share = 1
	} else {
		share = min(share, 0.999)
	}
	p.panel.Working(share, "Computing the bass…")
}

// showBass shows a study, or the offer beside it.
func (p *soundPage) showBass(choice choice, st *bass.Study) {
	o := figure.ResponseOptions{Seat: choice.Seat - 1, Seats: figure.SeatOf(p.session.Room()), Crossover: p.session.Design().Playback.OrUsual().Crossover}
	if o.Seat < 0 {
		o.Seat = p.mainSeat()
	}
	if r, state := p.session.Known.Decay.Get(); state == session.Fresh && r.Schroeder > 0 {
		o.Schroeder = r.Schroeder
	}
	if r, state := p.session.Known.Ranged.Get(); state == session.Fresh {
		o.Halved, o.Doubled = r.Halved, r.Doubled
	}
	facts := []fact{{Text: "How alike the seats hear the bass", weight: asHeading}}
	var actions []action
	offer := p.session.OfferOf(title)
	var proposed *subwooferProposal
	if offer != nil {
		proposed, _ = offer.Details.(*subwooferProposal)
	}
	if proposed == nil {
		offer = nil // it is of another topic
	}
	if offer != nil {
		st, o.Before = proposed.after, proposed.before.Response
		o.Halved, o.Doubled = nil, nil // of the subwoofers as they were
		was := proposed.before.Figures
		facts[0].Text = offer.Name + ": is it to be so?"
		facts = append(facts,
			fact{Text: fmt.Sprintf("Seat-to-seat variation: %.1f dB rms, was %.1f dB", st.Figures.SeatToSeat, was.SeatToSeat)},
			fact{Text: fmt.Sprintf("Loudest to softest: %.1f dB, was %.1f dB", st.Figures.Spread, was.Spread)},
			fact{Text: fmt.Sprintf("Mean level: %.1f dB, was %.1f dB", st.Figures.Output, was.Output)},
			fact{Text: st.Paid(proposed.before)},
			fact{Text: "Change by third of an octave: " + changes(st.Thirds) + " dB"})
		actions = []action{{Name: "Refuse", Do: p.session.Refuse}, {Name: "Accept", Do: p.accept, Main: true}}
	} else {
		f := st.Figures
		facts = append(facts,
			fact{Text: fmt.Sprintf("Seat-to-seat variation: %.1f dB rms (20 to 120 Hz)", f.SeatToSeat)},
			fact{Text: fmt.Sprintf("Loudest to softest: %.1f dB; %.0f dB at %.0f Hz", f.Spread, f.WidestSpread, f.WidestAt)},
			fact{Text: fmt.Sprintf("Mean level: %.1f dB for 2.83 V each", f.Output)})
		actions = []action{{Name: alignName, Do: p.align}}
		if len(st.Plan.Zones) > 0 {
			actions = append(actions, action{Name: seekName, Do: p.seekPlaces})
		}
		if len(p.session.Design().Measured.Responses) > 0 {
			more, at := p.measuredFacts(st, o.Seat)
			o.Measured, facts = at, append(facts, more...)
			actions = append(actions, action{Name: "Remove the measured responses", Do: p.removeResponses})
		}
	}
	for i, k := range st.Plan.Speakers {
		s := st.Plan.Subs[i].Drive
		if offer != nil {
			s = bass.Tuned(offer.Design.Speakers[k].Tuning)
		}
		text := fmt.Sprintf("%s: %+.1f dB, %.1f ms", p.session.Design().Speakers[k].Name(), s.Gain+0, s.Delay*1000)
		if s.Inverted {
			text += ", inverted"
		}
		facts = append(facts, fact{Text: text})
	}
	tuned := p.session.Design()
	if offer != nil {
		tuned = offer.Design
	}
	facts = append(facts, outputFacts(tuned, st)...)
	how := "By " + st.Way.String() + "."
	if st.Way == bass.Waves && st.Plan.Coarse {
		how = "By " + st.Way.String() + ", coarse while it is dragged: some 2 dB off."
	}
	facts = append(facts, fact{Text: how, weight: asFootnote})
	remarks := st.Response.Remarks
	if proposed != nil {
		remarks = proposed.remarks // those of the study among them
	}
	for _, r := range remarks {
		facts = append(facts, fact{Text: r, weight: asFootnote})
	}
	facts = append(facts, fact{Text: "Loud bass harms hearing and shakes what hangs: keep to local rules, and set levels with a meter.", weight: asFootnote})
	c := figure.Response(st.Response, o)
	p.panel.Show(&c, facts, actions)
}

// changes are the changes of the level by third of an octave, in words.
func changes(thirds []bass.Third) string {
	var all []string
	for _, t := range thirds {
		all = append(all, fmt.Sprintf("%s Hz %+.1f", t.Name(), math.Round(10*t.Change())/10+0))
	}
	return strings.Join(all, ", ")
}

// The names of what can be done about the bass, in the menu and on the page.
const (
	alignName = "Align the subwoofers"
	seekName  = "Seek places in the zones"
)

// align looks for levels, delays and polarities in the background.
func (p *soundPage) align() {
	p.propose(alignName, p.align, func(ctx context.Context, d *project.Design, st *bass.Study, tell func(float64)) (*project.Design, *subwooferProposal, error) {
		after, o, err := st.Align(ctx, st.Plan.Subs, tell)
		if err != nil {
			return nil, nil, err
		}
		return st.Plan.Aligned(d, o.Subs), &subwooferProposal{after: after, remarks: o.Remarks}, nil
	})
}

// spotStep is how far apart the places are that are compared.
const spotStep = 0.3 // m

// seekPlaces looks for places in the zones, and aligns the subwoofers there.
func (p *soundPage) seekPlaces() {
	p.propose("Seek places", p.seekPlaces, func(ctx context.Context, d *project.Design, st *bass.Study, tell func(float64)) (*project.Design, *subwooferProposal, error) {
		s, err := p.session.Known.Subwoofers.Seek(ctx, d, st.Plan, spotStep, tell)
		if err != nil {
			return nil, nil, err
		}
		found := &subwooferProposal{after: s.Study, remarks: s.Placement.Remarks}
		if s.Stay {
			found.remarks = append([]string{"No position in the zones beats the present ones."}, found.remarks...)
		}
		return s.Design, found, nil
	})
}

// propose works out another set-up and shows it beside what is there.
func (p *soundPage) propose(name string, again func(), work func(context.Context, *project.Design, *bass.Study, func(float64)) (*project.Design, *subwooferProposal, error)) {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.session.Draft(nil)
	if !p.onTop() || p.panel.Choice().topic != bassTopic {
		p.open(bassTopic)
	}
	before, state := p.session.Known.Bass.Get()
	if state != session.Fresh || before == nil {
		p.session.Say("Not done: the bass of the room is still being worked out.")
		return
	}
	giveUp := p.panel.Choice().GiveUp
	asked := *before // a study is never changed
	asked.Plan = before.Plan.Giving(giveUps[giveUp])
	p.session.Propose(title, name, func(ctx context.Context, d *project.Design, tell func(float64, string)) (*session.Proposal, error) {
		to, more, err := work(ctx, d, &asked, func(share float64) { tell(share, name) })
		if err != nil {
			return nil, err
		}
		more.before, more.giveUp, more.again = before, giveUp, again
		return &session.Proposal{Design: to, Details: more, OnPage: true}, nil
	})
}

// atWork reports whether something about the bass is being worked out.
func (p *soundPage) atWork() bool {
	_, proposing := p.session.ProposingFor(title)
	_, waves := p.session.Known.Bass.Progress()
	_, blending := p.session.BlendProgress()
	return proposing || waves || blending
}

// cancel ends what is being worked out.
func (p *soundPage) cancel() {
	if _, ok := p.session.ProposingFor(title); ok {
		p.session.Refuse()
	}
	p.session.Known.Bass.Cancel()
	p.session.CancelBlend()
	p.panel.Working(1, "")
}

// mainSeat returns the seat nearest the main position.
func (p *soundPage) mainSeat() int {
	best, at := math.Inf(1), -1
	for i, b := range p.session.Result().Bodies {
		if d := b.Ear().Dist(p.session.Result().Main); d < best {
			best, at = d, i
		}
	}
	return at
}
