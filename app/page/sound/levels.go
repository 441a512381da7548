// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"

	"earline/app/session"
	"earline/project/sound"
	"earline/scene/chart"
	"earline/scene/figure"
)

// showLevels shows how far the seats lie apart in level.
func (p *soundPage) showLevels(choice choice) {
	const heading = "How evenly the seats hear"
	h, state := p.session.Known.Direct.Get()
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	p.clear()
	octave := choice.Octave - 1
	var c chart.Chart
	if choice.Speaker > 0 {
		c = figure.Seats(h, p.session.Room(), choice.Speaker-1)
	} else {
		c = figure.Spread(h, p.session.Room(), octave)
	}
	facts := []fact{{Text: heading, weight: asHeading}}
	if choice.Speaker > 0 {
		facts = append(facts, p.speakerFacts(h, choice.Speaker-1)...)
	} else {
		facts = append(facts, p.worstSpread(h)...)
	}
	l := h.Loudness(p.session.Result().Speakers)
	facts = append(facts, fact{weight: asFootnote, Text: fmt.Sprintf(
		"Loud sound harms hearing: %.0f dB(A), the peak of one channel, is a full day's dose after %s (NIOSH).", l.Peak, minutes(l.PeakMinutes))})
	if choice.Map {
		at := octave
		if at < 0 {
			at = 6 // 4 kHz: where coverage is narrow
		}
		g, state := p.session.Map(sound.MapOptions{Speaker: choice.Speaker - 1, Octave: at})
		if state == session.Fresh || state == session.Stale && p.session.Dragging() {
			p.heat = figure.Sheet(g, p.session.Room())
			what := "The map: level against the main position at " + figure.OctaveName(at) + ", at ear height."
			if choice.Speaker == 0 {
				what = "The map: spread of the loudspeakers' levels at " + figure.OctaveName(at) + ", each set up for the main position."
			}
			facts = append(facts, fact{Text: what, weight: asFootnote})
		}
	}
	p.panel.Show(&c, facts, nil)
}

// speakerFacts say how loudspeaker k plays to the seats and what it takes.
func (p *soundPage) speakerFacts(h *sound.Direct, k int) []fact {
	s, placed := &h.Speakers[k], &p.session.Result().Speakers[k]
	out := []fact{
		{Text: fmt.Sprintf("%s: %.1f dB from the loudest seat to the quietest", placed.Name(), s.SpreadOverall)},
		{Text: fmt.Sprintf("Delay %.2f ms, level %+.1f dB", s.Delay, s.Trim)},
	}
	if sound.LFE(placed.Label) {
		return append(out, p.subwooferFacts(k)...)
	}
	need := fact{Text: fmt.Sprintf("%.0f dB at the main position take %.0f W; it is rated %.0f W (%+.1f dB)", s.Target, s.Power, placed.Spec.Power, s.Headroom)}
	if s.Headroom < 0 {
		need.weight = asFailing
	}
	out = append(out, need)
	var off []string
	for i := range p.session.Result().Seats {
		if !h.At(i, k).Inside {
			off = append(off, p.session.Result().Seats[i].Name())
		}
	}
	if len(off) > 0 {
		out = append(out, fact{Text: "Outside its nominal coverage: " + joinNames(off), weight: asFailing})
	} else if !placed.Spec.Subwoofer() {
		out = append(out, fact{Text: "Every seat is inside its nominal coverage"})
	}
	return out
}

// worstSpread names the loudspeakers that play most unevenly and those that
// cannot reach their peaks.
func (p *soundPage) worstSpread(h *sound.Direct) []fact {
	worst, sum, n := -1, 0.0, 0
	var weak []string
	for k := range h.Speakers {
		if !sound.LFE(p.session.Result().Speakers[k].Label) && h.Speakers[k].Headroom < 0 {
			weak = append(weak, p.session.Result().Speakers[k].Name())
		}
		if p.session.Result().Speakers[k].Spec.Subwoofer() {
			continue
		}
		sum, n = sum+h.Speakers[k].SpreadOverall, n+1
		if worst < 0 || h.Speakers[k].SpreadOverall > h.Speakers[worst].SpreadOverall {
			worst = k
		}
	}
	if o := p.output(); o != nil && o.Short() {
		weak = append(weak, o.Names...)
	}
	var out []fact
	if worst >= 0 {
		out = append(out,
			fact{Text: fmt.Sprintf("Largest spread: %s, %.1f dB", p.session.Result().Speakers[worst].Name(), h.Speakers[worst].SpreadOverall)},
			fact{Text: fmt.Sprintf("Mean of all: %.1f dB", sum/float64(n))})
	}
	if len(weak) > 0 {
		out = append(out, fact{Text: "Not loud enough for the peaks at the main position: " + joinNames(weak), weight: asFailing})
	}
	return append(out, fact{Text: "Choose a loudspeaker for its delay, level and power.", weight: asFootnote})
}

// joinNames lists some names and counts the rest.
func joinNames(names []string) string {
	const most = 8
	text := ""
	for i, n := range names {
		if i == most {
			return fmt.Sprintf("%s and %d more", text, len(names)-most)
		}
		if i > 0 {
			text += ", "
		}
		text += n
	}
	return text
}

// minutes prints a time for which one may listen.
func minutes(m float64) string {
	switch {
	case math.IsInf(m, 0) || m > 48*60:
		return "days"
	case m >= 120:
		return fmt.Sprintf("%.0f hours", m/60)
	case m >= 2:
		return fmt.Sprintf("%.0f minutes", m)
	}
	return fmt.Sprintf("%.0f seconds", m*60)
}
