// SPDX-License-Identifier: MIT

package oracle

import "math"

// Counting: how a solid counts.
type counting int

const (
	never   counting = iota
	crossed          // only where truly entered
	near             // by distance too
)

// Shell stands for the room itself where a Solid is asked for.
var Shell = &Solid{Kind: "shell"}

// Met is a solid that counts and what a line finds of it.
type Met struct {
	*Solid
	Near bool
	// Gap is the distance, 0 where they meet. Not set for what counts only when
	// crossed and is not.
	Gap float64
	// Entered is whether it is entered, and Enter then how far from the ear,
	// metres. No shift by less than Inner, and some shift by Shift, frees the line.
	Entered             bool
	Enter, Inner, Shift float64
	// Doubtful is whether it is entered by about touch: either answer will do.
	Doubtful bool
}

// enter looks whether and how deep the line from a to b is in m.
func (m *Met) enter(a, b Vec) {
	from, _, ok := m.Solid.Enter(a, b)
	m.Entered, m.Enter = ok, from*b.sub(a).len()
	m.Inner, m.Shift = m.Solid.Inner(a, b), max(m.Solid.Shift(a, b), 0)
	m.Doubtful = m.Shift > touch/2 && m.Shift < 4*touch
}

// Path is what is found from an ear to a driver.
type Path struct {
	From, To  Vec
	Met       []Met // all that may be nearest or is entered
	Clearance float64
	Share
	// Outside is whether the ear is outside the room.
	Outside bool
	hiders  []hider
	target  target
	walls   *shellLook
}

// forEar says how s counts for an ear in seat i on the way to loudspeaker k.
func (r *Room) forEar(i, k int, s *Solid) counting {
	seat := &r.Seats[i]
	mine := s.Row == seat.Row && s.Seat == seat.Number
	switch s.Kind {
	case "head", "neck", "shoulders":
		if mine {
			return never // the listener's own shoulders are another body's
		}
	case "pan", "back", "headrest", "arm":
		if mine {
			return crossed
		}
	case "feature":
		if r.Speakers[k].Carriers[s.Index] {
			return crossed
		}
	case "box":
		return crossed
	}
	return near
}

// forEye says how s counts for the eyes in seat i.
func (r *Room) forEye(i int, s *Solid) counting {
	seat := &r.Seats[i]
	mine := s.Row == seat.Row && s.Seat == seat.Number
	switch s.Kind {
	case "head", "neck", "shoulders":
		if mine {
			return never
		}
	case "pan", "back", "headrest", "arm":
		if mine {
			return crossed
		}
	case "platform":
		if s.Row == seat.Row {
			return crossed
		}
	case "screen":
		return never
	case "box":
		return crossed
	}
	return near
}

// Far is the greatest clearance that is told apart, metres.
const Far = 10

// Path answers one ear (0 left, 1 right) and one driver.
func (r *Room) Path(seat, speaker, driver, ear int) *Path {
	d := &r.Speakers[speaker].Drivers[driver]
	p := &Path{From: r.Seats[seat].Ears[ear], To: d.Centre, Clearance: Far, target: discTarget(d)}
	for n := range r.Solids {
		s := &r.Solids[n]
		how := r.forEar(seat, speaker, s)
		if s.Kind == "feature" && how == crossed && s.carriesFlush(d, p.From) {
			continue
		}
		p.meet(s, how, d.Radius)
	}
	for k := range r.Speakers {
		p.meet(&r.Speakers[k].Box, r.forEar(seat, speaker, &r.Speakers[k].Box), d.Radius)
	}
	p.meet(&r.Seats[seat].shoulders, crossed, d.Radius)

	m := Met{Solid: Shell}
	at, depth, leaves := 0.0, 0.0, false
	gives := &d.pardon
	if gives.far {
		gives = &pardon{}
	}
	switch ear := r.walls.outside(p.From); {
	case ear > touch:
		m.Inner, p.Outside = ear, true
	case d.pardon.far:
		at, _, _ = r.walls.leaves(p.From, p.To, gives, nil)
		m.Inner, leaves = r.walls.outside(p.To), true
	default:
		// The walls that give way to the driver leave a larger room to come back to.
		at, depth, leaves = r.walls.leaves(p.From, p.To, gives, nil)
		m.Inner = max(depth-gives.most(), 0)
	}
	if p.Outside || leaves {
		m.Entered, m.Enter = true, at*p.To.sub(p.From).len()
		m.Shift = r.walls.shift(p.From, p.To, gives)
		p.Met = append(p.Met, m)
	}
	p.walls = r.walls.look(p.From, d)
	return p
}

// meet looks at s, which counts so; lines to the target stay within of the path.
func (p *Path) meet(s *Solid, how counting, within float64) {
	if how == never {
		return
	}
	beside := fromLine(p.From, p.To, s.Centre) - s.ball
	if beside > within && (how == crossed || beside > p.Clearance) {
		return
	}
	m := Met{Solid: s, Near: how == near, Gap: s.Gap(p.From, p.To)}
	if m.Gap < within {
		p.hiders = append(p.hiders, newHider(s, p.From, p.target))
	}
	if m.Gap < 2*touch {
		m.enter(p.From, p.To)
	}
	if m.Near {
		p.Clearance = min(p.Clearance, m.Gap)
	}
	if m.Near || m.Entered || m.Doubtful {
		p.Met = append(p.Met, m)
	}
}

// level is how far off a face all of a disc may lie and still count as flush in
// it, metres: the contract.
const level = 0.001

// carriesFlush is whether d is flush in a face of s that from is before.
func (s *Solid) carriesFlush(d *Driver, from Vec) bool {
	for i, axis := range s.Axes {
		if s.Column && i < 2 {
			continue
		}
		for _, n := range [2]Vec{axis, axis.times(-1)} {
			off := n.dot(d.Centre.sub(s.Centre)) - s.Half[i]
			if n.dot(from.sub(s.Centre)) > s.Half[i] && math.Abs(off)+d.across(n) <= level {
				return true
			}
		}
	}
	if !s.Column {
		return false
	}
	// The planes that touch its side before the driver and as the driver faces.
	for _, out := range [2]Vec{s.aside(d.Centre), s.aside(s.Centre.add(d.Normal))} {
		off := out.dot(d.Centre.sub(s.Centre)) - s.Half[0]
		if out.dot(from.sub(s.Centre)) > s.Half[0] && math.Abs(off)+d.across(out) <= level {
			return true
		}
	}
	return false
}

// across is how far d reaches along n from its middle.
func (d *Driver) across(n Vec) float64 { return d.Radius * d.Normal.cross(n).len() }

// fromLine is how far c is from the line from a to b.
func fromLine(a, b, c Vec) float64 {
	d := b.sub(a)
	t := 0.0
	if l := d.dot(d); l > 0 {
		t = min(max(c.sub(a).dot(d)/l, 0), 1)
	}
	return c.sub(a.to(b, t)).len()
}

// Blocked is whether anything is entered, and by what depth: no shift by less
// than inner frees the path, and some shift by shift does.
func (p *Path) Blocked() (blocked bool, inner, shift float64) {
	for i := range p.Met {
		if m := &p.Met[i]; m.Entered {
			blocked, inner, shift = true, max(inner, m.Inner), max(shift, m.Shift)
		}
	}
	return blocked, inner, shift
}

// Look counts what is seen by n points.
func (p *Path) Look(n int) { p.Share = p.LookAt(n, func(*Solid) bool { return true }) }

// LookAt is what is seen, by n points, past only those solids, and the Shell,
// that pass says.
func (p *Path) LookAt(n int, pass func(*Solid) bool) Share {
	return lookPast(p.target, p.hiders, p.walls, p.Outside, n, pass)
}

// Hides is which share s, or the Shell, hides all alone.
func (p *Path) Hides(s *Solid, n int) float64 {
	return 1 - p.LookAt(n, func(o *Solid) bool { return o == s }).Seen
}

func lookPast(t target, all []hider, w *shellLook, outside bool, n int, pass func(*Solid) bool) Share {
	var some []hider
	for i := range all {
		if pass(all[i].Solid) {
			some = append(some, all[i])
		}
	}
	if !pass(Shell) {
		w = nil
	} else if outside {
		return Share{Hidden: n}
	}
	return lookAt(t, some, w, n)
}

// target is a disc or a rectangle: the middle and two half-edges.
type target struct {
	centre, u, v Vec
	round        bool
}

func discTarget(d *Driver) target {
	u := d.Normal.cross(Vec{Z: 1})
	if o := d.Normal.cross(Vec{X: 1}); o.len() > u.len() {
		u = o
	}
	u = u.unit()
	return target{d.Centre, u.times(d.Radius), d.Normal.cross(u).times(d.Radius), true}
}

// hider is a solid seen from one point, made ready for many rays to a target.
type hider struct {
	*Solid
	eye, centre, u, v [3]float64
}

func newHider(s *Solid, eye Vec, t target) hider {
	along := func(d Vec) [3]float64 { return [3]float64{d.dot(s.Axes[0]), d.dot(s.Axes[1]), d.dot(s.Axes[2])} }
	return hider{s, s.own(eye), s.own(t.centre), along(t.u), along(t.v)}
}

func (h *hider) hides(x, y float64) bool {
	q := [3]float64{h.centre[0] + x*h.u[0] + y*h.v[0], h.centre[1] + x*h.u[1] + y*h.v[1], h.centre[2] + x*h.u[2] + y*h.v[2]}
	// Far below touch, whose shadow a near edge throws large, and far above the
	// rounding of what lies in a face.
	const hair = 1e-9 // m
	_, _, ok := h.enter(&h.eye, &q, hair)
	return ok
}

// lookAt sends rays to n points of t.
func lookAt(t target, all []hider, w *shellLook, n int) Share {
	if len(all) == 0 && w == nil {
		return Share{Seen: 1}
	}
	p := spread[n]()
	at := p.at
	if t.round {
		at = p.disc
	}
	hidden := make([]bool, len(at))
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	for i, q := range at {
		if !t.round {
			q = [2]float64{2*q[0] - 1, 2*q[1] - 1}
		}
		for k, o := range order {
			if all[o].hides(q[0], q[1]) {
				hidden[i] = true
				order[0], order[k] = order[k], order[0] // the likely next
				break
			}
		}
		if !hidden[i] && w != nil {
			hidden[i] = w.hides(t.centre.add(t.u.times(q[0])).add(t.v.times(q[1])))
		}
	}
	return share(p, hidden)
}

// shellLook is the shell seen from one point, where it can hide anything of a
// target.
type shellLook struct {
	*shell
	eye    Vec
	pardon *pardon
	edges  []int // those that a ray can cross
	room   []cut
}

// look returns nil where no ray from eye to d can meet the shell.
func (s *shell) look(eye Vec, d *Driver) *shellLook {
	l := &shellLook{shell: s, eye: eye, pardon: &d.pardon, room: make([]cut, 0, 8)}
	if d.pardon.far {
		l.pardon = &pardon{}
	}
	tall := d.Radius * math.Sqrt(max(1-d.Normal.Z*d.Normal.Z, 0))
	upright := d.Centre.Z-tall < -touch
	for i := range s.roofs {
		r := &s.roofs[i]
		n := r.down().dot(d.Normal)
		upright = upright || r.over(d.Centre)+d.Radius*r.high()*math.Sqrt(max(1-n*n, 0)) > -touch
	}
	flat := func(p Vec) Vec { p.Z = 0; return p }
	for i := range s.corners {
		a, b := s.edge(i)
		in := s.inward(i)
		n := in.dot(d.Normal)
		if in.dot(eye.sub(a)) > -touch && in.dot(d.Centre.sub(a))-d.Radius*math.Sqrt(max(1-n*n, 0)) > -touch {
			continue // all of it is before this wall
		}
		if between(flat(eye), flat(d.Centre), a, b) < d.Radius+touch {
			l.edges = append(l.edges, i)
		}
	}
	if !upright && len(l.edges) == 0 {
		return nil
	}
	return l
}

// between is the distance of two lines in plan.
func between(a, b, c, d Vec) float64 {
	side := func(p, q, r Vec) float64 { return q.sub(p).cross(r.sub(p)).Z }
	if (side(a, b, c) > 0) != (side(a, b, d) > 0) && (side(c, d, a) > 0) != (side(c, d, b) > 0) {
		return 0
	}
	return min(fromLine(a, b, c), fromLine(a, b, d), fromLine(c, d, a), fromLine(c, d, b))
}

func (l *shellLook) hides(p Vec) bool {
	if -p.Z <= touch && l.over(p) <= touch && !l.crosses(p) {
		return false
	}
	_, _, ok := l.leaves(l.eye, p, l.pardon, l.room)
	return ok
}

// crosses is whether the ray to p crosses or all but crosses an edge of l.
func (l *shellLook) crosses(p Vec) bool {
	dx, dy := p.X-l.eye.X, p.Y-l.eye.Y
	for _, i := range l.edges {
		a, b := l.edge(i)
		const hair = 1e-9
		u, v := dx*(a.Y-l.eye.Y)-dy*(a.X-l.eye.X), dx*(b.Y-l.eye.Y)-dy*(b.X-l.eye.X)
		if u > hair && v > hair || u < -hair && v < -hair {
			continue // both ends on one side of the ray
		}
		ex, ey := b.X-a.X, b.Y-a.Y
		u, v = ex*(l.eye.Y-a.Y)-ey*(l.eye.X-a.X), ex*(p.Y-a.Y)-ey*(p.X-a.X)
		if u > hair && v > hair || u < -hair && v < -hair {
			continue // both ends of the ray on one side of the edge
		}
		return true
	}
	return false
}

// Hiders are the solids that may hide some of the disc.
func (p *Path) Hiders() []*Solid { return solidsOf(p.hiders) }

// Hiders are the solids that may hide some of the picture.
func (v *View) Hiders() []*Solid { return solidsOf(v.hiders) }

func solidsOf(list []hider) []*Solid {
	out := make([]*Solid, len(list))
	for i := range list {
		out[i] = list[i].Solid
	}
	return out
}
