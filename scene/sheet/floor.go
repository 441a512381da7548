// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene/drawing"
)

// drawPlatforms draws the platforms, their steps and how high they are.
func (s *set) drawPlatforms(d *drawn) {
	for i := range s.design.Seating.Rows {
		b, ok := place.Platform(s.design, i)
		if !ok {
			continue
		}
		ring := rectangle(b)
		for k := range ring {
			for _, part := range clipTo(s.outline, ring[k], ring[(k+1)%4]) {
				d.lines(rowLayer, black, edge, d.floor(part[:]))
			}
		}
		for _, fl := range place.Flights(s.design, i) {
			for _, st := range fl.Boxes {
				ring := d.floor(rectangle(st))
				d.lines(rowLayer, black, thin, closed(ring))
				d.solids = append(d.solids, around(ring))
			}
			if n := len(fl.Boxes); n > 0 {
				low, top := fl.Boxes[0].Center, fl.Boxes[n-1].Center
				to := top.Add(top.Sub(low).Mul(0.3))
				d.arrow(rowLayer, black, d.at(low), d.at(to))
				step := around(d.floor(rectangle(fl.Boxes[0])))
				d.label(rowLayer, black, d.at(low), min(step.Dx(), step.Dy())/2, 4, fmt.Sprintf("%d risers of %s", fl.Risers, s.length(fl.Rise)))
			}
		}
		// Its height at its front right corner, where nobody sits.
		at := geometry.Vec2{X: b.Center.X - b.Half.X + 0.15, Y: b.Center.Y + b.Half.Y - 0.3}
		for !s.outline.Contains(at) && at.Y > b.Center.Y-b.Half.Y {
			at.Y -= 0.1
		}
		d.label(rowLayer, black, d.at(vec(at, 0)), 0.5, 5, "platform "+signed(s.metric, 2*b.Half.Z))
	}
}

// rectangle returns the outline on the floor of a box along the axes.
func rectangle(b geometry.Box) geometry.Polygon {
	x0, x1, y0, y1 := b.Center.X-b.Half.X, b.Center.X+b.Half.X, b.Center.Y-b.Half.Y, b.Center.Y+b.Half.Y
	return geometry.Polygon{{X: x0, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}}
}

// drawSeats draws the chairs, with their names or only for orientation.
func (s *set) drawSeats(d *drawn, named bool) {
	for _, seat := range s.room.Seats {
		ring := d.floor(seat.Outline(1))
		if !named {
			d.lines(sightLayer, pale, finest, closed(ring))
			continue
		}
		d.lines(rowLayer, grey, thin, closed(ring))
		back := seat.Outline(1)
		line := func(u float64) []drawing.Point { // the line where pan and back meet
			a, b := back[0].Add(back[1].Sub(back[0]).Mul(u)), back[3].Add(back[2].Sub(back[3]).Mul(u))
			return d.floor(geometry.Polygon{a, b})
		}
		depth, all := float64(seat.Chair.PanDepth), float64(seat.Chair.PanDepth+seat.Chair.BackThickness)
		d.lines(rowLayer, grey, thin, line(depth/all))
		middle := d.at(seat.Local(-depth/2, 0, 0))
		switch {
		case d.roomy("seats") != "":
			d.label(rowLayer, grey, middle, 0, 0, seat.Name())
		case seat.Number == 1:
			d.label(rowLayer, grey, middle, 0, 0, fmt.Sprintf("row %d", seat.Row))
		}
	}
}

// paintChair draws a chair as it is seen, for orientation.
func (s *set) paintChair(d *drawn, seat *place.Seat) {
	for _, p := range seat.ChairParts() {
		if p.Box != nil {
			d.lines(sightLayer, pale, finest, closed(d.outline(*p.Box)))
		}
	}
}

// drawFloorFeatures draws what stands in the room.
func (s *set) drawFloorFeatures(d *drawn) {
	for _, f := range s.design.Room.Features {
		ring := d.floor(f.Outline())
		switch {
		case f.Kind == project.Door || f.Kind == project.Window:
		case f.Kind.Overhead():
			d.dashed(featureLayer, pale, thin, closed(ring))
		case f.Kind == project.Stage || f.Kind == project.Counter || f.Kind == project.Rack:
			d.lines(featureLayer, black, edge, closed(ring))
			d.labelIn(featureLayer, black, ring, 3, f.Words(), signed(s.metric, float64(f.At.Z+f.Height)))
		default: // cut through at the height of the plan
			d.hatch(hatchLayer, grey, 1.2, ring)
			d.lines(featureLayer, black, cut, closed(ring))
			d.solids = append(d.solids, around(ring))
			d.label(featureLayer, black, middleOf(ring), around(ring).Dx()/2, 3, f.Words())
		}
	}
}

// drawScreen draws the picture as a line.
func (s *set) drawScreen(d *drawn) {
	c, r, _ := s.design.Screen.Picture()
	a, b := d.at(c.Sub(r)), d.at(c.Add(r))
	d.lines(screenLayer, black, heavier, []drawing.Point{a, b})
	d.solids = append(d.solids, grown(around([]drawing.Point{a, b}), 0.5))
	at := c.Add(r.Mul(-0.5)).Add(geometry.Vec{X: 0.02})
	d.label(screenLayer, black, d.at(at), 1, 2,
		"picture "+s.length(2*r.Y)+" × "+s.length(s.design.Screen.Height()))
	for _, t := range [6]float64{0.5, -0.25, 0.25, 0.8, -0.8, 0} {
		d.orAt(d.at(c.Add(r.Mul(t)).Add(geometry.Vec{X: 0.02})))
	}
}

// drawSpeakers draws loudspeakers as they are seen, with where they aim; where those on
// the ceiling are not alone, they are broken.
func (s *set) drawSpeakers(d *drawn, which func(*place.Speaker) bool, alone bool) {
	for i := range s.room.Speakers {
		l := &s.room.Speakers[i]
		if !which(l) {
			continue
		}
		ring := d.outline(l.Box)
		if l.Mount == project.OnCeiling && !alone {
			d.dashed(speakerLayer, blue, thin, closed(ring))
		} else {
			d.fill(maskLayer, white, ring)
			d.lines(speakerLayer, blue, edge, closed(ring))
		}
		box := around(ring)
		d.dear = append(d.dear, grown(box, 0.3))
		from := d.at(l.At.Vec())
		if !l.Spec.Subwoofer() {
			tip := l.At.Vec().Add(l.Axis.Mul(0.25))
			if q := d.at(tip); math.Hypot(q.X-from.X, q.Y-from.Y) > 1 {
				d.arrow(speakerLayer, blue, from, q)
				d.solids = append(d.solids, grown(around([]drawing.Point{from, q}), 0.3))
			}
		}
		d.label(speakerLayer, blue, middleOf(ring), min(box.Dx(), box.Dy())/2, 1, l.Name(), d.roomy(plainName(l.Label)))
		d.naming(s.ids[i])
	}
}
