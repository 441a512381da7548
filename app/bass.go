// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"fmt"
	"math"
	"time"

	"earline/app/hear"
	"earline/app/job"
	"earline/app/session"
	"earline/project"
	"earline/project/bass"
	"earline/scene/figure"
)

// low is what is known of the bass of the design on show.
type low struct {
	store bass.Store
	study *bass.Study     // nil while it is not known
	of    *project.Design // whose study it is

	waving job.Latest[lowAnswer]
	cancel context.CancelFunc // ends what waving works on
	began  time.Time          // when it began

	seeking job.Task[*lowOffer]
	offer   *lowOffer // on show; nil for none
}

type lowAnswer struct {
	study *bass.Study
	of    *project.Design
	err   error
}

// lowOffer is another set-up of the subwoofers, on show beside what is there.
type lowOffer struct {
	name    string
	design  *project.Design
	before  *bass.Study
	after   *bass.Study
	remarks []string
}

// outdated is how long the waves of a design that is no longer on show may go on:
// while something is dragged each run is let finish, so that the curve follows.
const outdated = 400 * time.Millisecond

// hearBass shows what the subwoofers do at the seats, once it is known.
func (w *Window) hearBass(wish hear.Wish) {
	w.clearSoundOverlay()
	d := w.Design()
	if w.low.of == d && w.low.study != nil {
		w.showBass(wish)
		return
	}
	p, err := bass.Of(d, bass.Shown())
	if err != nil || len(p.Places) == 0 || len(p.Seats) == 0 {
		w.low.study = nil
		w.hear.Working(1, "")
		w.hear.Show(nil, []hear.Fact{{Text: "Bass", Weight: hear.Heading},
			{Text: "There is no subwoofer: a loudspeaker labelled LFE1 or LFE2."}}, nil)
		return
	}
	p.Coarse = w.session.Dragging() // it follows the mouse
	if p.Way() == bass.Modes {      // a few milliseconds
		study, err := w.low.store.New(context.Background(), p, nil)
		w.heardBass(lowAnswer{study, d, err})
		return
	}
	if w.low.cancel != nil && time.Since(w.low.began) > outdated {
		w.low.cancel()
	}
	w.low.waving.Start(func() lowAnswer {
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		began := time.Now()
		w.cfg.Post(func() { w.low.cancel, w.low.began = cancel, began })
		const quick, often = 250 * time.Millisecond, 50 * time.Millisecond
		said := began
		study, err := w.low.store.New(ctx, p, func(share float64) {
			now := time.Now()
			if p.Coarse || now.Sub(began) < quick || now.Sub(said) < often {
				return
			}
			said = now
			w.cfg.Post(func() {
				if w.low.of != d && !w.closed {
					w.hear.Working(min(share, 0.999), "Waves in the room as it is")
				}
			})
		})
		a := lowAnswer{study, d, err}
		if p.Coarse && err == nil {
			// Shown though the mouse has gone on: the next is never the last in time.
			w.cfg.Post(func() {
				if w.drag != nil {
					w.heardBass(a)
				}
			})
		}
		return a
	}, w.heardBass)
}

// heardBass takes in what was worked out.
func (w *Window) heardBass(a lowAnswer) {
	if w.closed {
		return
	}
	w.hear.Working(1, "")
	switch {
	case a.err == context.Canceled:
		w.hear.Show(nil, []hear.Fact{{Text: "Bass", Weight: hear.Heading}, {Text: "Cancelled. Any edit begins anew."}}, nil)
		return
	case a.err != nil:
		w.low.study = nil
		w.hear.Show(nil, []hear.Fact{{Text: "Bass", Weight: hear.Heading}, {Text: faultLines(a.err), Weight: hear.Short}}, nil)
		return
	}
	w.low.study, w.low.of = a.study, a.of
	if w.drawer.top == soundPage && w.hear.Wish().Topic == hear.Bass {
		w.showBass(w.hear.Wish())
	}
}

// showBass shows the study that is known, or the offer beside it.
func (w *Window) showBass(wish hear.Wish) {
	st := w.low.study
	o := figure.ResponseOptions{Seat: wish.Seat - 1, Seats: figure.SeatOf(w.Result()), Crossover: w.Design().Playback.OrUsual().Crossover}
	if o.Seat < 0 {
		o.Seat = w.mainSeat()
	}
	if r, state := w.session.Known.Decay.Get(); state == session.Fresh && r.Schroeder > 0 {
		o.Schroeder = r.Schroeder
	}
	facts := []hear.Fact{{Text: "How alike the seats hear the bass", Weight: hear.Heading}}
	var actions []hear.Action
	if offer := w.low.offer; offer != nil {
		st, o.Before = offer.after, offer.before.Response
		was := offer.before.Figures
		facts[0].Text = offer.name + ": is it to be so?"
		facts = append(facts,
			hear.Fact{Text: fmt.Sprintf("Off the mean: %.1f dB, was %.1f dB", st.Figures.SeatToSeat, was.SeatToSeat)},
			hear.Fact{Text: fmt.Sprintf("Loudest to softest: %.1f dB, was %.1f dB", st.Figures.Spread, was.Spread)},
			hear.Fact{Text: fmt.Sprintf("Mean level: %.1f dB, was %.1f dB", st.Figures.Output, was.Output)})
		actions = []hear.Action{{Name: "Accept", Do: w.acceptBass}, {Name: "Refuse", Do: w.refuseBass}}
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
		if w.low.offer != nil {
			s = bass.Tuned(w.low.offer.design.Speakers[k].Tuning)
		}
		text := fmt.Sprintf("%s: %+.1f dB, %.1f ms", w.Design().Speakers[k].Name(), s.Gain+0, s.Delay*1000)
		if s.Inverted {
			text += ", inverted"
		}
		facts = append(facts, hear.Fact{Text: text})
	}
	how := "By " + st.Way.String() + "."
	if st.Way == bass.Waves && st.Plan.Coarse {
		how = "By " + st.Way.String() + ", coarse while it is dragged: some 2 dB off."
	}
	facts = append(facts, hear.Fact{Text: how, Weight: hear.Aside})
	remarks := st.Response.Remarks
	if w.low.offer != nil {
		remarks = w.low.offer.remarks // those of the study among them
	}
	for _, r := range remarks {
		facts = append(facts, hear.Fact{Text: r, Weight: hear.Aside})
	}
	facts = append(facts, hear.Fact{Text: "Loud bass harms hearing and shakes what hangs: keep to local rules, and set levels with a meter.", Weight: hear.Aside})
	c := figure.Response(st.Response, o)
	w.hear.Show(&c, facts, actions)
}

// mainSeat returns the seat nearest the main position.
func (w *Window) mainSeat() int {
	best, at := math.Inf(1), -1
	for i, b := range w.Result().Bodies {
		if d := b.EarLeft.Lerp(b.EarRight, 0.5).Dist(w.Result().Main); d < best {
			best, at = d, i
		}
	}
	return at
}

// alignBass looks for levels, delays and polarities in the background.
func (w *Window) alignBass() {
	d, st := w.session.Doc.Design(), w.low.study
	w.offerBass("Align the subwoofers", func(ctx context.Context, tell func(float64)) (*lowOffer, error) {
		after, o, err := st.Align(ctx, st.Plan.Subs, tell)
		if err != nil {
			return nil, err
		}
		return &lowOffer{design: st.Plan.Aligned(d, o.Subs), after: after, remarks: o.Remarks}, nil
	})
}

// spotStep is how far apart the places are that are compared.
const spotStep = 0.3 // m

// seekBass looks for places in the zones, and aligns the subwoofers there.
func (w *Window) seekBass() {
	d, st := w.session.Doc.Design(), w.low.study
	w.offerBass("Seek places", func(ctx context.Context, tell func(float64)) (*lowOffer, error) {
		s, err := w.low.store.Seek(ctx, d, st.Plan, spotStep, tell)
		if err != nil {
			return nil, err
		}
		o := &lowOffer{design: s.Design, after: s.Study, remarks: s.Placement.Remarks}
		if s.Stay {
			o.remarks = append([]string{"No set of places in the zones is better than the places as they are, once aligned."}, o.remarks...)
		}
		return o, nil
	})
}

// offerBass works out another set-up and shows it beside what is there.
func (w *Window) offerBass(name string, work func(context.Context, func(float64)) (*lowOffer, error)) {
	if w.low.study == nil || w.busy() {
		return
	}
	w.commit()
	w.cancelDrag()
	before := w.low.study
	w.hear.Working(0, name)
	w.low.seeking.Start(func(ctx context.Context, tell func(float64, string)) (*lowOffer, error) {
		o, err := work(ctx, func(share float64) { tell(share, name) })
		if o != nil {
			o.name, o.before = name, before
		}
		return o, err
	}, func(share float64, what string) { w.hear.Working(min(share, 0.999), what) },
		func(o *lowOffer, err error) {
			w.hear.Working(1, "")
			switch {
			case err == context.Canceled:
			case err != nil:
				w.report(name+" cannot be done", err)
			default:
				w.low.offer = o
				w.options.Ghost = o.design
				w.updateSound()
				w.redraw()
				w.showStatus()
			}
		})
}

// cancelBass ends what is being worked out.
func (w *Window) cancelBass() {
	w.stopBass()
	w.hear.Working(1, "")
}

func (w *Window) stopBass() {
	w.low.seeking.Cancel()
	if w.low.cancel != nil {
		w.low.cancel()
	}
}

// refuseBass drops the offer.
func (w *Window) refuseBass() {
	if !w.dropBass() {
		return
	}
	w.updateSound()
	w.redraw()
	w.showStatus()
}

// dropBass forgets the offer without showing that; false when there is none.
func (w *Window) dropBass() bool {
	if w.low.seeking.Running() {
		w.low.seeking.Cancel()
		w.hear.Working(1, "")
	}
	if w.low.offer == nil {
		return false
	}
	w.low.offer = nil
	w.options.Ghost = nil
	return true
}

// acceptBass makes the offer the design: one step of undo.
func (w *Window) acceptBass() {
	o := w.low.offer
	if o == nil {
		return
	}
	w.dropBass()
	if err := w.Do(o.name, "", func(d *project.Design) { *d = *o.design }); err != nil {
		w.report("The offer cannot be accepted", err)
	}
}
