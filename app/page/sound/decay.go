// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"

	"earline/app/session"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/noise"
	"earline/project/sound"
	"earline/scene/figure"
)

// lengthsOf returns how lengths are written in those units.
func lengthsOf(u project.Units) func(float64) string {
	return func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
}

// showDecay shows how long the room rings.
func (p *soundPage) showDecay() {
	const heading = "Reverberation"
	r, state := p.session.Known.Decay.Get()
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	p.clear()
	c := figure.Decay(r.Reverb, sound.ReferenceRoom)
	facts := []fact{
		{Text: heading, weight: asHeading},
		{Text: fmt.Sprintf("%.2f s in the middle octaves; wanted %.2f s for %.0f m³", r.Mid, r.Wanted, r.Volume)},
	}
	for o, f := range project.Octaves() {
		if !r.Judged[o] || r.Within[o] {
			continue
		}
		verb, area := "add", r.Change[o]
		if area < 0 {
			verb, area = "take away", -area
		}
		facts = append(facts, fact{weight: asFailing, Text: fmt.Sprintf("%g Hz: %.2f s; %s %.1f m² of absorption", f, r.Eyring[o], verb, area)})
	}
	quiet := noise.Of(p.session.Design(), r.RoomConstant())
	line := fact{Text: quiet.Line(lengthsOf(p.session.Design().Units)) + "."}
	if quiet.Verdict == noise.Over {
		line.weight = asFailing
	}
	facts = append(facts, line)
	if text := quiet.Remark(); text != "" {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	for _, a := range r.Assumed {
		facts = append(facts, fact{Text: a, weight: asFootnote})
	}
	p.panel.Show(&c, facts, nil)
}
