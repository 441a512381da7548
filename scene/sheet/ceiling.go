// SPDX-License-Identifier: MIT

package sheet

import (
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
)

// ceiling returns the reflected ceiling plan: it lies on the plan, left on left.
func (s *set) ceiling() *view {
	v := s.planView("Ceiling plan, as a mirror on the floor shows it")
	v.shows = setout.OnCeiling
	v.notes = []string{"Left and right are those of the plan: laid on it, everything lies over its place. Chairs are drawn for orientation.",
		"Heights are against the laser line; those in brackets are over the floor."}
	if note := s.panelNote(0); note != "" {
		v.notes = append(v.notes, note)
	}
	v.paint = func(d *drawn) {
		s.drawSeats(d, false)
		s.drawWalls(d, false)
		s.drawLamps(d)
		s.drawOverhead(d)
		s.drawCeilingTreatments(d)
		s.drawCeilingPanels(d)
		s.drawSpeakers(d, onCeiling, true)
		s.drawProjector(d, true)
		s.drawCeilingHeights(d)
	}
	for _, side := range [2]string{"screen", "left"} {
		s.dimensionCeiling(v, side)
	}
	return v
}

func onCeiling(l *place.Speaker) bool { return l.Mount == project.OnCeiling }

// dimensionCeiling adds what hangs, from the left wall and from the screen wall, each
// thing on both sides once.
func (s *set) dimensionCeiling(v *view, name string) {
	side := s.side(name)
	across := name == "screen"
	at := func(x, y float64) float64 { return along(v, side, geometry.Vec{X: x, Y: y}) }
	from, to := at(s.lo.X, s.lo.Y), at(s.hi.X, s.lo.Y)
	if across {
		to = at(s.lo.X, s.hi.Y)
	}
	var hanging, built []stop
	for i := range s.room.Speakers {
		if l := &s.room.Speakers[i]; onCeiling(l) {
			hanging = append(hanging, stop{at: at(float64(l.At.X), float64(l.At.Y)), name: l.Name()})
		}
	}
	if p := s.design.Projector; p.Given() && p.Mount == project.CeilingMount {
		hanging = append(hanging, stop{at: at(float64(p.At.X), float64(p.At.Y)), name: "lens"})
	}
	for _, f := range s.design.Room.Features {
		switch f.Kind {
		case project.Light, project.Vent:
			hanging = append(hanging, stop{at: at(float64(f.At.X), float64(f.At.Y)), name: string(f.Kind)})
		case project.Soffit, project.Beam:
			hx, hy := place.Extent(f)
			built = append(built, stopsAt(at(float64(f.At.X)-hx, float64(f.At.Y)-hy), at(float64(f.At.X)+hx, float64(f.At.Y)+hy))...)
		}
	}
	s.runs(v, side, from, false, s.hanging(hanging))
	lo, hi := min(from, to), max(from, to)
	stops := stopsAt(lo, hi)
	for _, b := range built {
		if b.at > lo && b.at < hi {
			stops = append(stops, b)
		}
	}
	s.parts(v, side, stops)
	s.chain(v, side, stopsAt(from, to))
}

// hanging returns what hangs as it is dimensioned on paper of this size: always, since
// no other drawing does.
func (s *set) hanging(stops []stop) []stop {
	if s.lean == 0 {
		return stops
	}
	bare := slices.Clone(stops)
	for i := range bare {
		bare[i].name = ""
	}
	return bare
}

// drawOverhead draws what is under the ceiling, with how high it is.
func (s *set) drawOverhead(d *drawn) {
	for _, f := range s.design.Room.Features {
		ring := d.floor(f.Outline())
		box := around(ring)
		under := d.height(float64(f.At.Z))
		switch f.Kind {
		case project.Soffit, project.Beam:
			d.lines(featureLayer, black, edge, closed(ring))
			d.labelIn(featureLayer, black, ring, 3, f.Words(), "underside "+under)
		case project.Light:
			d.lines(featureLayer, black, edge, closed(ring))
			c := middleOf(ring)
			r := max(min(box.Dx(), box.Dy())/2, 1.2)
			d.lines(featureLayer, black, thin, []drawing.Point{{X: c.X - r, Y: c.Y - r}, {X: c.X + r, Y: c.Y + r}}, []drawing.Point{{X: c.X - r, Y: c.Y + r}, {X: c.X + r, Y: c.Y - r}})
			d.solids = append(d.solids, box)
			d.label(featureLayer, black, c, min(box.Dx(), box.Dy())/2, 2, f.Words(), under)
		case project.Vent:
			d.lines(featureLayer, black, edge, closed(ring))
			d.hatch(hatchLayer, black, 0.8, ring)
			d.solids = append(d.solids, box)
			d.label(featureLayer, black, middleOf(ring), min(box.Dx(), box.Dy())/2, 2, f.Words(), under)
		case project.Column, project.Chimney:
			d.hatch(hatchLayer, grey, 1.2, ring)
			d.lines(featureLayer, black, cut, closed(ring))
			d.solids = append(d.solids, box)
		}
	}
}

func (s *set) drawCeilingTreatments(d *drawn) {
	for i, t := range s.design.Room.Treatments {
		if t.Wall != 0 {
			continue
		}
		ring := d.floor(geometry.Polygon{
			{X: float64(t.From), Y: float64(t.Low)}, {X: float64(t.To), Y: float64(t.Low)},
			{X: float64(t.To), Y: float64(t.High)}, {X: float64(t.From), Y: float64(t.High)}})
		d.dashed(treatmentLayer, black, thin, closed(ring))
		d.labelIn(treatmentLayer, black, ring, 4, s.treatmentName(i))
	}
}

func (s *set) treatmentName(i int) string {
	t := s.design.Room.Treatments[i]
	if t.Name != "" {
		return t.Name
	}
	for _, m := range s.design.Room.Materials {
		if m.ID == t.Material {
			return m.Name
		}
	}
	return t.Material
}

// drawCeilingHeights writes how high the ceiling is: once where it is flat, else where
// its slope begins and ends; of several slopes at the lowest and highest of each, with
// the folds between them.
func (s *set) drawCeilingHeights(d *drawn) {
	c := s.design.Room.Ceiling
	if len(c.Planes) > 0 {
		s.drawSlopes(d)
		return
	}
	mid := geometry.Vec2{X: (s.lo.X + s.hi.X) / 2, Y: (s.lo.Y + s.hi.Y) / 2}
	put := func(q geometry.Vec2) {
		d.label(textLayer, black, d.at(vec(q, 0)), 0.5, 5, "ceiling "+d.height(s.design.Room.CeilingAt(q.X, q.Y)))
	}
	const in = 0.25 // m from the walls
	var from, to geometry.Vec2
	switch c.Slope {
	case project.FrontToBack:
		from, to = geometry.Vec2{X: s.lo.X + in, Y: mid.Y}, geometry.Vec2{X: s.hi.X - in, Y: mid.Y}
	case project.LeftToRight:
		from, to = geometry.Vec2{X: mid.X, Y: s.lo.Y + in}, geometry.Vec2{X: mid.X, Y: s.hi.Y - in}
	default:
		put(mid)
		return
	}
	put(from)
	put(to)
	a, b := d.at(vec(from, 0)), d.at(vec(to, 0))
	if s.design.Room.CeilingAt(from.X, from.Y) < s.design.Room.CeilingAt(to.X, to.Y) {
		a, b = b, a
	}
	third := func(t float64) drawing.Point { return drawing.Pt(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t) }
	d.arrow(textLayer, grey, third(0.4), third(0.6))
	d.solids = append(d.solids, grown(around([]drawing.Point{third(0.4), third(0.6)}), 0.5))
	d.label(textLayer, grey, third(0.5), 1, 6, "falls")
}

// drawSlopes draws the folds of a ceiling of several slopes, and how high each is where it
// begins and ends.
func (s *set) drawSlopes(d *drawn) {
	slopes := s.design.Room.Slopes()
	for _, fold := range slopes.Folds(s.outline) {
		d.lines(featureLayer, black, thin, d.floor(geometry.Polygon{fold.A, fold.B}))
	}
	for _, piece := range slopes.Pieces(s.outline) {
		slope, mid := slopes[piece.Slope], piece.Outline.Centroid()
		down := geometry.Vec2{X: -slope.AlongX, Y: -slope.AlongY}
		if slope.Level() {
			d.label(textLayer, black, d.at(vec(mid, 0)), 0.5, 5, "ceiling "+d.height(slope.Height))
			continue
		}
		down = down.Mul(1 / down.Len())
		lo, hi := 0.0, 0.0 // down from the middle
		for _, q := range piece.Outline {
			by := q.Sub(mid).Dot(down)
			lo, hi = min(lo, by), max(hi, by)
		}
		for _, by := range [2]float64{lo, hi} {
			q := mid.Add(down.Mul(by))
			d.label(textLayer, black, d.at(vec(mid.Add(down.Mul(0.85*by)), 0)), 0.5, 5, "ceiling "+d.height(slope.At(q.X, q.Y)))
		}
		a, b := d.at(vec(mid.Add(down.Mul(0.3*lo)), 0)), d.at(vec(mid.Add(down.Mul(0.3*hi)), 0))
		d.arrow(textLayer, grey, a, b)
		d.solids = append(d.solids, grown(around([]drawing.Point{a, b}), 0.5))
		d.label(textLayer, grey, drawing.Pt((a.X+b.X)/2, (a.Y+b.Y)/2), 1, 6, "falls")
	}
}
