// SPDX-License-Identifier: MIT

package scene_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/scene"
)

// What is drawn and what is proven agree: rays cast from ears and eyes against
// the triangles of the picture, which know nothing of what sight lets stand in
// the way, see the share that the audit states.
//
// Two counts of rays hold the audit's share from both sides. From above: a ray
// that meets a triangle is hidden, because what is drawn lies within what is
// proven. From below: a ray that meets none, and keeps farther from what is drawn
// rounder than it is proven than that roundness, is free.
//
// Drawn as they are proven are the shell, platforms, soffits and the sheet.
// Rounder, by up to what drawnSmaller says, are sitters, chairs, columns and
// boxes of loudspeakers. What is drawn and not proven is left out: arms and
// legs, raised footrests, brackets, grilles and cones, the lens of the projector and what it hangs from, lamps, lights of steps,
// windows, the frame and handles of doors, the boards of a stage, which stand
// 1 mm proud; so doors, stages, lights and vents are made soffits here. Not drawn are the
// listener's own shoulders, so paths that come near those are not looked at; nor
// are drivers up to 30 mm outside the shell, which are forgiven, and those
// whose rim is less than 10 mm outside: rays end a little before a target, so as
// not to meet what it is flush in.
func TestThePictureBearsTheAuditOut(t *testing.T) {
	const rooms = 50
	var w witnessed
	for seed := range uint64(rooms) {
		w.room(seed, plainly(projecttest.Room(seed)))
	}
	for seed := range uint64(rooms / 3) { // under gables, hips and other slopes
		w.room(seed, plainly(projecttest.Rooms{Planes: true}.Room(seed)))
	}
	for n, name := range []string{"small", "two-row", "large"} {
		w.room(uint64(1000+n), plainly(demo(t, name)))
	}
	t.Logf("%d paths, %d views; %d paths and %d views partly hidden", w.paths, w.views, w.partPaths, w.partViews)
	if w.partPaths < 60 || w.partViews < 50 {
		t.Error("too little of it partly hidden: the test looks at nothing")
	}
	for _, what := range []string{"more than is drawn free", "less than is drawn free"} {
		for _, of := range []string{"path", "picture"} {
			if n := w.wrong[of+what]; n > 0 {
				t.Errorf("%s: the audit sees %s %d times in %d rooms, first: %s", of, what, n, len(w.in[of+what]), w.first[of+what])
			}
		}
	}
}

// drawnSmaller is by how much at most the drawn shape stays behind the proven
// one, metres, by mesh; 0 for none. Others are not solids. Of people it is the
// lower half of the shoulders, where the chest is narrower; of chairs the plinth
// under the pan and the rounded corners of cushions. Found by comparing.
var drawnSmaller = map[string]float64{
	"shell": 0, "floor": 0, "soffits and fittings": 0, "screen": 0, "picture": 0,
	"features": 0.020, "chairs": 0.065, "people": 0.100, "loudspeakers": 0.020, "projector": 0.020, "grilles": 0.020,
}

// plainly returns d with what is drawn otherwise than it is proven made alike.
func plainly(d *project.Design) *project.Design {
	d = d.Clone()
	var features []project.Feature
	for _, f := range d.Room.Features {
		switch f.Kind {
		case project.Window:
			continue
		case project.Door, project.Light, project.Vent, project.Stage:
			f.Kind, f.Swing = project.Soffit, ""
		}
		features = append(features, f)
	}
	d.Room.Features, d.Room.Treatments = features, nil
	d.Screen.Border = 0 // else it stands proud of the picture
	for i := range d.Chairs {
		d.Chairs[i].Footrest = 0
	}
	return d
}

// witnessed is what was found so far.
type witnessed struct {
	paths, views, partPaths, partViews int
	wrong                              map[string]int
	in                                 map[string]map[uint64]bool
	first                              map[string]string
}

func (w *witnessed) room(seed uint64, d *project.Design) {
	const seats, speakers = 4, 6 // looked at in each room
	res := sight.Audit(d)
	r := rand.New(rand.NewPCG(seed, 11))
	v := newView(d)
	poly := d.Room.Polygon()
	outside := func(p geometry.Vec) float64 {
		at := geometry.Vec2{X: p.X, Y: p.Y}
		out := max(-p.Z, p.Z-d.Room.CeilingAt(p.X, p.Y))
		if !poly.Contains(at) {
			out = max(out, poly.Distance(at))
		}
		return out
	}
	for _, i := range some(r, len(res.Seats), seats) {
		b := &res.Bodies[i]
		if max(outside(b.EarLeft), outside(b.EarRight), outside(b.Eye())) > 0 {
			continue // nobody sits in a wall
		}
		v.sit(i)
		own := b.Shoulders.Solid()
		for _, k := range some(r, len(res.Speakers), speakers) {
			p := &res.Pair(i, k).Paths[r.IntN(2*len(res.Speakers[k].Drivers))]
			disc := res.Speakers[k].Drivers[p.Driver]
			if out := outside(disc.Center); out > 1e-9 && out < 0.031 {
				continue
			}
			rim := 0.0
			for n := range 16 {
				rim = max(rim, outside(onDisc(disc, float64(n)/16, 1)))
			}
			if rim > 1e-9 && rim < 0.01 {
				continue
			}
			if c, _ := own.Clearance(geometry.Segment{A: p.From, B: p.To}); c < disc.Radius+0.001 {
				continue
			}
			const side = 20
			v.speaker, v.ear = k, true
			v.front = p.From.Sub(disc.Center).Dot(disc.Normal) > 0
			surely, perhaps := v.shares(r, side, p.From, func(x, y float64) geometry.Vec {
				return onDisc(disc, x, y)
			})
			w.paths++
			if p.Visible > 0.01 && p.Visible < 0.99 {
				w.partPaths++
			}
			w.judge(seed, "path", fmt.Sprintf("room %d, seat %s, %s ear to %s, driver %d", seed, res.Seats[i].Name(), p.Ear, res.Speakers[k].Name(), p.Driver),
				side, p.Visible, surely, perhaps)
		}
		center, right, up := d.Screen.Picture()
		if eye := b.Eye(); eye.X > center.X {
			const side = 32
			v.speaker, v.ear, v.front = -1, false, false
			surely, perhaps := v.shares(r, side, eye, func(x, y float64) geometry.Vec {
				return center.Add(right.Mul(2*x - 1)).Add(up.Mul(2*y - 1))
			})
			w.views++
			share := res.Views[i].Visible
			if share > 0.01 && share < 0.99 {
				w.partViews++
			}
			w.judge(seed, "picture", fmt.Sprintf("room %d, seat %s", seed, res.Seats[i].Name()), side, share, surely, perhaps)
		}
	}
}

// judge notes a share that is not between what is surely and what is perhaps
// free. The rays are spread one to each of side x side cells; a cell errs only
// where an outline crosses it. Outlines cross 4 side cells or so, each with a
// variance of 1/4 at most: one standard deviation is side^-1.5. Five are allowed.
func (w *witnessed) judge(seed uint64, of, where string, side int, share, surely, perhaps float64) {
	bound := 5 * math.Pow(float64(side), -1.5)
	what := ""
	switch {
	case share > perhaps+bound:
		what = "more than is drawn free"
	case share < surely-bound:
		what = "less than is drawn free"
	default:
		return
	}
	if w.wrong == nil {
		w.wrong, w.in, w.first = map[string]int{}, map[string]map[uint64]bool{}, map[string]string{}
	}
	if w.wrong[of+what]++; w.in[of+what] == nil {
		w.in[of+what] = map[uint64]bool{}
		w.first[of+what] = fmt.Sprintf("%s: share %.3f; %.3f surely free, %.3f perhaps (bound %.3f)", where, share, surely, perhaps, bound)
	}
	w.in[of+what][seed] = true
}

// some returns up to n of 0..of-1.
func some(r *rand.Rand, of, n int) []int {
	p := r.Perm(of)
	return p[:min(n, of)]
}

// onDisc returns a point of d, of evenly spread ones for x and y from 0 to 1.
func onDisc(d geometry.Disc, x, y float64) geometry.Vec {
	s, c := math.Sincos(2 * math.Pi * x)
	u, v := across(d.Normal)
	r := d.Radius * math.Sqrt(y)
	return d.Center.Add(u.Mul(c * r)).Add(v.Mul(s * r))
}

// across returns two unit vectors at right angles to w and to each other.
func across(w geometry.Vec) (u, v geometry.Vec) {
	other := geometry.Vec{Z: 1}
	if math.Abs(w.Z) > 0.9 {
		other = geometry.Vec{X: 1}
	}
	u, _ = other.Cross(w).Unit()
	return u, w.Cross(u)
}

// triangle is one of the picture, in the room frame.
type triangle struct {
	a, b, c geometry.Vec
	smaller float64 // see drawnSmaller
	speaker int     // whose box it is of, or -1
	sheet   bool
	own     bool // of the chair of who looks
	chair   bool
}

// view is the picture of a design as a pile of triangles.
type view struct {
	d      *project.Design
	seats  []place.Seat
	bodies []place.Body // who may be in the way
	room   []triangle
	tree   *node // of room
	people *node // but who sits there

	seat    place.Seat
	chair   []geometry.Solid // of seat
	speaker int              // what is looked at, or -1
	ear     bool
	front   bool // from in front of it
}

func newView(d *project.Design) *view {
	v := &view{d: d, seats: place.Seats(d)}
	for _, s := range v.seats {
		v.bodies = append(v.bodies, place.Other(d, s))
	}
	o := scene.Default()
	o.People, o.Labels, o.Zones = false, false, false
	boxes := place.Speakers(d)
	for _, m := range scene.Build(d, nil, o).Meshes {
		smaller, solid := drawnSmaller[m.Name]
		sheet := m.Name == "screen" || m.Name == "picture"
		if !solid || sheet && d.Screen.Transparent {
			continue
		}
		for _, t := range pile(m) {
			t.smaller, t.sheet, t.chair = smaller, sheet, m.Name == "chairs"
			if m.Name == "loudspeakers" || m.Name == "grilles" {
				// Neither brackets nor what stands proud of a front.
				t.speaker = slices.IndexFunc(boxes, func(p place.Speaker) bool { return holds(p.Box, t, 0.0025) })
				if t.speaker < 0 {
					continue
				}
			}
			v.room = append(v.room, t)
		}
	}
	return v
}

// sit looks from seat i.
func (v *view) sit(i int) {
	v.seat = v.seats[i]
	v.chair = v.chair[:0]
	parts := v.seat.ChairParts()
	for n := range parts {
		v.chair = append(v.chair, parts[n].Solid())
	}
	for n := range v.room {
		if t := &v.room[n]; t.chair {
			t.own = slices.ContainsFunc(parts, func(p place.Part) bool { return holds(*p.Box, *t, 0.001) })
		}
	}
	v.tree = newTree(slices.Clone(v.room))
	empty := *v.d
	empty.Speakers, empty.Room.Features = nil, nil
	o := scene.Default()
	o.Labels, o.Zones, o.FromSeat = false, false, i
	var people []triangle
	for _, m := range scene.Build(&empty, nil, o).Meshes {
		if m.Name != "people" {
			continue
		}
		for _, t := range pile(m) {
			if v.judged(t) {
				t.smaller = drawnSmaller[m.Name]
				people = append(people, t)
			}
		}
	}
	v.people = newTree(people)
}

// judged reports whether t is of a head, a neck or shoulders.
func (v *view) judged(t triangle) bool {
	const more = 1.001
	for i := range v.bodies {
		b := &v.bodies[i]
		if b.Neck.Dist(t.a) > 1 {
			continue
		}
		for _, e := range [3]geometry.Ellipsoid{b.Head, b.NeckSolid, b.Shoulders} {
			in := func(p geometry.Vec) bool {
				l := e.Basis.Local(p.Sub(e.Center))
				x, y, z := l.X/e.Radii.X, l.Y/e.Radii.Y, l.Z/e.Radii.Z
				return x*x+y*y+z*z <= more
			}
			if in(t.a) && in(t.b) && in(t.c) {
				return true
			}
		}
	}
	return false
}

// holds reports whether t lies in b, larger by more.
func holds(b geometry.Box, t triangle, more float64) bool {
	in := func(p geometry.Vec) bool {
		l := b.Basis.Local(p.Sub(b.Center))
		return math.Abs(l.X) <= b.Half.X+more && math.Abs(l.Y) <= b.Half.Y+more && math.Abs(l.Z) <= b.Half.Z+more
	}
	return in(t.a) && in(t.b) && in(t.c)
}

func pile(m scene.Mesh) []triangle {
	at := func(i uint32) geometry.Vec { // back from scene.World
		p := m.Pos[3*i:]
		return geometry.Vec{X: float64(p[2]), Y: float64(p[0]), Z: float64(p[1])}
	}
	var out []triangle
	for n := 0; n < len(m.Index); n += 3 {
		out = append(out, triangle{a: at(m.Index[n]), b: at(m.Index[n+1]), c: at(m.Index[n+2]), speaker: -1})
	}
	return out
}

// shares casts side x side rays from eye to target, a function of two numbers
// from 0 to 1, and returns what share of them is surely free, and what share
// perhaps.
func (v *view) shares(r *rand.Rand, side int, eye geometry.Vec, target func(x, y float64) geometry.Vec) (surely, perhaps float64) {
	n := float64(side)
	for i := range side {
		for j := range side {
			to := target((float64(i)+r.Float64())/n, (float64(j)+r.Float64())/n)
			// Not what the target itself is flush in.
			const short = 0.0002 // m
			seg := geometry.Segment{A: eye, B: eye.Lerp(to, max(1-short/eye.Dist(to), 0))}
			met := func(t *triangle) bool { return v.counts(t) && t.meets(seg) }
			if v.tree.any(seg, 0, met) || v.people.any(seg, 0, met) {
				continue
			}
			perhaps++
			const most = 0.1 // m, of drawnSmaller
			near := func(t *triangle) bool {
				return t.smaller > 0 && !t.own && v.counts(t) && t.near(seg, t.smaller)
			}
			if !v.byChair(seg) && !v.tree.any(seg, most, near) && !v.people.any(seg, most, near) {
				surely++
			}
		}
	}
	return surely / (n * n), perhaps / (n * n)
}

// counts reports whether t can hide what is looked at.
func (v *view) counts(t *triangle) bool {
	if t.sheet {
		return v.ear // an eye looks at it
	}
	// From in front a box does not hide its own drivers, from behind it does.
	return t.speaker < 0 || t.speaker != v.speaker || !v.front
}

// byChair reports whether seg comes near the chair of who looks: the headrest,
// drawn rounder, is nearer to the ears than that roundness.
func (v *view) byChair(seg geometry.Segment) bool {
	for n := range v.chair {
		if c, _ := v.chair[n].Clearance(seg); c < 0.001 {
			return true
		}
	}
	return false
}

// meets reports whether seg passes through t. Method: Moller and Trumbore 1997,
// "Fast, minimum storage ray/triangle intersection".
func (t *triangle) meets(seg geometry.Segment) bool {
	d := seg.B.Sub(seg.A)
	e1, e2 := t.b.Sub(t.a), t.c.Sub(t.a)
	p := d.Cross(e2)
	det := e1.Dot(p)
	if math.Abs(det) < 1e-14 {
		return false
	}
	s := seg.A.Sub(t.a)
	u := s.Dot(p) / det
	if u < 0 || u > 1 {
		return false
	}
	q := s.Cross(e1)
	w := d.Dot(q) / det
	if w < 0 || u+w > 1 {
		return false
	}
	at := e2.Dot(q) / det
	return at > 0 && at < 1
}

// near reports whether seg, which does not meet t, comes nearer to it than r.
func (t *triangle) near(seg geometry.Segment, r float64) bool {
	for _, e := range [3]geometry.Segment{{A: t.a, B: t.b}, {A: t.b, B: t.c}, {A: t.c, B: t.a}} {
		if apart(seg, e) < r {
			return true
		}
	}
	n, ok := t.b.Sub(t.a).Cross(t.c.Sub(t.a)).Unit()
	if !ok {
		return false
	}
	for _, p := range [2]geometry.Vec{seg.A, seg.B} { // over the face
		h := p.Sub(t.a).Dot(n)
		if math.Abs(h) >= r {
			continue
		}
		if t.meets(geometry.Segment{A: p.Add(n.Mul(h)), B: p.Sub(n.Mul(2 * h))}) {
			return true
		}
	}
	return false
}

// apart returns the distance of two segments. Method: the nearest points of the
// lines, clamped (Ericson 2005, "Real-Time Collision Detection", 5.1.9).
func apart(p, q geometry.Segment) float64 {
	d1, d2, r := p.B.Sub(p.A), q.B.Sub(q.A), p.A.Sub(q.A)
	a, e, f := d1.Len2(), d2.Len2(), d2.Dot(r)
	clamp := func(x float64) float64 { return min(max(x, 0), 1) }
	if a < 1e-18 || e < 1e-18 {
		return min(p.A.Dist(q.A), p.A.Dist(q.B), p.B.Dist(q.A), p.B.Dist(q.B))
	}
	b, c := d1.Dot(d2), d1.Dot(r)
	s := 0.0
	if den := a*e - b*b; den > 1e-18 {
		s = clamp((b*f - c*e) / den)
	}
	t := (b*s + f) / e
	if t < 0 {
		t, s = 0, clamp(-c/a)
	} else if t > 1 {
		t, s = 1, clamp((b-c)/a)
	}
	return p.At(s).Dist(q.At(t))
}

// node is a tree of boxes along the axes around triangles.
type node struct {
	lo, hi      geometry.Vec
	left, right *node
	leaf        []triangle
}

func newTree(all []triangle) *node {
	if len(all) == 0 {
		return nil
	}
	n := &node{lo: all[0].a, hi: all[0].a}
	for _, t := range all {
		for _, p := range [3]geometry.Vec{t.a, t.b, t.c} {
			n.lo = geometry.Vec{X: min(n.lo.X, p.X), Y: min(n.lo.Y, p.Y), Z: min(n.lo.Z, p.Z)}
			n.hi = geometry.Vec{X: max(n.hi.X, p.X), Y: max(n.hi.Y, p.Y), Z: max(n.hi.Z, p.Z)}
		}
	}
	if len(all) <= 8 {
		n.leaf = all
		return n
	}
	size := n.hi.Sub(n.lo)
	axis := func(t *triangle) float64 { return t.a.X + t.b.X + t.c.X }
	switch {
	case size.Y >= size.X && size.Y >= size.Z:
		axis = func(t *triangle) float64 { return t.a.Y + t.b.Y + t.c.Y }
	case size.Z >= size.X && size.Z >= size.Y:
		axis = func(t *triangle) float64 { return t.a.Z + t.b.Z + t.c.Z }
	}
	// About the middle: half of the triangles may lie on one side.
	mid := 0.0
	for k := range all {
		mid += axis(&all[k]) / float64(len(all))
	}
	k := 0
	for i := range all {
		if axis(&all[i]) < mid {
			all[i], all[k] = all[k], all[i]
			k++
		}
	}
	if k == 0 || k == len(all) {
		k = len(all) / 2
	}
	n.left, n.right = newTree(all[:k]), newTree(all[k:])
	return n
}

// any reports whether is holds for any triangle whose box, larger by more, seg
// passes.
func (n *node) any(seg geometry.Segment, more float64, is func(*triangle) bool) bool {
	if n == nil || !n.passed(seg, more) {
		return false
	}
	for i := range n.leaf {
		if is(&n.leaf[i]) {
			return true
		}
	}
	return n.left.any(seg, more, is) || n.right.any(seg, more, is)
}

func (n *node) passed(seg geometry.Segment, more float64) bool {
	d := seg.B.Sub(seg.A)
	t0, t1 := 0.0, 1.0
	slab := func(a, d, lo, hi float64) bool {
		if d == 0 {
			return a >= lo && a <= hi
		}
		u, v := (lo-a)/d, (hi-a)/d
		t0, t1 = max(t0, min(u, v)), min(t1, max(u, v))
		return t0 <= t1
	}
	const hair = 1e-9
	more += hair
	return slab(seg.A.X, d.X, n.lo.X-more, n.hi.X+more) && slab(seg.A.Y, d.Y, n.lo.Y-more, n.hi.Y+more) && slab(seg.A.Z, d.Z, n.lo.Z-more, n.hi.Z+more)
}
