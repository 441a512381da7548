// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/place"
	"earline/project/setout"
)

// planView returns a view from above, without anything in it.
func (s *set) planView(title string) *view {
	v := &view{set: s, title: title, right: geometry.Vec{Y: 1}, up: geometry.Vec{X: -1}}
	if s.turned {
		v.right, v.up = geometry.Vec{X: 1}, geometry.Vec{Y: 1}
	}
	a, b := v.flat(geometry.Vec{X: s.lo.X, Y: s.lo.Y}), v.flat(geometry.Vec{X: s.hi.X, Y: s.hi.Y})
	v.room = [2]geometry.Vec2{{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, {X: max(a.X, b.X), Y: max(a.Y, b.Y)}}
	v.lo, v.hi = v.room[0].Sub(geometry.Vec2{X: thick, Y: thick}), v.room[1].Add(geometry.Vec2{X: thick, Y: thick})
	for _, f := range s.design.Room.Features { // doors that open outwards
		o, ok := s.openingOf(f)
		if !ok || f.Kind != project.Door || f.Swing != project.OutLeft && f.Swing != project.OutRight {
			continue
		}
		out := o.inward.Mul(-thick - o.a.Dist(o.b) - 0.05)
		for _, q := range [2]geometry.Vec2{o.a.Add(out), o.b.Add(out)} {
			p := v.flat(vec(q, 0))
			v.lo = geometry.Vec2{X: min(v.lo.X, p.X), Y: min(v.lo.Y, p.Y)}
			v.hi = geometry.Vec2{X: max(v.hi.X, p.X), Y: max(v.hi.Y, p.Y)}
		}
	}
	return v
}

// side returns the side of a plan on which a side of the room is: "screen", "back",
// "left" or "right".
func (s *set) side(of string) int {
	n := map[string]geometry.Vec{"screen": {X: -1}, "back": {X: 1}, "left": {Y: -1}, "right": {Y: 1}}[of]
	v := s.planView("")
	switch f := v.flat(n); {
	case f.X > 0.5:
		return rightOf
	case f.X < -0.5:
		return leftOf
	case f.Y > 0.5:
		return above
	}
	return below
}

// along returns how far a point is along a side of a view, metres.
func along(v *view, side int, p geometry.Vec) float64 {
	f := v.flat(p)
	if side == below || side == above {
		return f.X
	}
	return f.Y
}

// plan returns the plan.
func (s *set) plan() *view {
	v := s.planView("Plan")
	v.shows = setout.OnFloor
	first := "Dimensions of loudspeakers run from the corner with the ring, to the middle of the front. Heights of platforms are over the floor."
	if s.lean > 1 {
		first = "Loudspeakers are dimensioned on the walls and in the list. Heights of platforms are over the floor."
	}
	v.notes = []string{first,
		"Walls are drawn " + s.length(thick) + " thick: the plan knows their finished faces only. What is broken is overhead."}
	v.paint = func(d *drawn) {
		s.drawPlatforms(d)
		s.drawBackdrops(d)
		s.drawWalls(d, true)
		s.drawSeats(d, true)
		s.drawFloorFeatures(d)
		s.drawScreen(d)
		s.drawSpeakers(d, func(l *place.Speaker) bool { return true }, false)
		s.drawProjector(d, false)
		s.nameWalls(d)
	}
	for _, side := range [4]string{"screen", "left", "right", "back"} {
		s.dimension(v, side)
	}
	return v
}

// turnPlan turns plans so that the screen is at the left where that allows a larger
// scale; otherwise it is at the top, as people hold a plan. On paper too small for all
// dimensions at 1:50 it leaves out what other sheets tell again, as far as that makes the
// plan larger.
func (s *set) turnPlan() {
	const enough = 50
	p := s.newPage("")
	best := struct {
		ratio  float64
		lean   int
		turned bool
	}{ratio: math.Inf(1)}
	for s.lean = range 3 {
		for _, turned := range []bool{false, true} {
			s.turned = turned
			if r := s.planScale(p).Ratio; r < best.ratio {
				best.ratio, best.lean, best.turned = r, s.lean, turned
			}
		}
		if best.ratio <= enough {
			break
		}
	}
	s.planRatio, s.lean, s.turned = best.ratio, best.lean, best.turned
}

// planScale returns the largest scale at which plan and ceiling fit one on the other.
func (s *set) planScale(p *page) Scale {
	views := s.planViews()
	return largest(scales(s.metric), func(c Scale) bool {
		w, h, _ := overlaid(p, views, c)
		return w <= p.area.Dx() && h <= p.area.Dy()
	})
}

func (s *set) planViews() []*view { return []*view{s.plan(), s.ceiling()} }

// overlaid returns the paper that views of one outline take when they lie on each other.
func overlaid(p *page, views []*view, c Scale) (w, h float64, beside [4]float64) {
	notes := 0
	for _, v := range views {
		_, _, b := v.need(p, c)
		for side := range beside {
			beside[side] = max(beside[side], b[side])
		}
		notes = max(notes, len(v.notes))
	}
	k := c.mm()
	w = k*(views[0].hi.X-views[0].lo.X) + beside[leftOf] + beside[rightOf]
	h = k*(views[0].hi.Y-views[0].lo.Y) + beside[below] + beside[above] + titleHeight + noteStep*float64(notes)
	return w, h, beside
}

// planSheets draws the plan and the ceiling at one scale and in one place of their
// sheets, so that one can be laid on the other.
func (s *set) planSheets() {
	scale := largest(scales(s.metric), func(c Scale) bool { return c.Ratio >= s.planRatio })
	views := s.planViews()
	w, h, beside := overlaid(s.newPage(""), views, scale)
	for i, v := range views {
		p := s.newPage([]string{"Plan", "Ceiling (looking up)"}[i])
		s.screenArrow(p)
		v.drawBeside(p, scale, p.area.X0+max(p.area.Dx()-w, 0)/2, p.area.Y0+max(p.area.Dy()-h, 0)/2, w, h, beside)
		s.lost += p.placeLabels()
		s.pages = append(s.pages, composed{p, scale, fmt.Sprintf("S%d", i+1)})
	}
}

// nameWalls writes the names of the walls along them, in the room.
func (s *set) nameWalls(d *drawn) {
	for i := range s.outline {
		a, b := s.outline.Edge(i)
		in := s.outline.InwardNormal(i)
		name := s.design.Room.WallName(i + 1)
		at := d.at(vec(a.Add(b).Mul(0.5).Add(in.Mul(0.05)), 0))
		d.label(wallLayer, black, at, 0.5, 6, name)
		for _, t := range [6]float64{0.3, 0.7, 0.15, 0.85, 0.4, 0.6} {
			d.orAt(d.at(vec(a.Add(b.Sub(a).Mul(t)).Add(in.Mul(0.05)), 0)))
		}
	}
}

// roomy returns text where the scale leaves room for it beside what must be there.
func (d *drawn) roomy(text string) string {
	if d.small() {
		return ""
	}
	return text
}

// small reports whether the scale leaves no room for what other sheets tell as well;
// feet, inches and sixteenths take more.
func (d *drawn) small() bool {
	if d.set.metric {
		return d.scale.Ratio > 60
	}
	return d.scale.Ratio > 40
}

// height writes a height against the laser line and, where there is room, over the floor.
func (d *drawn) height(z float64) string {
	against := signed(d.set.metric, z-d.set.laser)
	if d.small() {
		return against
	}
	return against + " (" + d.set.length(z) + ")"
}

// plainName says in an installer's words where a loudspeaker belongs.
func plainName(label string) string {
	return strings.TrimSuffix(strings.TrimSuffix(strings.Replace(bs2051.Means(label), ", height layer", " height", 1), ", ear level"), ", top layer")
}
