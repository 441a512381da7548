// SPDX-License-Identifier: MIT

package sheet

import (
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/scene/drawing"
)

// cutouts returns a detail of every loudspeaker model that is used, from the front.
func (s *set) cutouts(p *page) []*view {
	var out []*view
	for _, m := range s.design.Models {
		var names []string
		for i := range s.room.Speakers {
			if s.room.Speakers[i].Model == m.ID {
				names = append(names, s.room.Speakers[i].Name())
			}
		}
		if len(names) > 0 {
			out = append(out, s.cutout(p, m, names))
		}
	}
	return out
}

func (s *set) cutout(p *page, m project.Model, names []string) *view {
	w, h := float64(m.Width), float64(m.Height)
	cw, ch := float64(m.CutoutW), float64(m.CutoutH)
	holed := m.Flush && cw > 0 && ch > 0
	const widest = 90 // mm of a name
	v := &view{set: s, title: p.fitted(m.Name, medium, widest), right: geometry.Vec{Y: 1}, up: geometry.Vec{Z: 1}}
	hw, hh := max(w, cw)/2, max(h, ch)/2
	v.lo, v.hi = geometry.Vec2{X: -hw, Y: -hh}, geometry.Vec2{X: hw, Y: hh}
	v.paint = func(d *drawn) {
		box := func(w, h float64) []drawing.Point {
			return d.ring([]geometry.Vec2{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}})
		}
		d.lines(speakerLayer, black, edge, closed(box(w, h)))
		if holed {
			ring := box(cw, ch)
			d.lines(cutoutLayer, blue, cut, closed(ring))
			d.onLine(cutoutLayer, blue, ring[3], ring[2], 1, "cut-out "+s.length(cw)+" × "+s.length(ch))
		}
		k := d.scale.mm()
		for _, dr := range m.Drivers {
			c := d.on(geometry.Vec2{X: float64(dr.Right), Y: float64(dr.Up)})
			r := k * float64(dr.Diameter) / 2
			d.circle(speakerLayer, black, thin, c, r)
			d.cross(speakerLayer, black, finest, c, 1)
		}
		d.chained(speakerLayer, grey, finest, []drawing.Point{d.on(geometry.Vec2{X: -hw}), d.on(geometry.Vec2{X: hw})}, []drawing.Point{d.on(geometry.Vec2{Y: -hh}), d.on(geometry.Vec2{Y: hh})})
	}
	if holed {
		s.chain(v, below, stopsAt(-cw/2, cw/2))
		s.chain(v, leftOf, stopsAt(-ch/2, ch/2))
	}
	s.chain(v, below, stopsAt(-w/2, w/2))
	s.chain(v, leftOf, stopsAt(-h/2, h/2))
	var centres []stop
	for _, dr := range m.Drivers {
		centres = append(centres, stop{at: float64(dr.Up), name: string(dr.Band)})
	}
	s.runs(v, rightOf, 0, true, centres)

	fit := "hangs or stands free"
	if m.Flush {
		fit = "let in flush"
		if !holed {
			fit = "let in flush, cut-out not known: ask before cutting"
		}
	}
	facts := []string{fit, "depth " + s.length(float64(m.Depth))}
	v.notes = append(v.notes, strings.Join(facts, ", "))
	const most = 74 // mm of text beneath a detail
	lines := p.wrapped("for "+strings.Join(names, ", "), small, most)
	v.notes = append(v.notes, lines...)
	v.notes = slices.Clip(v.notes)
	return v
}
