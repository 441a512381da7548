// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"
	"slices"

	"earline/app/session"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/sound"
	"earline/scene"
	"earline/scene/figure"
)

// showArrivals shows what comes after the direct sound, and where panels would help.
func (p *soundPage) showArrivals(choice choice) {
	const heading = "Reflections after the direct sound"
	r, state := p.session.Known.Reflections.Get()
	if state != session.Fresh {
		p.await(heading, state)
		return
	}
	p.clear()
	seat, k := choice.Seat-1, choice.Speaker-1
	c := figure.Arrivals(r, p.session.Room(), k, seat) // sound.AllSpeakers is -1
	facts := []fact{{Text: heading, weight: asHeading}}
	here := sound.Reflections{Surfaces: r.Surfaces}
	strong, all := 0, 0
	for i := range r.All {
		f := &r.All[i]
		if f.Breaks {
			all++
		}
		if k != sound.AllSpeakers && f.Speaker != k || f.Seat != seat {
			continue
		}
		here.All = append(here.All, *f)
		if f.Breaks {
			strong++
		}
		if k == sound.AllSpeakers && !f.Breaks {
			continue // every reflection of every loudspeaker would be unreadable
		}
		t := scene.Trace{Strong: f.Breaks, Points: []geometry.Vec{p.session.Result().Speakers[f.Speaker].At.Vec()}}
		if k != sound.AllSpeakers {
			t.Text = fmt.Sprintf("%.1f ms %+.0f dB", f.Delay, f.Strongest)
		}
		t.Points = append(append(t.Points, f.Points[:f.Order]...), p.earOf(seat))
		p.traces = append(p.traces, t)
	}
	line := fact{Text: fmt.Sprintf("%d reflections over the limit here, %d at all seats", strong, all)}
	if strong > 0 {
		line.weight = asFailing
	}
	facts = append(facts, line)
	for _, patch := range here.Treat(true) {
		facts = append(facts, fact{Text: here.Where(&patch, p.session.Design().Units)})
		p.patches = append(p.patches, scene.Patch{Corners: r.Corners(patch), Text: string(patch.Advice)})
	}
	for _, a := range r.Remarks {
		facts = append(facts, fact{Text: a, weight: asFootnote})
	}
	var actions []action
	if panels := panelsFor(r); len(panels) > 0 {
		actions = []action{{Name: fmt.Sprintf("Add %d panels for the main position", len(panels)), Do: p.addPanels}}
	}
	p.panel.Show(&c, facts, actions)
}

// absorber is the material of the panels that are added: an absorber of 50 mm with a
// fabric face, as far as the table of materials has one.
const absorber = "panel-fabric"

// panelsFor returns panels where the main position hears a wall or the ceiling too
// strongly.
func panelsFor(r *sound.Reflections) []project.Treatment {
	var out []project.Treatment
	for _, p := range r.Treat(false) {
		if t, ok := r.Treatment(p, absorber); ok {
			// Rounded to centimetres, the precision of a saw.
			for _, v := range []*unit.Length{&t.From, &t.To, &t.Low, &t.High} {
				*v = unit.Length(math.Round(float64(*v)*100) / 100)
			}
			if t.To > t.From && t.High > t.Low {
				out = append(out, t)
			}
		}
	}
	return out
}

// addPanels adds panels to the room where the main position hears too much: one step
// of undo.
func (p *soundPage) addPanels() {
	r, state := p.session.Known.Reflections.Get()
	if state != session.Fresh {
		p.session.Say("Not done: the reflections are still being worked out.")
		return
	}
	panels := panelsFor(r)
	if len(panels) == 0 {
		p.session.Say("Not done: no reflection at the main position is over the limit.")
		return
	}
	err := p.session.Do("add panels", "", func(d *project.Design) {
		known := func(m project.Material) bool { return m.ID == absorber }
		if !slices.ContainsFunc(d.Room.Materials, known) {
			all := file.Materials()
			d.Room.Materials = append(d.Room.Materials, all[slices.IndexFunc(all, known)])
		}
		for _, p := range panels {
			if len(d.Room.Treatments) < project.MaxTreatments {
				d.Room.Treatments = append(d.Room.Treatments, p)
			}
		}
	})
	if err != nil {
		p.frame.Ask.Report("The panels are not added", err)
		return
	}
	p.session.Say("The panels are among the treatments in the inspector. Overhead panels are to be fixed by licensed people, fabrics to pass the local fire rules.")
}

// earOf is between the ears of a seat, or the main position.
func (p *soundPage) earOf(seat int) geometry.Vec {
	if seat < 0 || seat >= len(p.session.Result().Bodies) {
		return p.session.Result().Main
	}
	return p.session.Result().Bodies[seat].Ear()
}
