// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"errors"
	"fmt"
	"math"

	"earline/app/hear"
	"earline/app/session"
	"earline/project"
	"earline/project/bass"
	"earline/scene/figure"
)

// subwooferProposal is what is said about another set-up of the subwoofers.
type subwooferProposal struct {
	before, after *bass.Study
	remarks       []string
}

// hearBass shows what the subwoofers do at the seats, once it is known.
func (w *Window) hearBass(wish hear.Wish) {
	w.clearSoundOverlay()
	st, state := w.session.Known.Bass.Get()
	say := func(f hear.Fact) {
		w.hear.Show(nil, []hear.Fact{{Text: "Bass", Weight: hear.Heading}, f}, nil)
	}
	switch err := w.session.Known.Bass.Err(); {
	case state == session.Failed && errors.Is(err, context.Canceled):
		say(hear.Fact{Text: "Cancelled. Any edit begins anew."})
	case state == session.Failed:
		say(hear.Fact{Text: faultLines(err), Weight: hear.Failing})
	case state == session.Fresh && st == nil:
		say(hear.Fact{Text: "There is no subwoofer: a loudspeaker labelled LFE1 or LFE2."})
	case state == session.Fresh, state == session.Stale && st != nil && w.session.Dragging(): // it follows the mouse
		w.showBass(wish, st)
	default:
		w.await("Bass", state)
	}
}

// showBassProgress shows how far a proposal for the subwoofers is, or else the
// waves, where they take a while.
func (w *Window) showBassProgress() {
	if on, ok := w.working(soundPage); ok {
		w.hear.Working(min(on.Share, 0.999), on.Name)
		return
	}
	share, ok := w.session.Known.Bass.Progress()
	if !ok || w.session.Dragging() {
		share = 1
	} else {
		share = min(share, 0.999)
	}
	w.hear.Working(share, "Waves in the room as it is")
}

// showBass shows a study, or the offer beside it.
func (w *Window) showBass(wish hear.Wish, st *bass.Study) {
	o := figure.ResponseOptions{Seat: wish.Seat - 1, Seats: figure.SeatOf(w.session.Room()), Crossover: w.session.Design().Playback.OrUsual().Crossover}
	if o.Seat < 0 {
		o.Seat = w.mainSeat()
	}
	if r, state := w.session.Known.Decay.Get(); state == session.Fresh && r.Schroeder > 0 {
		o.Schroeder = r.Schroeder
	}
	facts := []hear.Fact{{Text: "How alike the seats hear the bass", Weight: hear.Heading}}
	var actions []hear.Action
	offer := w.offered(soundPage)
	var proposed *subwooferProposal
	if offer != nil {
		proposed = offer.Details.(*subwooferProposal)
		st, o.Before = proposed.after, proposed.before.Response
		was := proposed.before.Figures
		facts[0].Text = offer.Name + ": is it to be so?"
		facts = append(facts,
			hear.Fact{Text: fmt.Sprintf("Off the mean: %.1f dB, was %.1f dB", st.Figures.SeatToSeat, was.SeatToSeat)},
			hear.Fact{Text: fmt.Sprintf("Loudest to softest: %.1f dB, was %.1f dB", st.Figures.Spread, was.Spread)},
			hear.Fact{Text: fmt.Sprintf("Mean level: %.1f dB, was %.1f dB", st.Figures.Output, was.Output)})
		actions = []hear.Action{{Name: "Accept", Do: w.accept}, {Name: "Refuse", Do: w.session.Refuse}}
	} else {
		f := st.Figures
		facts = append(facts,
			hear.Fact{Text: fmt.Sprintf("Off the mean: %.1f dB (20 to 120 Hz)", f.SeatToSeat)},
			hear.Fact{Text: fmt.Sprintf("Loudest to softest: %.1f dB; %.0f dB at %.0f Hz", f.Spread, f.WidestSpread, f.WidestAt)},
			hear.Fact{Text: fmt.Sprintf("Mean level: %.1f dB for 2.83 V each", f.Output)})
		actions = []hear.Action{{Name: "Align the subwoofers", Do: w.alignBass}}
		if len(st.Plan.Zones) > 0 {
			actions = append(actions, hear.Action{Name: "Seek places in the zones", Do: w.seekBass})
		}
	}
	for i, k := range st.Plan.Speakers {
		s := st.Plan.Subs[i].Drive
		if offer != nil {
			s = bass.Tuned(offer.Design.Speakers[k].Tuning)
		}
		text := fmt.Sprintf("%s: %+.1f dB, %.1f ms", w.session.Design().Speakers[k].Name(), s.Gain+0, s.Delay*1000)
		if s.Inverted {
			text += ", inverted"
		}
		facts = append(facts, hear.Fact{Text: text})
	}
	how := "By " + st.Way.String() + "."
	if st.Way == bass.Waves && st.Plan.Coarse {
		how = "By " + st.Way.String() + ", coarse while it is dragged: some 2 dB off."
	}
	facts = append(facts, hear.Fact{Text: how, Weight: hear.Footnote})
	remarks := st.Response.Remarks
	if proposed != nil {
		remarks = proposed.remarks // those of the study among them
	}
	for _, r := range remarks {
		facts = append(facts, hear.Fact{Text: r, Weight: hear.Footnote})
	}
	facts = append(facts, hear.Fact{Text: "Loud bass harms hearing and shakes what hangs: keep to local rules, and set levels with a meter.", Weight: hear.Footnote})
	c := figure.Response(st.Response, o)
	w.hear.Show(&c, facts, actions)
}

// alignBass looks for levels, delays and polarities in the background.
func (w *Window) alignBass() {
	w.proposeBass("Align the subwoofers", func(ctx context.Context, d *project.Design, st *bass.Study, tell func(float64)) (*project.Design, *subwooferProposal, error) {
		after, o, err := st.Align(ctx, st.Plan.Subs, tell)
		if err != nil {
			return nil, nil, err
		}
		return st.Plan.Aligned(d, o.Subs), &subwooferProposal{after: after, remarks: o.Remarks}, nil
	})
}

// spotStep is how far apart the places are that are compared.
const spotStep = 0.3 // m

// seekBass looks for places in the zones, and aligns the subwoofers there.
func (w *Window) seekBass() {
	w.proposeBass("Seek places", func(ctx context.Context, d *project.Design, st *bass.Study, tell func(float64)) (*project.Design, *subwooferProposal, error) {
		s, err := w.session.Known.Subwoofers.Seek(ctx, d, st.Plan, spotStep, tell)
		if err != nil {
			return nil, nil, err
		}
		p := &subwooferProposal{after: s.Study, remarks: s.Placement.Remarks}
		if s.Stay {
			p.remarks = append([]string{"No set of places in the zones is better than the places as they are, once aligned."}, p.remarks...)
		}
		return s.Design, p, nil
	})
}

// proposeBass works out another set-up and shows it beside what is there.
func (w *Window) proposeBass(name string, work func(context.Context, *project.Design, *bass.Study, func(float64)) (*project.Design, *subwooferProposal, error)) {
	if w.busy() {
		return
	}
	w.commit()
	w.cancelDrag()
	before, state := w.session.Known.Bass.Get()
	if state != session.Fresh || before == nil {
		return
	}
	w.session.Propose(soundPage.String(), name, func(ctx context.Context, d *project.Design, tell func(float64, string)) (*session.Proposal, error) {
		to, p, err := work(ctx, d, before, func(share float64) { tell(share, name) })
		if err != nil {
			return nil, err
		}
		p.before = before
		return &session.Proposal{Design: to, Details: p}, nil
	})
}

// cancelBass ends what is being worked out.
func (w *Window) cancelBass() {
	if _, ok := w.working(soundPage); ok {
		w.session.Refuse()
	}
	w.session.Known.Bass.Cancel()
	w.hear.Working(1, "")
}

// mainSeat returns the seat nearest the main position.
func (w *Window) mainSeat() int {
	best, at := math.Inf(1), -1
	for i, b := range w.session.Result().Bodies {
		if d := b.Ear().Dist(w.session.Result().Main); d < best {
			best, at = d, i
		}
	}
	return at
}
