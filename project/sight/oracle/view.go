// SPDX-License-Identifier: MIT

package oracle

import "math"

// View is what is found from between the eyes to the picture.
type View struct {
	Eye Vec
	// Behind is whether the eye is level with or behind the picture, Outside
	// whether it is outside the room: nothing is seen.
	Behind, Outside bool
	Share
	// Clearance is the least distance of what counts near from all lines to the
	// lower edge; 0 where something meets them.
	Clearance float64
	Met       []Met
	hiders    []hider
	target    target
	walls     *shellLook
}

// View answers the picture for one seat.
func (r *Room) View(seat int) *View {
	v := &View{Eye: r.Seats[seat].Eye, Clearance: Far}
	if v.Eye.X <= r.Picture.X || r.PictureRight.Y <= 0 || r.PictureUp.Z <= 0 {
		v.Behind = true
		return v
	}
	v.Outside = r.walls.outside(v.Eye) > touch
	v.target = target{centre: r.Picture, u: r.PictureRight, v: r.PictureUp}
	for n := range r.Solids {
		v.meet(&r.Solids[n], r.forEye(seat, &r.Solids[n]))
	}
	for k := range r.Speakers {
		v.meet(&r.Speakers[k].Box, r.forEye(seat, &r.Speakers[k].Box))
	}
	v.walls = &shellLook{shell: &r.walls, eye: v.Eye, pardon: &pardon{}, room: make([]cut, 0, 8)}
	for i := range r.walls.corners {
		v.walls.edges = append(v.walls.edges, i)
	}
	if r.walls.convex && !v.Outside {
		inside := true
		for _, x := range []float64{-1, 1} {
			for _, y := range []float64{-1, 1} {
				inside = inside && r.walls.outside(r.Picture.add(r.PictureRight.times(x)).add(r.PictureUp.times(y))) <= touch
			}
		}
		if inside {
			v.walls = nil
		}
	}
	return v
}

// corners of the lower edge.
func (v *View) edge() (left, right Vec) {
	low := v.target.centre.sub(v.target.v)
	return low.sub(v.target.u), low.add(v.target.u)
}

func (v *View) meet(s *Solid, how counting) {
	if how == never {
		return
	}
	if !v.besides(s) {
		v.hiders = append(v.hiders, newHider(s, v.Eye, v.target))
	}
	if how != near {
		return
	}
	// Only what comes down to the plane of the lines counts.
	left, right := v.edge()
	up := right.sub(left).cross(v.Eye.sub(left)).unit()
	if up.Z < 0 {
		up = up.times(-1)
	}
	level := up.dot(v.Eye)
	if -s.Support(up.times(-1)) >= level {
		return
	}
	if fromTriangle(s.Centre, v.Eye, left, right)-s.ball > v.Clearance {
		return
	}
	m := Met{Solid: s, Near: true, Gap: s.fromTriangle(v.Eye, left, right)}
	if m.Gap < 2*touch {
		m.Inner, m.Shift = v.worst(s)
		m.Entered = m.Inner > touch
		m.Doubtful = m.Shift > touch/2 && m.Shift < 4*touch
	}
	v.Clearance = min(v.Clearance, m.Gap)
	v.Met = append(v.Met, m)
}

// worst looks for the line to the lower edge that is deepest in s: over lines
// all along the edge, then closer about the deepest.
func (v *View) worst(s *Solid) (inner, shift float64) {
	left, right := v.edge()
	look := func(u float64) float64 {
		to := left.to(right, u)
		if _, _, ok := s.Enter(v.Eye, to); !ok {
			return 0
		}
		inner = max(inner, s.Inner(v.Eye, to))
		d := s.Shift(v.Eye, to)
		shift = max(shift, d)
		return d
	}
	const many = 64
	best, at := -1.0, 0.0
	for i := range many + 1 {
		if d := look(float64(i) / many); d > best {
			best, at = d, float64(i)/many
		}
	}
	least(func(t float64) float64 { return -look(min(max(at+(2*t-1)/many, 0), 1)) }, 25)
	return inner, shift
}

// Deep is by how much s must be shifted to free the line to a point.
func (v *View) Deep(s *Solid, to Vec) float64 {
	if _, _, ok := s.Enter(v.Eye, to); !ok {
		return 0
	}
	return s.Shift(v.Eye, to)
}

// besides is whether s surely hides nothing of the picture.
func (v *View) besides(s *Solid) bool {
	ahead := v.Eye.X - s.Centre.X
	if ahead+s.ball <= 0 || s.Centre.X+s.ball <= v.target.centre.X {
		return true
	}
	t := v.target
	c := [4]Vec{t.centre.sub(t.u).sub(t.v), t.centre.add(t.u).sub(t.v), t.centre.add(t.u).add(t.v), t.centre.sub(t.u).add(t.v)}
	for i := range c {
		out := c[i].sub(v.Eye).cross(c[(i+1)%4].sub(v.Eye)).unit()
		if out.dot(t.centre.sub(v.Eye)) > 0 {
			out = out.times(-1)
		}
		if out.dot(s.Centre.sub(v.Eye)) > s.ball {
			return true
		}
	}
	return false
}

// Look counts what is seen by n points.
func (v *View) Look(n int) { v.Share = v.LookAt(n, func(*Solid) bool { return true }) }

// LookAt is what is seen, by n points, past only those solids, and the Shell,
// that pass says.
func (v *View) LookAt(n int, pass func(*Solid) bool) Share {
	if v.Behind {
		return Share{Hidden: n}
	}
	return lookPast(v.target, v.hiders, v.walls, v.Outside, n, pass)
}

// Hides is which share s, or the Shell, hides all alone.
func (v *View) Hides(s *Solid, n int) float64 {
	return 1 - v.LookAt(n, func(o *Solid) bool { return o == s }).Seen
}

// fromTriangle is the distance of s from a triangle, 0 where they meet: by the
// least over lines from b's side to c's of the least along each, both convex.
func (s *Solid) fromTriangle(a, b, c Vec) float64 {
	d, _ := least(func(t float64) float64 {
		p, q := a.to(b, t), a.to(c, t)
		d, _ := least(func(u float64) float64 { return s.away(p.to(q, u)) }, 45)
		return d
	}, 45)
	return d
}

// fromTriangle is the distance of p from a triangle.
func fromTriangle(p, a, b, c Vec) float64 {
	n := b.sub(a).cross(c.sub(a))
	l := n.len()
	inside := l > 0
	for _, e := range [3][2]Vec{{a, b}, {b, c}, {c, a}} {
		inside = inside && e[1].sub(e[0]).cross(p.sub(e[0])).dot(n) >= 0
	}
	if inside {
		return math.Abs(n.dot(p.sub(a))) / l
	}
	return min(fromLine(a, b, p), fromLine(b, c, p), fromLine(c, a, p))
}
