// SPDX-License-Identifier: MIT

package sound

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/app/session"
	"earline/project"
	"earline/project/decay"
	"earline/project/disk"
	"earline/scene/figure"
)

// showDecay shows how long the room rings, or how the bass dies away at a seat.
func (p *soundPage) showDecay(choice choice) {
	if choice.Falls {
		p.showWaterfall(choice)
		return
	}
	const heading = "Decay"
	r, state := p.session.Known.Ringing.Get()
	if state == session.Failed {
		p.clear()
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: ask.Lines(p.session.Known.Ringing.Err()), weight: asFailing}}, nil)
		return
	}
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	p.clear()
	v := r.Reverb
	facts := []fact{
		{Text: "How long the room rings", weight: asHeading},
		{Text: fmt.Sprintf("%.2f s in the middle octaves; wanted %.2f s for %.0f m³", v.Mid, v.Wanted, v.Volume)},
	}
	var low []string
	for _, t := range r.Thirds {
		if t.Modal != 0 && t.Long() {
			low = append(low, fmt.Sprintf("%g Hz: %.2f s", t.Hz, t.Time()))
		}
	}
	if len(low) > 0 {
		facts = append(facts, fact{weight: asFailing, Text: "Bass rings longer than wanted: " + strings.Join(low, ", ")})
	}
	for o, f := range project.Octaves() {
		if !v.Judged[o] || v.Within[o] {
			continue
		}
		verb, area := "add", v.Change[o]
		if area < 0 {
			verb, area = "take away", -area
		}
		facts = append(facts, fact{weight: asFailing, Text: fmt.Sprintf("%g Hz: %.2f s; %s %.1f m² of absorption", f, v.Eyring[o], verb, area)})
	}
	const most = 8 // modes; the chart has them all
	if longest := r.Longest(most); len(longest) > 0 {
		facts = append(facts, fact{Text: "The modes that ring longest", weight: asHeading})
		for _, m := range longest {
			facts = append(facts, fact{Text: fmt.Sprintf("%.1f Hz %s (%d,%d,%d): %.2f s, Q %.0f", m.Frequency, m.Kind(), m.P, m.Q, m.R, m.Time, m.Quality())})
		}
	}
	facts = append(facts, noiseFacts(p.session.Design(), v)...)
	for _, text := range r.Remarks {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	actions := []action{{Name: "Read measured times…", Do: p.chooseTimes}}
	if r.Measured() {
		actions = append(actions, action{Name: "Remove the measured times", Do: p.removeTimes})
	}
	c := figure.Ringing(r)
	p.panel.Show(&c, facts, actions)
}

// showWaterfall shows how the bass dies away at the chosen seat.
func (p *soundPage) showWaterfall(choice choice) {
	seat := choice.Seat - 1
	if seat < 0 {
		seat = p.mainSeat()
	}
	const heading = "Waterfall"
	w, state := p.session.Waterfall(seat)
	switch {
	case state == session.Failed:
		p.clear()
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: ask.Lines(p.session.WaterfallErr()), weight: asFailing}}, nil)
		return
	case state != session.Fresh:
		p.await(heading, state)
		return
	case w == nil:
		p.clear()
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: "There is no subwoofer: a loudspeaker labelled LFE1 or LFE2."}}, nil)
		return
	}
	p.clear()
	name := figure.SeatName(p.session.Room(), seat)
	facts := []fact{
		{Text: "How the bass dies away at " + name, weight: asHeading},
		{Text: "Each line is the spectrum of what is still to come after that time. A frequency that stays up while its neighbours fall is a mode that rings."},
		{Text: "The window opens over 40 ms, so that neighbouring lines run into each other by that much.", weight: asFootnote},
	}
	for _, text := range w.Remarks {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	c := figure.Waterfall(w, name)
	p.panel.Show(&c, facts, nil)
}

// needRinging says why measured times cannot be judged yet.
func (p *soundPage) needRinging() error {
	if _, state := p.session.Known.Ringing.Get(); state != session.Fresh {
		return errors.New("how long the room rings is still being worked out")
	}
	return nil
}

// chooseTimes asks for a table of measured times.
func (p *soundPage) chooseTimes() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.frame.Ask.Open(".csv", func(path string) {
		if err := p.readTimes(path); err != nil {
			p.frame.Ask.Report("The measured times cannot be read", err)
		}
	})
}

// readTimes takes the times of the table at path into the design; those that can hardly
// be of this room are asked about first.
func (p *soundPage) readTimes(path string) error {
	data, err := disk.Read(path, decay.MaxSize)
	if err != nil {
		return err
	}
	table, err := decay.Read(data, filepath.Base(path))
	if err != nil {
		return err
	}
	take := func() {
		if err := p.session.Do("read measured decay times", "", func(d *project.Design) { d.Measured.Decay = table.Times }); err != nil {
			p.frame.Ask.Report("The measured times cannot be taken", err)
			return
		}
		p.session.Say(strings.Join(append([]string{fmt.Sprintf("%d measured times read from %s.", len(table.Times), filepath.Base(path))}, table.Remarks...), " "))
	}
	if r, state := p.session.Known.Ringing.Get(); state == session.Fresh {
		if doubts := r.Doubts(table.Times); len(doubts) > 0 {
			p.frame.Ask.Question("Are these the times of this room?", strings.Join(doubts, "\n"),
				ask.Answer{Text: "Leave them out"}, ask.Answer{Text: "Take them", Do: take, Main: true})
			return nil
		}
	}
	take()
	return nil
}

// removeTimes takes the measured times out of the design.
func (p *soundPage) removeTimes() {
	if err := p.session.Do("remove measured decay times", "", func(d *project.Design) { d.Measured.Decay = nil }); err != nil {
		p.frame.Ask.Report("The measured times cannot be removed", err)
	}
}
