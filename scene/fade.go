// SPDX-License-Identifier: MIT

package scene

import (
	"reflect"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
	"earline/project/place"
)

// Fade shows another design of the room in the place of the present one, or a state
// between both: what is drawn alike in both stays as it is, all else fades.
type Fade struct {
	// Was is the other design. It must not be changed while Build runs.
	Was *project.Design
	// Share is that of the present design: 0 shows Was alone, 1 the present one alone.
	Share float64
	// From and To are a thing in Was and in the present design, outlined in both, with a
	// line from one to the other; the zero Item is none.
	From, To place.Item
}

// between reports whether both designs are seen.
func (f *Fade) between() bool { return f != nil && f.Share > 0 && f.Share < 1 }

// faded is what both designs of a fade are drawn from, part by part.
type faded struct {
	was, is fadeKey
	stays   []stay
	goes    []Mesh // of the earlier design alone, or elsewhere in it
	comes   []Mesh
	lines   [2][]Lines // of the earlier and the later
}

// fadeKey is all that the parts of a design are drawn from.
type fadeKey struct {
	f        fixture
	speakers []project.Loudspeaker
	models   []project.Model
	main     geometry.Vec
	lens     project.Projector
	lenses   []project.ProjectorModel
}

// stay is a mesh that both designs have, in the light of each.
type stay struct{ was, is Mesh }

func fadeKeyOf(d *project.Design, o Options) fadeKey {
	o.Seat = None
	return fadeKey{fixtureOf(d, panel.Of(d), o), d.Speakers, d.Models, place.MainPoint(d), d.Projector, d.ProjectorModels}
}

// clone returns a copy of k that d does not change.
func (k fadeKey) clone() fadeKey {
	k.f.d = k.f.d.Clone()
	k.speakers, k.models, k.lenses = slices.Clone(k.speakers), slices.Clone(k.models), slices.Clone(k.lenses)
	return k
}

// fade returns the parts of both designs, those of the last picture where they are the
// same.
func (b *Builder) fade(d *project.Design, o Options) *faded {
	o.Seat, o.Speaker = None, None
	before := o
	before.FromSeat = sameSeat(d, o.Fade.Was, o.FromSeat)
	was, is := fadeKeyOf(o.Fade.Was, before), fadeKeyOf(d, o)
	if b.faded != nil && reflect.DeepEqual(b.faded.was, was) && reflect.DeepEqual(b.faded.is, is) {
		return b.faded
	}
	b.faded = &faded{was: was.clone(), is: is.clone()}
	draw := func(d *project.Design, o Options) ([]component, []List) {
		s := painterOf(d, nil, o)
		parts := s.parts()
		if !o.Client {
			parts = append(parts, component{"Room", "edges", (*painter).edges})
		}
		lists := s.draw(parts)
		for i := range lists {
			if g := parts[i].group; g != "Loudspeakers" && g != "Projector" { // as Build
				s.ink.apply(&lists[i])
			}
		}
		return parts, lists
	}
	earlier, old := draw(o.Fade.Was, before)
	later, now := draw(d, o)
	met := make([]bool, len(later))
	for i := range earlier {
		k := 0
		for k < len(later) && (met[k] || later[k].group != earlier[i].group || !alike(&old[i], &now[k])) {
			k++
		}
		b.faded.lines[0] = append(b.faded.lines[0], old[i].Lines...)
		if k == len(later) {
			b.faded.goes = append(b.faded.goes, old[i].Meshes...)
			continue
		}
		met[k] = true
		for m := range now[k].Meshes {
			b.faded.stays = append(b.faded.stays, stay{old[i].Meshes[m], now[k].Meshes[m]})
		}
	}
	for k := range later {
		b.faded.lines[1] = append(b.faded.lines[1], now[k].Lines...)
		if !met[k] {
			b.faded.comes = append(b.faded.comes, now[k].Meshes...)
		}
	}
	return b.faded
}

// alike reports whether two parts are of one shape in one place.
func alike(a, b *List) bool {
	return slices.EqualFunc(a.Meshes, b.Meshes, func(a, b Mesh) bool {
		return slices.Equal(a.Pos, b.Pos) && slices.Equal(a.Index, b.Index)
	})
}

// at puts both designs on list, with that share of the later.
func (f *faded) at(list *List, share float32) {
	for _, s := range f.stays {
		m := s.is
		if slices.Equal(s.was.Col, s.is.Col) {
			m.Fixed = true
		} else { // in another light
			m.Col = make([]float32, len(s.is.Col))
			for i := range m.Col {
				m.Col[i] = s.was.Col[i] + share*(s.is.Col[i]-s.was.Col[i])
			}
		}
		list.Meshes = append(list.Meshes, m)
	}
	put := func(all []Mesh, share float32) {
		for _, m := range all {
			m.Alpha *= share
			m.Whole = true
			list.Meshes = append(list.Meshes, m)
		}
	}
	put(f.goes, 1-share)
	put(f.comes, share)
	nearer := 0
	if share >= 0.5 {
		nearer = 1
	}
	list.Lines = append(list.Lines, f.lines[nearer]...)
}

// pointed outlines what is chosen of a fade, where it was and where it is.
func (s *painter) pointed() {
	f := s.o.Fade
	if f == nil || s.o.Client {
		return
	}
	l := &Lines{Name: "chosen of both", OnTop: true}
	before := painterOf(f.Was, nil, s.o)
	from, had := before.outline(l, f.From, s.ink.Guide)
	to, has := s.outline(l, f.To, s.ink.Selected)
	if had && has && from.Dist(to) > nudge {
		p := proposed{ink: s.ink, top: l}
		p.ink.Proposed = s.ink.Selected
		p.move(from, to)
	}
	s.addLines(l)
}

// outline draws the edges of an item and returns its middle; ok is false where the
// design has none such.
func (s *painter) outline(l *Lines, it place.Item, c RGB) (middle geometry.Vec, ok bool) {
	put := func(b geometry.Box) {
		const more = 0.015 // m
		b.Half = b.Half.Add(geometry.Vec{X: more, Y: more, Z: more})
		edges(l, b, c)
		middle, ok = b.Center, true
	}
	switch i := it.Index; {
	case i < 0:
	case it.Kind == place.SpeakerItem && i < len(s.boxes):
		put(s.boxes[i].Box)
	case it.Kind == place.ScreenItem:
		put(s.d.Screen.Sheet())
	case it.Kind == place.ProjectorItem:
		if b, has := place.Cabinet(s.d); has {
			put(b)
		}
	case it.Kind == place.RowItem:
		var sum geometry.Vec
		seats := rowSeats(s.seats, i+1)
		for _, seat := range seats {
			put(seatBox(seat))
			sum = sum.Add(middle)
		}
		if b, has := place.Platform(s.d, i); has && len(seats) > 0 {
			edges(l, b, c)
		}
		if len(seats) > 0 {
			middle = sum.Mul(1 / float64(len(seats)))
		}
	case it.Kind == place.FeatureItem && i < len(s.d.Room.Features):
		put(s.d.Room.Features[i].Box())
	case it.Kind == place.TreatmentItem && i < len(s.d.Room.Treatments):
		t := s.d.Room.Treatments[i]
		if k, has := s.carrier(t.Wall); has {
			u0, u1, v0, v1 := float64(t.From), float64(t.To), float64(t.Low), float64(t.High)
			l.loop(c, k.at(u0, v0, panelDeep), k.at(u1, v0, panelDeep), k.at(u1, v1, panelDeep), k.at(u0, v1, panelDeep))
			middle, ok = k.at((u0+u1)/2, (v0+v1)/2, panelDeep), true
		}
	}
	return middle, ok
}
