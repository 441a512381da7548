// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
)

// thick is how thick walls and slabs are drawn, metres: a plan knows their faces only.
const thick = 0.12

// set is a room on its way onto sheets.
type set struct {
	room    *place.Room
	design  *project.Design
	outline geometry.Polygon
	lo, hi  geometry.Vec2
	metric  bool
	list    *setout.List
	ids     []string // of the loudspeakers, as the list has them
	laser   float64  // height over the finished floor, metres
	turned  bool     // plans have the screen at their left, not at the top

	paper             drawing.Paper
	face              *drawing.Typeface
	file, fingerprint string
	planRatio         float64
	lean              int // what plans leave out: 1 names of dimensions and what is told twice, 2 loudspeakers
	pages             []composed
	bars              []bar // of all sheets
	lost              int   // labels that found no place
}

func (s *set) length(metres float64) string { return measure(s.metric, metres) }

// planView returns a view from above, without anything in it.
func (s *set) planView(title string) *view {
	v := &view{title: title, right: geometry.Vec{Y: 1}, up: geometry.Vec{X: -1}}
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
		s.drawWalls(d, true)
		s.drawSeats(d, true)
		s.drawFloorFeatures(d)
		s.drawScreen(d)
		s.drawSpeakers(d, func(l *place.Speaker) bool { return true }, false)
		s.nameWalls(d)
	}
	for _, side := range [4]string{"screen", "left", "right", "back"} {
		s.dimension(v, side)
	}
	return v
}

// dimension adds the rows of one side of a plan: loudspeakers and picture from the
// corner, then features and rows, then the whole.
func (s *set) dimension(v *view, name string) {
	side := s.side(name)
	at := func(x, y float64) float64 { return along(v, side, geometry.Vec{X: x, Y: y}) }
	across := name == "screen" || name == "back" // the side runs along y
	from, to := at(s.lo.X, s.lo.Y), at(s.hi.X, s.hi.Y)
	if across {
		to = at(s.lo.X, s.hi.Y)
	} else {
		to = at(s.hi.X, s.lo.Y)
	}
	var speakers []stop
	for i := range s.room.Speakers {
		l := &s.room.Speakers[i]
		if s.besides(l, name) {
			speakers = append(speakers, stop{at: at(float64(l.At.X), float64(l.At.Y)), name: l.Name()})
		}
	}
	r, ok := running(s.metric, from, s.leaner(speakers))
	v.add(side, r, ok)

	features := stopsAt(from, to)
	d := s.design
	for _, f := range d.Room.Features {
		if f.Kind.Overhead() || s.nearSide(geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}) != name {
			continue
		}
		hx, hy := place.Extent(f)
		if across {
			features = append(features, stopsAt(at(0, float64(f.At.Y)-hy), at(0, float64(f.At.Y)+hy))...)
		} else {
			features = append(features, stopsAt(at(float64(f.At.X)-hx, 0), at(float64(f.At.X)+hx, 0))...)
		}
	}
	for i := range s.outline { // corners on that side
		if c := s.outline[i]; s.nearSide(c) == name || s.onSide(c, name) {
			features = append(features, stopsAt(at(c.X, c.Y))...)
		}
	}
	switch name {
	case "screen":
		c, r, _ := d.Screen.Picture()
		features = append(features, stopsAt(at(0, c.Y-r.Y), at(0, c.Y+r.Y))...)
	case "left": // rows are told once
		for i := range d.Seating.Rows {
			if b, ok := place.Platform(d, i); ok {
				features = append(features, stopsAt(at(b.Center.X-b.Half.X, 0), at(b.Center.X+b.Half.X, 0))...)
			}
		}
	case "right":
		if s.lean > 0 {
			break
		}
		features = append(features, stopsAt(at(float64(d.Screen.Distance), 0))...)
		for _, r := range d.Seating.Rows {
			features = append(features, stopsAt(at(float64(r.Distance), 0))...)
		}
	}
	lo, hi := min(from, to), max(from, to)
	inside := features[:0]
	for _, f := range features {
		if f.at > lo-1e-6 && f.at < hi+1e-6 {
			inside = append(inside, f)
		}
	}
	r, ok = chain(s.metric, inside)
	if len(r.stops) > 2 {
		v.add(side, r, ok)
	}
	if name == "screen" || name == "left" || len(r.stops) > 2 && s.lean == 0 {
		r, ok = chain(s.metric, stopsAt(from, to))
		v.add(side, r, ok)
	}
}

// sideOf returns the side of the plan beside which a loudspeaker is dimensioned.
func (s *set) sideOf(l *place.Speaker) string {
	if l.Mount == project.BehindScreen {
		return "screen"
	}
	return s.nearSide(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)})
}

// leaner returns stops as they are dimensioned on paper of this size.
func (s *set) leaner(stops []stop) []stop {
	switch s.lean {
	case 0:
		return stops
	case 1:
		bare := slices.Clone(stops)
		for i := range bare {
			bare[i].name = ""
		}
		return bare
	}
	return nil
}

// besides reports whether a loudspeaker is dimensioned on that side of the plan: the
// side it is at, and what stands free also along the room. Those on the ceiling are
// dimensioned on the ceiling.
func (s *set) besides(l *place.Speaker, name string) bool {
	at := s.sideOf(l)
	switch {
	case l.Mount == project.OnCeiling:
		return false
	case at == name:
		return true
	case l.Mount == project.OnWall:
		return false
	}
	x, y := float64(l.At.X), float64(l.At.Y)
	if at == "screen" || at == "back" {
		hand := "left"
		if y > (s.lo.Y+s.hi.Y)/2+1e-6 {
			hand = "right"
		}
		return hand == name
	}
	end := "screen"
	if x > (s.lo.X+s.hi.X)/2 {
		end = "back"
	}
	return end == name
}

// nearSide returns the side of the rectangle about the room that is nearest.
func (s *set) nearSide(q geometry.Vec2) string {
	best, name := math.Inf(1), ""
	for _, c := range []struct {
		by   float64
		name string
	}{{q.X - s.lo.X, "screen"}, {q.Y - s.lo.Y, "left"}, {s.hi.Y - q.Y, "right"}, {s.hi.X - q.X, "back"}} {
		if c.by < best-1e-6 {
			best, name = c.by, c.name
		}
	}
	return name
}

// onSide reports whether a corner lies on that side of the rectangle about the room.
func (s *set) onSide(q geometry.Vec2, name string) bool {
	const on = 1e-3 // m
	switch name {
	case "screen":
		return q.X-s.lo.X < on
	case "left":
		return q.Y-s.lo.Y < on
	case "right":
		return s.hi.Y-q.Y < on
	}
	return s.hi.X-q.X < on
}

// offset returns the outline with every edge moved outwards by so much.
func offset(outline geometry.Polygon, by float64) geometry.Polygon {
	n := len(outline)
	out := make(geometry.Polygon, n)
	for i := range outline {
		before, after := outline.InwardNormal((i+n-1)%n).Mul(-1), outline.InwardNormal(i).Mul(-1)
		// The corner moves along both normals.
		sum := before.Add(after)
		k := 1 + before.Dot(after)
		if k < 0.2 { // a corner so sharp that the mitre would run away
			k = 0.2
		}
		out[i] = outline[i].Add(sum.Mul(by / k))
	}
	return out
}

// drawWalls draws the cut walls, with openings for doors and windows.
func (s *set) drawWalls(d *drawn, openings bool) {
	inner, outer := d.floor(s.outline), d.floor(offset(s.outline, thick))
	d.hatch(hatchLayer, grey, 1.2, inner, outer)
	d.lines(wallLayer, black, cut, closed(inner), closed(outer))
	d.bands(inner, outer)
	if !openings {
		return
	}
	for _, f := range s.design.Room.Features {
		if f.Kind != project.Door && f.Kind != project.Window {
			continue
		}
		o, ok := s.openingOf(f)
		if !ok {
			continue
		}
		out := o.inward.Mul(-thick)
		ring := []geometry.Vec2{o.a, o.b, o.b.Add(out), o.a.Add(out)}
		d.fill(maskLayer, white, d.floor(ring))
		d.lines(wallLayer, black, cut, d.floor(geometry.Polygon{ring[0], ring[3]}), d.floor(geometry.Polygon{ring[1], ring[2]}))
		name := f.Words()
		middle := o.a.Add(o.b).Mul(0.5)
		if f.Kind == project.Window {
			half := out.Mul(0.5)
			d.lines(featureLayer, black, thin, d.floor(geometry.Polygon{o.a, o.b}), d.floor(geometry.Polygon{o.a.Add(half), o.b.Add(half)}), d.floor(geometry.Polygon{o.a.Add(out), o.b.Add(out)}))
			d.label(featureLayer, black, d.at(vec(middle, 0)), 1.5, 3, name)
			continue
		}
		s.drawSwing(d, f, o)
		d.label(featureLayer, black, d.at(vec(middle, 0)), 1.5, 3, name, s.length(o.a.Dist(o.b))+" × "+s.length(float64(f.Height)))
	}
}

// bands has labels keep off what lies between two outlines, corner by corner.
func (p *page) bands(inner, outer []drawing.Point) {
	for i := range inner {
		j := (i + 1) % len(inner)
		quad := []drawing.Point{inner[i], inner[j], outer[j], outer[i]}
		// A slanting wall is told in pieces.
		n := 1
		if b := around(quad); min(b.Dx(), b.Dy()) > 2*math.Hypot(inner[i].X-outer[i].X, inner[i].Y-outer[i].Y) {
			n = 1 + int(max(b.Dx(), b.Dy())/4)
		}
		part := func(a, b drawing.Point, t float64) drawing.Point {
			return drawing.Pt(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t)
		}
		for k := range n {
			t, u := float64(k)/float64(n), float64(k+1)/float64(n)
			p.solids = append(p.solids, around([]drawing.Point{
				part(quad[0], quad[1], t), part(quad[0], quad[1], u), part(quad[3], quad[2], t), part(quad[3], quad[2], u)}))
		}
	}
}

// opening is where a door or a window is in its wall: a is left, b right of one who
// stands in the room and faces the wall.
type opening struct {
	wall   int // from 0
	a, b   geometry.Vec2
	inward geometry.Vec2
}

// openingOf returns the opening of a door or window in the nearest wall; ok is false
// for one that is not in a wall.
func (s *set) openingOf(f project.Feature) (opening, bool) {
	const most = 0.5 // m from the wall
	at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	wall, foot := s.outline.Nearest(at)
	if wall < 0 || foot.Dist(at) > most {
		return opening{}, false
	}
	n := s.outline.InwardNormal(wall)
	right := geometry.Vec2{X: -n.Y, Y: n.X}
	b := f.Box()
	half := math.Abs(b.Basis.U.X*right.X+b.Basis.U.Y*right.Y)*b.Half.X + math.Abs(b.Basis.V.X*right.X+b.Basis.V.Y*right.Y)*b.Half.Y
	return opening{wall, foot.Sub(right.Mul(half)), foot.Add(right.Mul(half)), n}, half > 0
}

// drawSwing draws the leaf of a door, open, and the way it takes.
func (s *set) drawSwing(d *drawn, f project.Feature, o opening) {
	hinge, lock, into := o.a, o.b, o.inward
	switch f.Swing {
	case project.InRight:
		hinge, lock = o.b, o.a
	case project.OutLeft:
		into = into.Mul(-1)
	case project.OutRight:
		hinge, lock, into = o.b, o.a, into.Mul(-1)
	case project.InLeft:
	default: // sliding: the leaf before the wall
		by := o.inward.Mul(-thick / 2)
		d.lines(featureLayer, black, edge, d.floor(geometry.Polygon{o.a.Add(by), o.b.Add(by)}))
		return
	}
	if into.Dot(o.inward) < 0 {
		out := o.inward.Mul(-thick)
		hinge, lock = hinge.Add(out), lock.Add(out)
	}
	wide := lock.Sub(hinge)
	leaf := into.Mul(wide.Len())
	const n = 16
	sweep := make(geometry.Polygon, 0, n+1)
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		sweep = append(sweep, hinge.Add(wide.Mul(cos)).Add(leaf.Mul(sin)))
	}
	d.lines(featureLayer, black, edge, d.floor(geometry.Polygon{hinge, hinge.Add(leaf)}))
	d.lines(featureLayer, black, thin, d.floor(sweep))
	d.solids = append(d.solids, around(d.floor(geometry.Polygon{hinge, hinge.Add(leaf)})))
}

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
				d.lines(rowLayer, black, thin, closed(d.floor(rectangle(st))))
			}
			if n := len(fl.Boxes); n > 0 {
				low, top := fl.Boxes[0].Center, fl.Boxes[n-1].Center
				to := top.Add(top.Sub(low).Mul(0.3))
				d.arrow(rowLayer, black, d.at(low), d.at(to))
				d.label(rowLayer, black, d.at(low), 2, 4, fmt.Sprintf("%d risers of %s", fl.Risers, s.length(fl.Rise)))
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

// arrow draws a line with a head at its end.
func (p *page) arrow(layer string, ink color.NRGBA, from, to drawing.Point) {
	dx, dy := to.X-from.X, to.Y-from.Y
	l := math.Hypot(dx, dy)
	if l < 1e-6 {
		return
	}
	dx, dy = dx/l, dy/l
	const long, wide = 2.2, 0.7 // mm
	base := drawing.Pt(to.X-long*dx, to.Y-long*dy)
	p.lines(layer, ink, thin, []drawing.Point{from, base})
	p.fill(layer, ink, []drawing.Point{to, {X: base.X - wide*dy, Y: base.Y + wide*dx}, {X: base.X + wide*dy, Y: base.Y - wide*dx}})
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

// drawFloorFeatures draws what stands in the room.
func (s *set) drawFloorFeatures(d *drawn) {
	for _, f := range s.design.Room.Features {
		ring := d.outline(f.Box())
		switch {
		case f.Kind == project.Door || f.Kind == project.Window:
		case f.Kind.Overhead():
			d.dashed(featureLayer, pale, thin, closed(ring))
		case f.Kind == project.Stage || f.Kind == project.Counter:
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

func middleOf(ring []drawing.Point) drawing.Point {
	b := around(ring)
	return drawing.Pt((b.X0+b.X1)/2, (b.Y0+b.Y1)/2)
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
	mark := &d.marks[len(d.marks)-1]
	for _, t := range [6]float64{0.5, -0.25, 0.25, 0.8, -0.8, 0} {
		mark.also = append(mark.also, d.at(c.Add(r.Mul(t)).Add(geometry.Vec{X: 0.02})))
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
		d.solids = append(d.solids, grown(box, 0.3))
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

// roomy returns text where the scale leaves room for it beside what must be there.
func (d *drawn) roomy(text string) string {
	const smallest = 60 // ratio
	if d.scale.Ratio > smallest {
		return ""
	}
	return text
}

// plainName says in an installer's words where a loudspeaker belongs.
func plainName(label string) string {
	return strings.TrimSuffix(strings.TrimSuffix(strings.Replace(bs2051.Means(label), ", height layer", " height", 1), ", ear level"), ", top layer")
}

// nameWalls writes the names of the walls along them, in the room.
func (s *set) nameWalls(d *drawn) {
	for i := range s.outline {
		a, b := s.outline.Edge(i)
		in := s.outline.InwardNormal(i)
		name := s.design.Room.WallName(i + 1)
		at := d.at(vec(a.Add(b).Mul(0.5).Add(in.Mul(0.05)), 0))
		d.label(wallLayer, black, at, 0.5, 6, name)
		m := &d.marks[len(d.marks)-1]
		for _, t := range [6]float64{0.3, 0.7, 0.15, 0.85, 0.4, 0.6} {
			m.also = append(m.also, d.at(vec(a.Add(b.Sub(a).Mul(t)).Add(in.Mul(0.05)), 0)))
		}
	}
}

func vec(q geometry.Vec2, z float64) geometry.Vec { return geometry.Vec{X: q.X, Y: q.Y, Z: z} }
